//! Four muted strokes start the next pass: the ear on our own synthesis, the session's rules, and the whole program on
//! simulated devices.

use egui::Key;
use sixrung::session::{Heard, Input};
use sixrung::stand::{Intent, Page, Pause, Phase};
use sixrung_audio::{ClickSound, Decibels, Kit, Render, RenderOptions};
use sixrung_lesson::{Lesson, Stretch, Tempo, layout, read};
use sixrung_listen::{Listener, StartEar};
use sixrung_practice::{Felt, Moment};
use sixrung_tests::evening::Evening;
use sixrung_tests::script::{Script, in_time};
use sixrung_timeline::{Between, Clicks, Request, compile};

const RATE: u32 = 48_000;
/// A Tuesday evening.
const BEGIN: Moment = Moment(1_795_543_200);

/// Four chucks, then four strums that ring, on one chord.
const STROKES: &str = r#"Lesson(
    version: 1, title: "Strokes", credit: "made for this test", tempo: 100, meter: "4/4", key: "G major",
    shapes: [(name: "G", frets: "320033", fingers: "21--34")],
    patterns: [
        (name: "stopped", grid: "quarters", strokes: "X X X X"),
        (name: "ringing", grid: "quarters", strokes: "D D D D"),
    ],
    sections: [
        (name: "stopped", entries: [(chord: "G", pattern: "stopped")]),
        (name: "ringing", entries: [(chord: "G", pattern: "ringing")]),
    ],
    form: ["stopped", "ringing"],
)"#;

const DEMOS: [&str; 4] = [
    include_str!("../../assets/lessons/lantern-on-the-quay.lesson.ron"),
    include_str!("../../assets/lessons/ferry-lullaby.lesson.ron"),
    include_str!("../../assets/lessons/kettle-and-clock.lesson.ron"),
    include_str!("../../assets/lessons/tin-roof-shuffle.lesson.ron"),
];

fn lesson(text: &str) -> Lesson {
    read(text.as_bytes()).unwrap_or_else(|findings| panic!("{findings:?}")).lesson
}

/// A stretch of a lesson as our own synthesis plays it, mono, half a second of silence before it.
fn rendered(lesson: &Lesson, stretch: &Stretch, milli_bpm: u32, options: &RenderOptions) -> Vec<f32> {
    let score =
        layout(lesson, stretch, &lesson.arrangements.first().cloned().unwrap_or_default()).expect("it is there");
    let request = Request {
        id: 0,
        rate: RATE,
        tempo: Tempo::from_milli_bpm(milli_bpm).expect("a tempo"),
        count_in_bars: 0,
        between: Between::Seamless,
        passes: Some(1),
        clicks: Clicks::default(),
        backing: options.bass != Decibels::SILENCE,
    };
    let timeline = compile(lesson, &score, &request).expect("it can be played").timeline;
    let stereo = Render::new(timeline, options).expect("it has an end").samples();
    let mono = stereo.chunks_exact(2).map(|pair| f32::midpoint(pair[0], pair[1]));
    vec![0.0; RATE as usize / 2].into_iter().chain(mono).collect()
}

/// One section of the strokes above, the guitar alone.
fn strokes(name: &str, milli_bpm: u32) -> Vec<f32> {
    let options =
        RenderOptions { click: Decibels::SILENCE, bass: Decibels::SILENCE, tail_s: 1.0, ..RenderOptions::default() };
    rendered(&lesson(STROKES), &Stretch::Section(name.to_owned()), milli_bpm, &options)
}

/// How often something was started.
fn starts(sound: &[f32]) -> usize {
    let mut listener = Listener::new(RATE).expect("a rate we take");
    let mut ear = StartEar::new();
    let blocks = (0_u64..).step_by(1024).zip(sound.chunks(1024));
    blocks.filter(|(frame, block)| ear.take_in(listener.feed(*frame, block)).is_some()).count()
}

#[test]
fn our_own_chucks_start_at_every_tempo_and_our_strums_at_none() {
    for bpm in (55..=195).step_by(5) {
        assert_eq!(starts(&strokes("stopped", bpm * 1000)), 1, "chucks at {bpm}");
        assert_eq!(starts(&strokes("ringing", bpm * 1000)), 0, "strums at {bpm}");
    }
}

