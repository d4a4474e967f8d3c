//! The compact texts: what they read as, and where carets go.

use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop, prop_assert_eq, prop_oneof, proptest};
use proptest::test_runner::RngSeed;

use super::frets::{frets_text, parse_fingers, parse_frets};
use super::meter::{parse_beat, parse_grid, parse_meter};
use super::strokes::{parse_strokes, strokes_text};
use super::tuning::parse_tuning;
use super::words::{change_marks, parse_words};
use crate::findings::TextProblem;
use crate::meter::{BeatUnit, Meter};
use crate::pattern::{Action, Direction, Dynamic, Grid, Stroke};
use crate::shape::StringUse;

const SIX_EIGHT: Meter = Meter::new(6, 8).expect("a meter");
const THREE_FOUR: Meter = Meter::new(3, 4).expect("a meter");

/// The characters of each problem.
fn carets<T: std::fmt::Debug>(read: Result<T, Vec<TextProblem>>) -> Vec<(usize, usize)> {
    read.expect_err("something is wrong with it").iter().map(|problem| (problem.from, problem.to)).collect()
}

#[test]
fn frets_are_a_character_a_string_or_have_dashes_between() {
    let read = |text| parse_frets(text).expect("frets").iter().map(|string| string.fret()).collect::<Vec<_>>();
    assert_eq!(read("xx0232"), [None, None, Some(0), Some(2), Some(3), Some(2)]);
    assert_eq!(read("X-10-12-12-11-x"), [None, Some(10), Some(12), Some(12), Some(11), None]);
    assert_eq!(carets(parse_frets("x?02ä2")), [(1, 2), (4, 5)]);
    assert_eq!(carets(parse_frets("0-25--3-100")), [(2, 4), (5, 5), (8, 11)]);
    assert_eq!(carets(parse_fingers("---5")), [(3, 4)]);
}

#[test]
fn strokes_take_an_open_direction_from_the_pendulum() {
    let directions = |text, grid, meter| -> String {
        let strokes = parse_strokes(text, grid, meter).expect("strokes").strokes;
        strokes.iter().map(|stroke| if stroke.direction == Direction::Down { 'D' } else { 'U' }).collect()
    };
    // Common practice: even slots of duple grids down, odd up; compound beats and triplets each start down.
    assert_eq!(directions("X - X - X - X -", Grid::Eighths, Meter::COMMON), "DUDUDUDU");
    assert_eq!(directions("- - - - - - - -", Grid::Sixteenths, Meter::COMMON), "DUDUDUDU");
    assert_eq!(directions("X X X X", Grid::Quarters, Meter::COMMON), "DDDD");
    assert_eq!(directions("- - - - - -", Grid::Eighths, SIX_EIGHT), "DUDDUD");
    assert_eq!(directions("X . X S X - X -", Grid::Triplets, Meter::COMMON), "DUDDUDDU");
    assert_eq!(directions("- - - - - - -", Grid::Eighths, THREE_FOUR), "DUDUDUD");
    // What is written wins.
    assert_eq!(directions("XU XD U D BU B", Grid::Eighths, Meter::COMMON), "UDUDUD");
}

#[test]
fn strokes_carry_accents_changes_and_bar_lines() {
    let read = parse_strokes("B, - | ^U>", Grid::Quarters, Meter::COMMON).expect("strokes");
    let stroke = |action, direction, dynamic, changes| Stroke { action, direction, dynamic, changes };
    assert_eq!(
        read.strokes,
        [
            stroke(Action::Bass, Direction::Down, Dynamic::Soft, false),
            stroke(Action::Air, Direction::Down, Dynamic::Plain, false),
            stroke(Action::Strum, Direction::Up, Dynamic::Accent, true),
        ]
    );
    assert_eq!((read.bar_lines[0].before, read.bar_lines[0].at), (2, 5));
    assert_eq!(carets(parse_strokes("D  é> | ^ -,", Grid::Eighths, Meter::COMMON)), [(3, 5), (8, 9), (10, 12)]);
}

