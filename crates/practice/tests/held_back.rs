//! The change that holds a stretch back.

#[path = "support/judged.rs"]
mod judged;

use judged::{A, D, G, pass, score};
use sixrung_practice::{HeldBack, Reason, Verdict, held_back};

/// Passes of four bars on these chords with these faults; expected: from, into, broken, of, faults, of all faults.
fn check(chords: [usize; 4], passes: &[&[&str]], expected: Option<[usize; 6]>) {
    let judged: Vec<_> = passes.iter().map(|faults| pass(chords, faults)).collect();
    let expected = expected.map(|[from, into, broken, of, faults, of_faults]| HeldBack {
        from,
        into,
        broken,
        of,
        faults,
        of_faults,
    });
    assert_eq!(held_back(&judged, &score()), expected, "{passes:?}");
}

#[test]
fn the_pair_whose_strokes_around_the_change_break_most_is_named() {
    // D to G lies before 1.0 and 3.0, G to D before 2.0.
    check([D, G, D, G], &[&["1.0 late"], &["3.0 missed"]], Some([D, G, 2, 4, 2, 2]));
    // The last stroke before it counts too; a change with both broken is broken once.
    check([D, G, D, G], &[&["0.3 missed", "1.0 late", "2.3 wrong"], &[]], Some([D, G, 2, 4, 3, 3]));
    // Several passes are needed where it is played once a pass.
    check([D, D, A, A], &[&["2.0 late"], &["2.0 late"], &["0.1 late"]], Some([D, A, 2, 3, 2, 3]));
}

#[test]
fn nothing_is_named_where_nothing_stands_out() {
    check([D, G, D, G], &[&[], &[]], None);
    check([D, G, D, G], &[&["1.0 late"], &[]], None);
    // Broken twice in nine: less than one in four.
    check([D, D, A, A], &[&["2.0 late"], &["2.0 late"], &[], &[], &[], &[], &[], &[], &[]], None);
    // Two of seven faults: less than a third.
    check(
        [D, G, D, G],
        &[&["1.0 late", "0.1 late", "0.2 late", "1.1 late"], &["3.0 late", "2.1 late", "2.2 late"]],
        None,
    );
    // A stroke before its time does not mean that the change takes too long.
    check([D, G, D, G], &[&["1.0 early", "3.0 early"]], None);
}

#[test]
fn passes_that_were_not_judged_say_nothing() {
    let mut unheard = pass([D, G, D, G], &["1.0 missed", "3.0 missed"]);
    unheard.verdict = Verdict::NotJudged(Reason::Silence);
    assert_eq!(held_back(&[unheard], &score()), None);
}