#[test]
fn no_demo_starts_anything_on_any_rung_nor_does_our_click() {
    let mut minutes = 0.0;
    let mut check = |lesson: &Lesson, percent: u32, options: &RenderOptions| {
        let sound = rendered(lesson, &Stretch::Whole, lesson.tempo.milli_bpm() / 100 * percent, options);
        #[expect(clippy::cast_precision_loss, reason = "minutes of frames")]
        let lasts_min = sound.len() as f64 / f64::from(RATE) / 60.0;
        minutes += lasts_min;
        assert_eq!(starts(&sound), 0, "{} at {percent} %, {options:?}", lesson.title);
    };
    let guitar = RenderOptions { click: Decibels::SILENCE, bass: Decibels::SILENCE, ..RenderOptions::default() };
    let click = |sound| RenderOptions {
        kit: Kit { click: sound, ..Kit::default() },
        guitar: Decibels::SILENCE,
        bass: Decibels::SILENCE,
        ..RenderOptions::default()
    };
    for text in DEMOS {
        let demo = lesson(text);
        for percent in [60, 100] {
            check(&demo, percent, &guitar);
            check(&demo, percent, &RenderOptions::default());
        }
        for sound in [ClickSound::Wood, ClickSound::Bell, ClickSound::Tick] {
            check(&demo, 75, &click(sound));
        }
    }
    println!("{minutes:.1} minutes");
    assert!(minutes >= 20.0, "{minutes} minutes are enough to tell");
}

/// The demo on the stand, four strokes wanted or not.
fn script(wanted: bool) -> Script {
    let mut script = Script::begin(DEMOS[0], BEGIN);
    script.wish(Intent::HearFirst(false));
    if wanted {
        script.wish(Intent::SetStrokesStart(true));
    }
    script
}

/// Whether four strokes begin something here.
fn begins(script: &mut Script) -> bool {
    let before = script.view();
    script.take(Input::Heard(Heard::FourStrokes));
    let after = script.view();
    assert!(before.strokes_start || before.phase == after.phase, "{:?} to {:?}", before.phase, after.phase);
    before.strokes_start && matches!(after.phase, Phase::CountIn { .. })
}

#[test]
fn they_start_at_rest_when_wanted() {
    assert!(!begins(&mut script(false)));
    let mut script = script(true);
    assert!(begins(&mut script));
    // While it plays they are strokes like any others, and between passes the next one begins by itself.
    assert!(!begins(&mut script));
    assert!(script.pass(|order| in_time(order, 0.0)).is_some());
    assert!(script.session().is_playing() && !begins(&mut script));
    script.wish(Intent::Stop);
    assert_eq!(script.view().phase, Phase::Paused(Pause::Asked));
    assert!(begins(&mut script));
    script.wish(Intent::Stop);
    script.wish(Intent::SetStrokesStart(false));
    assert!(!begins(&mut script));
}

#[test]
fn they_answer_no_question_and_never_go_on_after_pain() {
    let mut script = script(true);
    script.wish(Intent::SayHands);
    assert_eq!(script.view().phase, Phase::AskHands);
    assert!(!begins(&mut script));
    script.wish(Intent::Feel(Felt::Pain));
    assert_eq!(script.view().phase, Phase::Paused(Pause::Hurts));
    assert!(!begins(&mut script));
}

#[test]
fn four_muted_strokes_into_the_microphone_start_the_pass_and_four_that_ring_do_not() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    let (muted, ringing) = (strokes("stopped", 100_000), strokes("ringing", 100_000));
    evening.play_unasked(&muted);
    assert_eq!(evening.view().phase, Phase::Idle, "nobody asked for it yet");

    // On the page of sound, by its name.
    evening.harness.key_press(Key::D);
    evening.run_tenths(2);
    press(&mut evening, sixrung::text::pages::STROKES_START);
    evening.play_unasked(&muted);
    assert_eq!(
        (evening.view().phase, evening.studio().page()),
        (Phase::Idle, Some(Page::Sound)),
        "a page lies over it"
    );
    evening.harness.key_press(Key::Escape);
    evening.run_tenths(2);
    assert!(sixrung::text::hint(&evening.view()).contains("four muted strokes start"));

    evening.play_unasked(&ringing);
    assert_eq!(evening.view().phase, Phase::Idle, "chords that ring start nothing");
    evening.run_tenths(10);
    evening.play_unasked(&muted);
    assert!(matches!(evening.view().phase, Phase::CountIn { .. }), "{:?}", evening.view().phase);
    evening.harness.key_press(Key::Space);
    evening.run_tenths(10);
    assert_eq!(evening.view().phase, Phase::Paused(Pause::Asked));
    evening.play_unasked(&muted);
    assert!(matches!(evening.view().phase, Phase::CountIn { .. }), "{:?}", evening.view().phase);
    drop(evening);

    let next = Evening::begin(folder.path());
    assert!(next.view().strokes_start, "it is remembered");
}

/// Presses the control of this name.
fn press(evening: &mut Evening, name: &str) {
    use egui_kittest::kittest::Queryable as _;
    evening.harness.get_by_label(name).click();
    evening.run_tenths(2);
}
