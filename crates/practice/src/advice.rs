//! The one thing to work on next, from what was found in a pass.
//!
//! One thing, because sparing feedback serves learners better than a stream of it (Wulf & Mornell 2008); the worst
//! spot, because the best pianists stop at an error and work on its place (Duke, Simmons & Cash 2009, JRME). Where the
//! lines between "a spot" and "in general" are drawn is a design choice of ours.

use std::collections::BTreeMap;
use std::ops::Range;

use sixrung_lesson::Score;
use sixrung_listen::{ChordFinding, Finding, PassVerdict, Reason, StrokeFinding, Verdict};

/// What to work on next. Indices point into the score the advice was asked for, always within it.
#[derive(Clone, Debug, PartialEq)]
pub enum Advice {
    /// The program could not hear well enough: something about the sound is to be mended first.
    NotHeard(Reason),
    /// Nothing stands out: go on.
    GoOn,
    /// The changes into one chord.
    Change(ChangeTrouble),
    /// One bar.
    Bar {
        /// Index into [`Score::bars`].
        bar: usize,
        /// What mostly goes wrong in it.
        trouble: Trouble,
        /// Faults in it.
        faults: usize,
    },
    /// The same all over the pass: mostly this.
    Overall {
        /// What mostly goes wrong.
        trouble: Trouble,
        /// So many strokes.
        faults: usize,
        /// Median offset in milliseconds, early is negative.
        median_offset_ms: f64,
        /// Spread of the offsets in milliseconds.
        spread_ms: f64,
    },
    /// Strokes were heard that are not in the pattern.
    Extras {
        /// How many.
        count: usize,
    },
}

impl Advice {
    /// Whether it is another chord than the one asked for that stands out.
    #[must_use]
    pub fn is_about_chords(&self) -> bool {
        match self {
            Self::Change(ChangeTrouble { trouble, .. }) | Self::Bar { trouble, .. } | Self::Overall { trouble, .. } => {
                *trouble == Trouble::WrongChord
            }
            Self::NotHeard(_) | Self::GoOn | Self::Extras { .. } => false,
        }
    }
}

/// Trouble with the changes into one chord.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ChangeTrouble {
    /// The chord changed from, where it is always the same one.
    pub from: Option<usize>,
    /// The chord changed to.
    pub into: usize,
    /// What mostly goes wrong.
    pub trouble: Trouble,
    /// Changes into it that went wrong.
    pub broken: usize,
    /// Changes into it in all.
    pub of: usize,
}

/// What goes wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Trouble {
    /// Strokes before their time.
    Early,
    /// Strokes after their time.
    Late,
    /// Strokes not heard.
    Missed,
    /// Another chord than asked for.
    WrongChord,
}

/// Picks the one thing to work on.
///
/// In this order: the changes into a chord when they hold at least two faults and half of all; a bar when it holds at
/// least two faults and a third of all; what is wrong all over; strokes that are not in the pattern.
#[must_use]
pub fn advice(verdict: &PassVerdict, score: &Score) -> Advice {
    if let Verdict::NotJudged(reason) = verdict.verdict {
        return Advice::NotHeard(reason);
    }
    let faults: Vec<Fault<'_>> =
        verdict.strokes.iter().filter(|stroke| stroke.bar < score.bars.len()).filter_map(Fault::of).collect();
    if faults.is_empty() {
        return match verdict.extras_s.len() {
            0 => Advice::GoOn,
            count => Advice::Extras { count },
        };
    }
    worst_change(verdict, score, &faults)
        .map(Advice::Change)
        .or_else(|| worst_bar(&faults))
        .unwrap_or_else(|| overall(verdict, &faults))
}

/// The one or two neighbouring bars that hold the most faults, for looping: indices into [`Score::bars`].
///
/// Two bars when each holds faults, since the change between them may be the trouble; `None` without faults.
#[must_use]
pub fn worst_bars(verdict: &PassVerdict) -> Option<Range<usize>> {
    let mut by_bar = BTreeMap::<usize, usize>::new();
    for fault in verdict.strokes.iter().filter_map(Fault::of) {
        *by_bar.entry(fault.stroke.bar).or_default() += 1;
    }
    let (&worst, _) = most(by_bar.iter().map(|(bar, faults)| (bar, *faults)))?;
    let faults = |bar: usize| by_bar.get(&bar).copied().unwrap_or(0);
    let before = worst.checked_sub(1).map_or(0, faults);
    let after = faults(worst + 1);
    Some(match before.cmp(&after) {
        std::cmp::Ordering::Greater => worst - 1..worst + 1,
        _ if after > 0 => worst..worst + 2,
        _ => worst..worst + 1,
    })
}

/// A stroke with something wrong about it.
#[derive(Clone, Copy)]
pub(crate) struct Fault<'a> {
    stroke: &'a StrokeFinding,
    pub(crate) trouble: Trouble,
}

