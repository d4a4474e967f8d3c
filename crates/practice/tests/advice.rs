//! The one thing to work on next.

#[path = "support/judged.rs"]
mod judged;

use std::ops::Range;

use judged::{A, D, G, pass, score};
use sixrung_practice::{Advice, ChangeTrouble, Reason, Trouble, Verdict, advice, worst_bars};

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
