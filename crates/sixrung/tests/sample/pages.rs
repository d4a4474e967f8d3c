//! Pages to look at and to test with.

use sixrung::measuring::{Measure, Measured};
use sixrung::pages::{
    ArrangementItem, AskedChord, BeatMark, CalibrateView, ChordItem, ChordState, ChordsPage, FoundBeats, InputItem,
    LessonItem, LessonsView, OutputItem, PageView, PartsView, RoundTrip, RungSong, SectionItem, SectionsView, SongPage,
    SongState, SoundView, TappedBeats, TunedString, TunerView,
};
use sixrung::stand::{ClickChoice, HearingState, HearingView, InputChoice, LessonSource, Note, SectionChoice, Volumes};
use sixrung::theme::Look;
use sixrung_audio::Strings;
use sixrung_lesson::{Level, Pitch};
use sixrung_listen::{
    LearnTask, LearnTrouble, LearnWait, Loopback, Measurement, NotMeasured, Processing, Reading, Reason, Sounding, Way,
};
use sixrung_timeline::{Clicks, Thinned};

fn lesson(title: &str, detail: &str, open: bool) -> LessonItem {
    LessonItem {
        title: title.to_owned(),
        detail: detail.to_owned(),
        source: LessonSource::Demo(title.to_owned()),
        open,
    }
}

/// Lessons, one of which could not be opened.
pub(crate) fn lessons() -> PageView {
    PageView::Lessons(LessonsView {
        demos: vec![
            lesson("Lantern on the Quay", "D major · 4/4 · 126", true),
            lesson("Ferry Lullaby", "G major · 6/8 · 54", false),
            lesson("Kettle and Clock", "A major · 4/4 · 88", false),
            lesson("Tin Roof Shuffle", "E minor · capo 2 · 104", false),
        ],
        recent: vec![lesson("A lesson of mine", "/home/me/a-lesson-of-mine.lesson.ron", false)],
        problems: vec![Note {
            text: "line 4: no shape is called Bm8".to_owned(),
            hint: "did you mean Bm7?".to_owned(),
        }],
    })
}

/// Sections and arrangements.
pub(crate) fn sections() -> PageView {
    let section = |(at, name, detail, chosen): (usize, &str, &str, bool)| SectionItem {
        name: name.to_owned(),
        detail: detail.to_owned(),
        choice: SectionChoice::Section(at),
        chosen,
    };
    let arrangement = |(name, detail, chosen): (&str, &str, bool)| ArrangementItem {
        name: name.to_owned(),
        detail: detail.to_owned(),
        chosen,
    };
    let mut sections: Vec<_> = [
        (0, "Verse", "8 bars · 93 of 126", true),
        (1, "Chorus", "8 bars, twice · 76 of 126", false),
        (2, "Bridge", "6 bars", false),
    ]
    .map(section)
    .to_vec();
    sections.push(SectionItem {
        name: sixrung::text::WHOLE_PIECE.to_owned(),
        detail: "46 bars".to_owned(),
        choice: SectionChoice::Whole,
        chosen: false,
    });
    PageView::Sections(SectionsView {
        sections,
        arrangements: [("plain", "Bm7 for Bm", true), ("full", "with the walk-up", false), ("high", "capo 2", false)]
            .map(arrangement)
            .to_vec(),
    })
}

/// Sound devices.
pub(crate) fn sound() -> PageView {
    let output = |(name, chosen): (&str, bool)| OutputItem { name: name.to_owned(), id: Some(name.to_owned()), chosen };
    let input = |(name, choice, chosen)| InputItem { name, choice, chosen };
    let device = |name: &str| InputChoice::Device(name.to_owned());
    PageView::Sound(SoundView {
        outputs: [("whatever the system uses", true), ("Built-in speakers", false), ("USB headset", false)]
            .map(output)
            .to_vec(),
        inputs: [
            (sixrung::text::pages::NO_MICROPHONE.to_owned(), InputChoice::None, false),
            (sixrung::text::pages::SYSTEM_CHOICE.to_owned(), InputChoice::Default, true),
            ("USB microphone".to_owned(), device("usb"), false),
        ]
        .map(input)
        .to_vec(),
        buffer_frames: 1024,
        buffer_choices: vec![256, 512, 1024, 2048],
        lost: 2,
        rate_hz: 48_000,
        round_trip: RoundTrip::Found(37.4),
        hearing: HearingView { level: 0.55, state: HearingState::HearsYou },
        volumes: Volumes { click_db: -18.0, guitar_db: -9.0, song_db: -3.0, master_db: -6.0, ..Volumes::default() },
        level: Level::Beginner,
        strokes_start: true,
        notes: Vec::new(),
    })
}

