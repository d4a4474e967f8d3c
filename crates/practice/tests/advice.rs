//! The one thing to work on next.
//!
//! Four bars of four down-strokes. A row names what is wrong: `2.1 late` is a late stroke in bar 2, slot 1, both from 0.

use std::ops::Range;

use sixrung_lesson::{Action, Bar, Change, Direction, Meter, Score, Shape, Tick};
use sixrung_practice::{
    Advice, ChangeTrouble, ChordFinding, Finding, PassVerdict, Reason, StrokeFinding, Trouble, Verdict, advice,
    worst_bars,
};

const D: usize = 0;
const A: usize = 1;
const G: usize = 2;

fn score() -> Score {
    let shape = |name: &str| Shape {
        name: name.into(),
        strings: Vec::new(),
        fingers: Vec::new(),
        barres: Vec::new(),
        stand_in: None,
        mute_notes: Vec::new(),
    };
    Score {
        shapes: ["D", "A", "G"].map(shape).to_vec(),
        capo: 0,
        bars: (0..4)
            .map(|number| Bar { start: Tick(number * 3840), meter: Meter::COMMON, section: "Verse".into(), number })
            .collect(),
        changes: vec![Change { at: Tick::ZERO, shape: Some(D) }],
        slots: Vec::new(),
        lines: Vec::new(),
        length: Tick(4 * 3840),
    }
}

/// The chords of the four bars, and the faults.
fn pass(chords: [usize; 4], faults: &[&str]) -> PassVerdict {
    let mut strokes: Vec<StrokeFinding> = (0..16).map(|index| stroke(index, chords[index / 4])).collect();
    for fault in faults {
        let (place, what) = fault.split_once(' ').expect("a place and a fault");
        let (bar, slot) = place.split_once('.').expect("bar and slot");
        let number = |text: &str| text.parse::<usize>().expect("a number");
        let stroke = &mut strokes[number(bar) * 4 + number(slot)];
        match what {
            "early" => stroke.finding = Finding::Early,
            "late" => stroke.finding = Finding::Late,
            "missed" => stroke.finding = Finding::Missed,
            "wrong" => stroke.chord = ChordFinding::Wrong,
            _ => panic!("no such fault: {what}"),
        }
    }
    PassVerdict {
        verdict: Verdict::NotClean,
        strokes,
        extras_s: Vec::new(),
        median_offset_ms: Some(-12.0),
        spread_ms: Some(30.0),
        allowed_faults: 1,
        tuning_cents: None,
    }
}

fn stroke(index: usize, shape: usize) -> StrokeFinding {
    #[expect(clippy::cast_precision_loss, reason = "sixteen strokes")]
    let expected_s = index as f64 * 0.5;
    StrokeFinding {
        bar: index / 4,
        slot: u32::try_from(index % 4).expect("small"),
        action: Action::Strum,
        direction: Direction::Down,
        shape: Some(shape),
        expected_s,
        heard_s: Some(expected_s),
        offset_ms: Some(0.0),
        finding: Finding::InTime,
        chord: ChordFinding::Unsure,
        sounded_like: None,
        heard_direction: None,
        strings: Vec::new(),
        window_ms: 80.0,
    }
}

fn check(chords: [usize; 4], faults: &[&str], expected: &Advice) {
    assert_eq!(advice(&pass(chords, faults), &score()), *expected, "{faults:?}");
}

fn change(from: impl Into<Option<usize>>, into: usize, trouble: Trouble, broken: usize, of: usize) -> Advice {
    Advice::Change(ChangeTrouble { from: from.into(), into, trouble, broken, of })
}

#[test]
fn changes_that_hold_most_of_the_trouble_are_named() {
    check([D, G, D, G], &["1.0 late", "3.0 late"], &change(D, G, Trouble::Late, 2, 2));
    check([D, A, G, D], &["2.0 missed", "2.1 late", "0.2 early"], &change(A, G, Trouble::Late, 1, 1));
    check([A, G, D, G], &["1.0 wrong", "3.0 wrong"], &change(None, G, Trouble::WrongChord, 2, 2));
    // The stroke before the change is not the change's.
    check([D, D, D, G], &["2.2 late", "2.3 late"], &Advice::Bar { bar: 2, trouble: Trouble::Late, faults: 2 });
    // A change that holds less than half of the faults is not the trouble.
    let bar = Advice::Bar { bar: 0, trouble: Trouble::Early, faults: 3 };
    check([D, D, D, G], &["3.0 late", "3.1 late", "0.1 early", "0.2 early", "0.3 early"], &bar);
}

#[test]
fn else_the_worst_bar_if_it_stands_out() {
    check([D; 4], &["1.1 missed"], &Advice::Bar { bar: 1, trouble: Trouble::Missed, faults: 1 });
    check([D; 4], &["1.1 late", "2.1 late", "2.3 early"], &Advice::Bar { bar: 2, trouble: Trouble::Early, faults: 2 });
}

#[test]
fn else_what_is_wrong_all_over() {
    let overall = |trouble, faults| Advice::Overall { trouble, faults, median_offset_ms: -12.0, spread_ms: 30.0 };
    check([D; 4], &["0.1 late", "1.1 late", "2.1 early", "3.1 late"], &overall(Trouble::Late, 3));
    check([D; 4], &["0.1 early", "1.1 early"], &overall(Trouble::Early, 2));
}

#[test]
fn nothing_wrong_is_nothing_to_say_but_extra_strokes() {
    check([D, A, G, D], &[], &Advice::GoOn);
    let mut extras = pass([D; 4], &[]);
    extras.extras_s = vec![0.25, 0.75];
    assert_eq!(advice(&extras, &score()), Advice::Extras { count: 2 });
}

#[test]
fn what_was_not_heard_is_not_advised_on() {
    let mut verdict = pass([D; 4], &["0.0 missed", "0.1 missed"]);
    verdict.verdict = Verdict::NotJudged(Reason::Clipped);
    assert_eq!(advice(&verdict, &score()), Advice::NotHeard(Reason::Clipped));
}

#[test]
fn advice_stays_within_the_score_it_is_asked_for() {
    let verdict = pass([D, D, D, G], &["3.0 late", "3.1 late", "0.2 early"]);
    let mut shorter = score();
    shorter.bars.truncate(2);
    shorter.shapes.truncate(1);
    assert_eq!(advice(&verdict, &shorter), Advice::Bar { bar: 0, trouble: Trouble::Early, faults: 1 });
}

#[test]
fn the_worst_bar_is_looped_with_its_worse_neighbour() {
    let check = |faults: &[&str], expected: Option<Range<usize>>| {
        assert_eq!(worst_bars(&pass([D; 4], faults)), expected, "{faults:?}");
    };
    check(&[], None);
    check(&["2.0 late"], Some(2..3));
    check(&["0.0 late", "2.0 late", "2.1 late"], Some(2..3));
    check(&["1.3 late", "2.0 late", "2.1 late"], Some(1..3));
    check(&["1.3 late", "2.0 late", "2.1 late", "2.2 late", "3.1 late", "3.2 late"], Some(2..4));
    check(&["3.0 late", "3.1 late", "2.0 early"], Some(2..4));
}