impl<'a> Fault<'a> {
    pub(crate) fn of(stroke: &'a StrokeFinding) -> Option<Self> {
        let trouble = match (stroke.finding, stroke.chord) {
            (Finding::Early, _) => Trouble::Early,
            (Finding::Late, _) => Trouble::Late,
            (Finding::Missed, _) => Trouble::Missed,
            (Finding::InTime, ChordFinding::Wrong) => Trouble::WrongChord,
            (Finding::InTime, ChordFinding::Right | ChordFinding::Unsure) => return None,
        };
        Some(Self { stroke, trouble })
    }
}

/// A change of chord among strokes.
#[derive(Clone, Copy)]
pub(crate) struct ChangeAt {
    /// The chord before; `None` for none.
    pub(crate) from: Option<usize>,
    /// The chord after, within the score.
    pub(crate) into: usize,
    /// Index of the first stroke after it, 1 or more.
    pub(crate) first: usize,
}

/// The changes among strokes on these shapes.
pub(crate) fn changes(shapes: &[Option<usize>], score: &Score) -> impl Iterator<Item = ChangeAt> {
    let count = score.shapes.len();
    shapes.windows(2).enumerate().filter_map(move |(index, pair)| {
        let into = pair[1].filter(|into| pair[0] != pair[1] && *into < count)?;
        Some(ChangeAt { from: pair[0], into, first: index + 1 })
    })
}

/// Strokes a change can break: its own, and the one after it.
const STROKES_OF_A_CHANGE: usize = 2;

/// One change into a chord, as it was played.
struct PlayedChange<'a> {
    from: Option<usize>,
    faults: Vec<Fault<'a>>,
}

fn worst_change(verdict: &PassVerdict, score: &Score, faults: &[Fault<'_>]) -> Option<ChangeTrouble> {
    let mut played_into = BTreeMap::<usize, Vec<PlayedChange<'_>>>::new();
    let strokes = &verdict.strokes;
    let shapes: Vec<Option<usize>> = strokes.iter().map(|stroke| stroke.shape).collect();
    for ChangeAt { from, into, first } in changes(&shapes, score) {
        let its_own = strokes[first..].iter().take(STROKES_OF_A_CHANGE).take_while(|stroke| stroke.shape == Some(into));
        let change = PlayedChange { from, faults: its_own.filter_map(Fault::of).collect() };
        played_into.entry(into).or_default().push(change);
    }
    let faults_into = |played: &[PlayedChange<'_>]| played.iter().map(|change| change.faults.len()).sum::<usize>();
    let (&into, worst) = most(played_into.iter().map(|(into, played)| (into, faults_into(played))))?;
    if worst < 2 || worst * 2 < faults.len() {
        return None;
    }
    let played = &played_into[&into];
    let broken: Vec<&PlayedChange<'_>> = played.iter().filter(|change| !change.faults.is_empty()).collect();
    let from = broken[0].from.filter(|from| broken.iter().all(|change| change.from == Some(*from)));
    let trouble = usual(broken.iter().flat_map(|change| &change.faults))?;
    Some(ChangeTrouble { from, into, trouble, broken: broken.len(), of: played.len() })
}

fn worst_bar(faults: &[Fault<'_>]) -> Option<Advice> {
    let mut by_bar = BTreeMap::<usize, Vec<Fault<'_>>>::new();
    for fault in faults {
        by_bar.entry(fault.stroke.bar).or_default().push(*fault);
    }
    let (&bar, worst) = most(by_bar.iter().map(|(bar, of_bar)| (bar, of_bar.len())))?;
    let stands_out = worst >= 2 && worst * 3 >= faults.len() || worst == faults.len();
    let trouble = usual(&by_bar[&bar])?;
    stands_out.then_some(Advice::Bar { bar, trouble, faults: worst })
}

fn overall(verdict: &PassVerdict, faults: &[Fault<'_>]) -> Advice {
    let Some(trouble) = usual(faults) else { return Advice::GoOn };
    Advice::Overall {
        trouble,
        faults: faults.iter().filter(|fault| fault.trouble == trouble).count(),
        median_offset_ms: verdict.median_offset_ms.unwrap_or(0.0),
        spread_ms: verdict.spread_ms.unwrap_or(0.0),
    }
}

/// The commonest trouble; of equally common ones the first by their order.
fn usual<'a>(faults: impl IntoIterator<Item = &'a Fault<'a>>) -> Option<Trouble> {
    let mut counts = BTreeMap::<Trouble, usize>::new();
    for fault in faults {
        *counts.entry(fault.trouble).or_default() += 1;
    }
    most(counts.iter().map(|(trouble, count)| (trouble, *count))).map(|(trouble, _)| *trouble)
}

/// The first of the largest.
pub(crate) fn most<T>(counted: impl Iterator<Item = (T, usize)>) -> Option<(T, usize)> {
    counted.fold(None, |best, next| match best {
        Some((_, most)) if most >= next.1 => best,
        _ => Some(next),
    })
}
