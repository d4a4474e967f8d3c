//! Views to look at and to test with: "Lantern on the Quay" at the moments the stand is drawn for.

pub(crate) mod pages;

use std::sync::Arc;

use sixrung::stand::{
    BarStrip, ChordSpan, ChordView, ChordsView, HearAgainView, HearingState, HearingView, Intent, LadderView, MapBar,
    MapView, MarkKind, NextChord, Pause, Phase, PlaceView, PlotMark, PlotView, Proposal, ResultView, RungState,
    RungView, SlotView, StandView, StringMark, SyllableView, Voice, Volumes, WordLineView, WordsView,
};
use sixrung_lesson::{Action, Barre, Direction, Dynamic, Finger, Shape, StringUse};
use sixrung_listen::StringFault;

/// A shape from one sign a string (`x` or a digit) and one a finger (`-` or a digit).
pub(crate) fn shape(name: &str, frets: &str, fingers: &str) -> Arc<Shape> {
    let string = |sign: char| match sign.to_digit(10).and_then(|digit| u8::try_from(digit).ok()) {
        None => StringUse::Muted,
        Some(0) => StringUse::Open,
        Some(fret) => StringUse::Fret(fret),
    };
    let finger = |sign| match sign {
        '1' => Some(Finger::Index),
        '2' => Some(Finger::Middle),
        '3' => Some(Finger::Ring),
        '4' => Some(Finger::Little),
        _ => None,
    };
    let barres =
        if frets == "x24432" { vec![Barre { fret: 2, from: 1, to: 5, finger: Finger::Index }] } else { vec![] };
    Arc::new(Shape {
        name: name.to_owned(),
        strings: frets.chars().map(string).collect(),
        fingers: fingers.chars().map(finger).collect(),
        barres,
        stand_in: None,
        mute_notes: Vec::new(),
    })
}

/// A chord by name.
pub(crate) fn chord(name: &str) -> ChordView {
    let (frets, fingers, stands_in_for) = match name {
        "D" => ("xx0232", "---132", None),
        "A" => ("x02220", "--123-", None),
        "G" => ("320033", "21--34", None),
        "Bm7" => ("x20202", "-2-1-3", Some("Bm".to_owned())),
        _ => ("x24432", "-13421", None),
    };
    ChordView { name: name.to_owned(), shape: Some(shape(name, frets, fingers)), sounds: None, stands_in_for }
}

/// A bar from stroke signs as a lesson writes them, with its counts; `beats` of equal slots each.
pub(crate) fn bar(strokes: &str, counts: &str, beats: u16) -> BarStrip {
    let signs: Vec<&str> = strokes.split(' ').collect();
    let length = 1.0 / f32::from(u16::try_from(signs.len()).expect("a bar is short"));
    let slot = |(place, (sign, count)): (usize, (&&str, &str))| {
        let place = f32::from(u16::try_from(place).expect("a bar is short"));
        let action = match sign.trim_start_matches('^').chars().next() {
            Some('-') => Action::Air,
            Some('.') => Action::Ring,
            Some('X') => Action::Chuck,
            Some('B') => Action::Bass,
            Some('S') => Action::Stop,
            _ => Action::Strum,
        };
        SlotView {
            at: place * length,
            width: length,
            action,
            direction: if sign.contains('U') { Direction::Up } else { Direction::Down },
            dynamic: if sign.contains('>') {
                Dynamic::Accent
            } else if sign.contains(',') {
                Dynamic::Soft
            } else {
                Dynamic::Plain
            },
            count: count.to_owned(),
            on_beat: count.parse::<u8>().is_ok(),
            change: sign.starts_with('^').then(|| "A".to_owned()),
        }
    };
    let beat = |at: u16| f32::from(at) / f32::from(beats)..f32::from(at + 1) / f32::from(beats);
    BarStrip {
        slots: signs.iter().zip(counts.split(' ')).enumerate().map(slot).collect(),
        beats: (0..beats).map(beat).collect(),
    }
}

/// A line of words: `^` and a chord's name in brackets before a syllable, `-` inside words.
fn line(words: &[(&str, Option<&str>)]) -> WordLineView {
    let syllable = |(text, chord): &(&str, Option<&str>)| SyllableView {
        text: text.trim_end_matches('-').to_owned(),
        ends_word: !text.ends_with('-'),
        chord: chord.map(str::to_owned),
    };
    WordLineView { syllables: words.iter().map(syllable).collect() }
}