#[test]
fn words_split_into_syllables_with_their_changes() {
    let read = |text: &str| -> Vec<String> {
        let line = parse_words(text).expect("words");
        let show = |syllable: &crate::Syllable| {
            let (mark, end) =
                (if syllable.takes_change { "^" } else { "" }, if syllable.ends_word { " " } else { "-" });
            format!("{mark}{}{end}", syllable.text)
        };
        line.syllables.iter().map(show).collect()
    };
    assert_eq!(read("Oh, ^low burn-ing"), ["Oh, ", "^low ", "burn-", "ing "]);
    assert_eq!(read("a-^gain ^ ^…"), ["a-", "^gain ", "^ ", "^… "]);
    assert_eq!(read(r"drip\-drop \^ \\ mend-"), ["drip-drop ", "^ ", "\\ ", "mend-"]);
    assert_eq!(read("  "), Vec::<String>::new());
    assert_eq!(carets(parse_words("^^a b^c -d e--f g\\h")), [(1, 2), (5, 6), (8, 9), (13, 14), (17, 18)]);
    assert_eq!(change_marks(r"^a \^b ^c"), [0, 7]);
}

#[test]
fn tunings_meters_beats_and_grids() {
    let keys = |text| parse_tuning(text).expect("a tuning").open().iter().map(|pitch| pitch.0).collect::<Vec<_>>();
    assert_eq!(keys("E2 A2 D3 G3 B3 E4"), [40, 45, 50, 55, 59, 64]);
    assert_eq!(keys("D2 A2 D3 F♯3 A3 D4"), [38, 45, 50, 54, 57, 62]);
    assert_eq!(keys("B0 E1 A1 D2 G2"), [23, 28, 33, 38, 43]);
    assert_eq!(carets(parse_tuning("E2 A2  D10 G3")), [(7, 10)]);
    assert_eq!(carets(parse_tuning("E2 A2 D3")), [(0, 8)]);
    assert_eq!(parse_meter(" 12 / 8").map(|meter| (meter.count(), meter.unit())), Ok((12, 8)));
    for text in ["", "4", "4/", "0/4", "4/0", "4/3", "17/8", "-4/4", "4/4/4", "300/4"] {
        assert_eq!(carets(parse_meter(text)), [(0, text.len())], "{text}");
    }
    assert_eq!(parse_beat("dotted quarter"), Ok(BeatUnit::DottedQuarter));
    assert_eq!(parse_grid("swung eighths 3:2"), Ok(Grid::SwungEighths { long: 3, short: 2 }));
    for text in ["", "eighth", "swung", "swung eighths", "swung eighths 0:1", "swung eighths 2:17", "swung eighths 2"] {
        assert_eq!(carets(parse_grid(text)), [(0, text.len())], "{text}");
    }
}

fn string() -> impl Strategy<Value = StringUse> {
    prop_oneof![Just(StringUse::Muted), Just(StringUse::Open), (1..=24_u8).prop_map(StringUse::Fret)]
}

fn stroke() -> impl Strategy<Value = Stroke> {
    let sounding = (0..3_usize, any::<bool>(), 0..3_usize, any::<bool>());
    prop_oneof![
        sounding.prop_map(|(action, up, dynamic, changes)| Stroke {
            action: [Action::Strum, Action::Chuck, Action::Bass][action],
            direction: if up { Direction::Up } else { Direction::Down },
            dynamic: [Dynamic::Soft, Dynamic::Plain, Dynamic::Accent][dynamic],
            changes,
        }),
        (0..3_usize, any::<bool>()).prop_map(|(action, changes)| Stroke {
            action: [Action::Air, Action::Ring, Action::Stop][action],
            direction: Direction::Down,
            dynamic: Dynamic::Plain,
            changes,
        }),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(6), failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn frets_written_out_read_back(strings in prop::collection::vec(string(), 1..9)) {
        // One string at fret 10 or higher has no dash to tell it from two strings.
        let text = frets_text(&strings);
        if strings.len() > 1 || text.len() == 1 {
            prop_assert_eq!(parse_frets(&text).expect("it was written by us"), strings);
        }
    }

    #[test]
    fn strokes_written_out_read_back(mut strokes in prop::collection::vec(stroke(), 1..40)) {
        strokes[0].changes = false;
        // On quarters the pendulum always goes down, as these silent strokes do.
        let read = parse_strokes(&strokes_text(&strokes), Grid::Quarters, Meter::COMMON).expect("it was written by us");
        prop_assert_eq!(read.strokes, strokes);
    }

    #[test]
    fn carets_stay_inside_their_text(text in ".{0,40}") {
        let problems = [
            parse_frets(&text).err(),
            parse_fingers(&text).err(),
            parse_strokes(&text, Grid::Triplets, SIX_EIGHT).err(),
            parse_words(&text).err(),
            parse_tuning(&text).err(),
            parse_meter(&text).err(),
        ];
        for problem in problems.into_iter().flatten().flatten() {
            assert!(problem.from <= problem.to && problem.to <= text.chars().count(), "{problem:?}");
        }
    }
}