/// Parts and click: a bass plays, the guitar is muted, the click is thinned.
pub(crate) fn parts() -> PageView {
    let muted = [false, true, false, false, false];
    let volumes = Volumes { click_db: -9.0, bass_db: -3.0, muted, ..Volumes::default() };
    let click = ClickChoice::default();
    let clicks = Clicks { thinned: Thinned::EvenOnly, ..click.clicks };
    PageView::Parts(PartsView {
        volumes,
        click: ClickChoice { clicks, ..click },
        strings: Strings::Steel,
        hears_first: true,
    })
}

/// The round trip measured, and a check that found something.
pub(crate) fn calibrated() -> PageView {
    let trip = Measurement { ms: 42.3, spread_ms: 0.2, agreed: 10, asked: 10 };
    let heard =
        Loopback { trip, above_noise_db: 34.0, levels_db: vec![0.0; 10], highest_hz: 10_000.0, asked_hz: 10_000.0 };
    PageView::Calibrate(CalibrateView {
        has_devices: true,
        trip: RoundTrip::Heard(42.3, 0.2),
        running: None,
        outcome: Some(Measured::Loopback(Ok(heard))),
        check: Some((vec![Reason::Processed(Processing::NoiseSuppression)], false)),
        hearing: HearingView { level: 0.55, state: HearingState::HearsYou },
    })
}

/// A check under way; the round trip could not be measured.
pub(crate) fn calibrating() -> PageView {
    PageView::Calibrate(CalibrateView {
        has_devices: true,
        trip: RoundTrip::Unknown,
        running: Some((Measure::Strums, 0.4)),
        outcome: Some(Measured::Loopback(Err(NotMeasured::NotHeard { heard: 2, asked: 10 }))),
        check: None,
        hearing: HearingView { level: 0.3, state: HearingState::Listening },
    })
}

/// The tuner, with an A string 12 cents flat.
pub(crate) fn tuner() -> PageView {
    tuner_hears(-12.3)
}

/// The tuner, with the A string so many cents sharp.
pub(crate) fn tuner_hears(cents: f64) -> PageView {
    let target = Pitch(45);
    let hertz = target.hertz() * (cents / 1200.0).exp2();
    let reading = Reading { string: 1, target, hertz, cents, deviation_cents: 0.4, is_steady: true };
    PageView::Tuner(TunerView {
        strings: [40, 45, 50, 55, 59, 64]
            .into_iter()
            .enumerate()
            .map(|(index, key)| TunedString { number: 6 - index, pitch: Pitch(key) })
            .collect(),
        sounding: Sounding::String(reading),
        only: None,
        capo: 0,
        hearing: HearingView { level: 0.55, state: HearingState::HearsYou },
    })
}

/// The chords of a verse: two learned, the third being heard.
fn chords_page(now: Option<AskedChord>) -> PageView {
    let known = |name: &str, when: &str| ChordItem { name: name.to_owned(), state: ChordState::Known(when.to_owned()) };
    let last = match now {
        Some(_) => [ChordState::Now, ChordState::Coming],
        None => [ChordState::Known("today".to_owned()), ChordState::Known("today".to_owned())],
    };
    let [now_state, coming] = last;
    PageView::Chords(Box::new(ChordsPage {
        is_done: now.is_none(),
        now,
        shapes: vec![
            known("Bm7", "3 days ago"),
            known("G", "today"),
            ChordItem { name: "D".to_owned(), state: now_state },
            ChordItem { name: "A".to_owned(), state: coming },
        ],
        directions: Some("3 days ago".to_owned()),
        capo: 0,
        guitar: "my guitar".to_owned(),
        guitars: vec!["my guitar".to_owned(), "the nylon one".to_owned()],
        hearing: HearingView { level: 0.55, state: HearingState::HearsYou },
    }))
}