fn ladder(pegs_filled: u32, sentence: &str) -> LadderView {
    let rung = |(bpm, percent, state): &(&str, u32, RungState)| RungView {
        bpm: (*bpm).to_owned(),
        percent: *percent,
        state: *state,
    };
    let rungs = [
        ("76", 60, RungState::Held),
        ("84", 67, RungState::Held),
        ("93", 74, RungState::Known),
        ("103", 82, RungState::Ahead),
        ("114", 90, RungState::Ahead),
        ("126", 100, RungState::Ahead),
    ];
    LadderView {
        rungs: rungs.iter().map(rung).collect(),
        current: 2,
        pegs_filled,
        pegs_total: 3,
        sentence: sentence.to_owned(),
    }
}

fn map(chords: [Option<&str>; 8], current: usize) -> MapView {
    let bar = |(at, chord): (usize, &Option<&str>)| MapBar {
        number: u32::try_from(at + 1).expect("a section is short"),
        chord: chord.map(str::to_owned),
        done: at < current,
    };
    MapView { bars: chords.iter().enumerate().map(bar).collect(), current: Some(current), chosen: None }
}

/// In the second bar of the verse, just after `&` of 2.
pub(crate) fn playing() -> StandView {
    let strip = Arc::new(bar("D - D> U - U D> U", "1 & 2 & 3 & 4 &", 4));
    StandView {
        place: PlaceView {
            title: "Lantern on the Quay".to_owned(),
            section: "Verse".to_owned(),
            bars: Some((1, 8)),
            arrangement: "plain, Bm7 for Bm".to_owned(),
        },
        phase: Phase::Playing,
        chords: Some(ChordsView {
            now: chord("D"),
            next: Some(NextChord { chord: chord("A"), beats_left: 3, beats_shown: 4 }),
            then: Some(chord("G")),
            then_is_soon: false,
            capo: 0,
        }),
        bar: Some(Arc::clone(&strip)),
        next_bar: Some(strip),
        cursor: Some(0.407),
        sounding: Some(3),
        words: WordsView {
            lines: vec![
                line(&[
                    ("Low", Some("D")),
                    ("tide,", None),
                    ("and", None),
                    ("the", None),
                    ("lamp", None),
                    ("still", None),
                    ("burn-", None),
                    ("ing", None),
                ]),
                line(&[("high", Some("A")), ("on", None), ("the", None), ("quay…", None)]),
            ],
            current: Some((0, 4)),
        },
        map: map([Some("D"), None, Some("A"), Some("G"), None, Some("A"), None, None], 1),
        ladder: ladder(2, "one more clean pass to 103"),
        hearing: HearingView { level: 0.55, state: HearingState::HearsYou },
        volumes: Volumes { click_db: -18.0, guitar_db: -9.0, song_db: -3.0, master_db: -6.0, ..Volumes::default() },
        minutes_playing: 12,
        ..StandView::default()
    }
}

/// After a pass of the chorus in which the change to D came late.
pub(crate) fn result() -> StandView {
    StandView {
        phase: Phase::Paused(Pause::Asked),
        place: PlaceView { section: "Chorus".to_owned(), ..playing().place },
        result: Some(ResultView {
            headline: "Not clean yet.".to_owned(),
            detail: "44 of 48 strokes in time. The change to D comes late, by about an eighth of a second.".to_owned(),
            quiet: "Everything else is steady: you play 6 ms early on the whole, and that is fine.".to_owned(),
            plot: Some(Arc::new(plot())),
            focus: "the bar that holds this section back".to_owned(),
            offer: String::new(),
            hear: Some(HearAgainView { bar: 5, playing: None, slowly: false }),
        }),
        proposal: Some(Proposal {
            because: vec![
                "Bar 5 comes late in two passes of three.".to_owned(),
                "Two bars alone, a few times round, and it settles.".to_owned(),
            ],
            label: "Loop bars 4 and 5".to_owned(),
            change: None,
            intent: Box::new(Intent::ChooseBars(3..5)),
        }),
        cursor: None,
        map: map([Some("Bm7"), None, Some("G"), None, Some("D"), None, Some("A"), None], 4),
        ladder: ladder(0, "93 again"),
        ..playing()
    }
}

