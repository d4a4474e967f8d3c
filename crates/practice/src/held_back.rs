//! Which change of chord holds a stretch back, from the judged strokes of several passes.

use std::collections::BTreeMap;

use sixrung_lesson::Score;
use sixrung_listen::{PassVerdict, StrokeFinding, Verdict};

use crate::advice::{Fault, Trouble, changes, most};

/// A change stands out when it was broken at least so often, in at least one of so many of its turns, and holds at least
/// one of so many of all faults: design choices of ours.
const LEAST_BROKEN: usize = 2;
const BROKEN_ONE_IN: usize = 4;
const FAULTS_ONE_IN: usize = 3;

/// The change that holds a stretch back. Indices point into [`Score::shapes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct HeldBack {
    /// The chord left.
    pub from: usize,
    /// The chord reached.
    pub into: usize,
    /// How often it broke: the last stroke before it or the first after it was late, missed or of another chord.
    pub broken: usize,
    /// How often it was played.
    pub of: usize,
    /// Faults on those strokes.
    pub faults: usize,
    /// Faults of any kind in these passes.
    pub of_faults: usize,
}

/// Picks the change that explains the most faults of these passes; passes that were not judged are left out. `None` when
/// none stands out: fewer than two broken, or fewer than one in four of its turns, or less than a third of all faults.
#[must_use]
pub fn held_back(passes: &[PassVerdict], score: &Score) -> Option<HeldBack> {
    let mut pairs = BTreeMap::<(usize, usize), HeldBack>::new();
    let mut of_faults = 0;
    for pass in passes.iter().filter(|pass| !matches!(pass.verdict, Verdict::NotJudged(_))) {
        of_faults += pass.strokes.iter().filter_map(Fault::of).count();
        let shapes: Vec<Option<usize>> = pass.strokes.iter().map(|stroke| stroke.shape).collect();
        for change in changes(&shapes, score) {
            let Some(from) = change.from.filter(|from| *from < score.shapes.len()) else { continue };
            let around = &pass.strokes[change.first - 1..=change.first];
            let faults = around.iter().filter(|stroke| breaks(stroke)).count();
            let none = HeldBack { from, into: change.into, broken: 0, of: 0, faults: 0, of_faults: 0 };
            let pair = pairs.entry((from, change.into)).or_insert(none);
            pair.of += 1;
            pair.broken += usize::from(faults > 0);
            pair.faults += faults;
        }
    }
    let (worst, _) = most(pairs.values().map(|pair| (pair, pair.faults)))?;
    let stands_out = worst.broken >= LEAST_BROKEN
        && worst.broken * BROKEN_ONE_IN >= worst.of
        && worst.faults * FAULTS_ONE_IN >= of_faults;
    stands_out.then_some(HeldBack { of_faults, ..*worst })
}

/// A stroke before its time is no sign of a change that takes too long.
fn breaks(stroke: &StrokeFinding) -> bool {
    Fault::of(stroke).is_some_and(|fault| fault.trouble != Trouble::Early)
}