fn asked(way: Way, strokes: u32, heard: u32, wait: LearnWait, trouble: Option<LearnTrouble>) -> PageView {
    chords_page(Some(AskedChord {
        chord: super::chord("D"),
        number: 1,
        of: 2,
        task: LearnTask { shape: 0, way, strokes },
        heard,
        wait,
        trouble,
    }))
}

/// The fingers go down.
pub(crate) fn chords_fingers() -> PageView {
    asked(Way::Slow, 5, 0, LearnWait::Fingers, None)
}

/// Three slow strokes of five were heard.
pub(crate) fn chords_slow() -> PageView {
    asked(Way::Slow, 5, 3, LearnWait::Strokes, None)
}

/// One stroke in turn was lost.
pub(crate) fn chords_in_turn() -> PageView {
    asked(Way::InTurn, 10, 0, LearnWait::Strokes, Some(LearnTrouble::Stopped { heard: 9 }))
}

/// All was heard.
pub(crate) fn chords_done() -> PageView {
    chords_page(None)
}

/// A recording of three minutes, marked, tapped along with, one rung ready and one being slowed.
pub(crate) fn song() -> PageView {
    let mut noise = 1_u32;
    let mut peak = |index: u32| {
        noise = noise.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        #[expect(clippy::cast_precision_loss, reason = "a picture")]
        let (since, loud) = ((index % 97) as f32 / 97.0, 0.3 + 0.5 * (index as f32 / 9_000.0).sin().abs());
        #[expect(clippy::cast_precision_loss, reason = "a picture")]
        let high = loud * (0.15 + 0.85 * (-5.0 * since).exp()) * (0.5 + (noise >> 8) as f32 / 33_554_432.0);
        [-0.9 * high, high]
    };
    let beat = |beat: i32| BeatMark {
        at_s: 1.4 + 0.484 * f64::from(beat),
        bar: (beat >= 0 && beat % 4 == 0).then(|| beat.unsigned_abs() / 4 + 1),
        is_anchor: matches!(beat, 0 | 12),
        is_before: beat < 0,
    };
    PageView::Song(Box::new(SongPage {
        has_lesson: true,
        state: SongState::Read,
        file: Some("lantern, spring evening.mp3".to_owned()),
        is_cut_off: false,
        peaks: (0..37_000).map(&mut peak).collect(),
        length_s: 185.0,
        window: (0.0, 8.0),
        at_s: 3.82,
        start_s: Some(1.4),
        beats: (-2..14).map(beat).collect(),
        anchors: 1,
        bpm: Some(123.97),
        lesson_bpm: Some("126".to_owned()),
        found: Some(FoundBeats { bpm: 124.02, is_clear: true }),
        presses: 9,
        tapped: Some(TappedBeats { bpm: 124.3, spread_ms: 17.0 }),
        semitones: -2,
        volume_db: -3.0,
        has_clicks: true,
        is_playing: false,
        rungs: vec![
            RungSong { bpm: "76".to_owned(), share: None, is_ready: true },
            RungSong { bpm: "83".to_owned(), share: Some(0.4), is_ready: false },
            RungSong { bpm: "69".to_owned(), share: None, is_ready: false },
        ],
        can_retry: false,
        trouble: None,
    }))
}

/// No recording yet.
pub(crate) fn song_empty() -> PageView {
    PageView::Song(Box::new(SongPage { has_lesson: true, ..SongPage::default() }))
}

/// One being read.
pub(crate) fn song_reading() -> PageView {
    PageView::Song(Box::new(SongPage {
        has_lesson: true,
        state: SongState::Reading(0.35),
        file: Some("lantern, spring evening.mp3".to_owned()),
        ..SongPage::default()
    }))
}

/// One that can't be read.
pub(crate) fn song_unread() -> PageView {
    PageView::Song(Box::new(SongPage {
        has_lesson: true,
        state: SongState::Unread,
        file: Some("notes.mp3".to_owned()),
        trouble: Some(Note {
            text: "notes.mp3: this is not a recording that can be read".to_owned(),
            hint: "WAV, FLAC, Ogg Vorbis and MP3 can be read".to_owned(),
        }),
        ..SongPage::default()
    }))
}

/// Appearance and keys.
pub(crate) fn look() -> PageView {
    PageView::Look(Look::default(), vec!["Foot switch".to_owned()])
}