/// 48 strokes: three late at the change in bar 5, one missed in bar 7.
fn plot() -> PlotView {
    let slots = [0, 2, 3, 5, 6, 7];
    let mark = |stroke: u16| {
        let slot = stroke / 6 * 8 + slots[usize::from(stroke % 6)];
        let wobble = f32::from((stroke * 37 + stroke * stroke * 11) % 61) - 30.0;
        let (offset_ms, kind) = match stroke {
            24 => (118.0, MarkKind::Late),
            25 => (131.0, MarkKind::Late),
            29 => (125.0, MarkKind::Late),
            40 => (0.0, MarkKind::Missed),
            _ => (wobble, MarkKind::InTime),
        };
        PlotMark { at: (f32::from(slot) + 0.5) / 64.0, offset_ms, kind, other_way: None }
    };
    let chord = |(at, name): (u16, &str)| ChordSpan {
        span: f32::from(at) / 4.0..f32::from(at + 1) / 4.0,
        name: name.to_owned(),
        heard: None,
        strings: Vec::new(),
    };
    PlotView {
        marks: (0..48).map(mark).collect(),
        window_ms: 80.0,
        bar_lines: (1..8_u8).map(|bar| f32::from(bar) / 8.0).collect(),
        chords: [(0, "Bm7"), (1, "G"), (2, "D"), (3, "A")].map(chord).to_vec(),
        worst_bar: Some(5),
    }
}

/// A barre, a chord with a long name, a change within the bar, a range of bars.
pub(crate) fn hard() -> StandView {
    let strip = Arc::new(bar("B . XD U> D, . ^D U", "1 & 2 & 3 & 4 &", 4));
    StandView {
        chords: Some(ChordsView {
            now: chord("Bm"),
            next: Some(NextChord { chord: chord("F♯m7/C♯"), beats_left: 2, beats_shown: 4 }),
            then: Some(chord("Bm7")),
            then_is_soon: true,
            capo: 2,
        }),
        bar: Some(Arc::clone(&strip)),
        next_bar: Some(strip),
        map: MapView { chosen: Some(2..5), ..playing().map },
        ..playing()
    }
}

/// A bar of sixteenths.
pub(crate) fn sixteenths() -> StandView {
    let strip = bar("D - D U X U D U D - D> U XD - D U", "1 e & a 2 e & a 3 e & a 4 e & a", 4);
    StandView { bar: Some(Arc::new(strip)), cursor: Some(0.5), sounding: Some(8), ..playing() }
}

/// A shuffle: the first of each pair twice as long, and no words.
pub(crate) fn swing() -> StandView {
    let mut strip = bar("D U D> U D U D> U", "1 & 2 & 3 & 4 &", 4);
    for (place, slot) in strip.slots.iter_mut().enumerate() {
        let beat = f32::from(u16::try_from(place / 2).expect("a bar is short")) / 4.0;
        let is_long = place % 2 == 0;
        slot.at = if is_long { beat } else { beat + 1.0 / 6.0 };
        slot.width = if is_long { 1.0 / 6.0 } else { 1.0 / 12.0 };
    }
    StandView { bar: Some(Arc::new(strip)), words: WordsView::default(), ..playing() }
}

/// A pass with another chord in bars 3 and 4, strings that are not as they should be, and two strokes the other way;
/// chords not learned long ago, and the worst bar sounding again.
pub(crate) fn faults() -> StandView {
    let mut plot = plot();
    plot.chords[1].heard = Some("Em".to_owned());
    plot.chords[0].strings = vec![StringMark { number: 5, fault: StringFault::Dead }];
    plot.chords[2].strings = vec![
        StringMark { number: 6, fault: StringFault::ShouldBeMuted },
        StringMark { number: 2, fault: StringFault::WrongFret },
    ];
    for mark in [10, 14] {
        plot.marks[mark].other_way = Some(Direction::Up);
    }
    let result = ResultView {
        headline: "Not clean yet.".to_owned(),
        detail: "45 of 48 strokes in time. In bar 3 I heard Em, not G.".to_owned(),
        quiet: "String 5 does not ring on Bm7: press close to the fret, let the finger arch.".to_owned(),
        plot: Some(Arc::new(plot)),
        hear: Some(HearAgainView { bar: 3, playing: Some(Voice::Both), slowly: true }),
        offer: sixrung::text::chords::OFFER.to_owned(),
        ..ResultView::default()
    };
    StandView { phase: Phase::Between, result: Some(result), proposal: None, ..self::result() }
}

/// A result whose proposal is about a change of chord.
pub(crate) fn change() -> StandView {
    let proposal = Proposal {
        because: vec![
            "Finger 3 is already there: string 2, fret 3.".to_owned(),
            "Leave it down and swing the others round it.".to_owned(),
        ],
        label: "Loop bars 4 and 5".to_owned(),
        change: Some((chord("G"), chord("D"))),
        intent: Box::new(Intent::ChooseBars(3..5)),
    };
    StandView { proposal: Some(proposal), ..result() }
}
