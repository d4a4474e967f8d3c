//! What was heard of each span of a pass, in numbers: the asked shape against what it may have been instead.

use crate::median::median_f32;
use crate::plan::PlannedShape;

use super::candidates::{Candidates, Other};
use super::fit::{Fit, Heard, fit};
use super::spans::{LOOKS_S, Looks};
use super::spectrum::{Look, ROWS, Rows};
use super::strings::Strings;

/// How many numbers describe a span.
pub const CHORD_FEATURES: usize = 28;

/// Where it stands how much lies between the semitones, re what lies on them.
pub(super) const ASTRAY: usize = 5;

/// A row tells two chords apart that one explains so much louder than the other.
const TELLING_DB: f32 = 6.0;
/// Looks are pooled by the mean of their powers raised to this, and the root of it: what sounds in most looks weighs
/// more than what is loud in one.
const POOLING: f32 = 0.25;
/// What stands for a number that can't be told.
const UNTOLD: f32 = -99.0;

/// One span: what the asked shape and each other one make of it.
pub(super) struct Scored {
    /// Index of the shape asked for.
    pub shape: usize,
    /// Index in the others of the one that explains it best.
    pub best: usize,
    /// By how much each other explains the whole span better than the asked one.
    odds: Vec<f32>,
    own: [f32; OWN],
    /// How loud each of its strings was, as a power.
    pub sounding: Vec<f32>,
}

const OWN: usize = 20;

impl Scored {
    /// `None` when nothing was heard or nothing else is thinkable.
    pub(super) fn new(
        candidates: &Candidates,
        shape: usize,
        heard_looks: &[Look],
        looks: &Looks,
        strings: &Strings,
    ) -> Option<Self> {
        let (length, all_strings) = (looks.length, looks.all_strings);
        let looks = heard_looks;
        let heard = Heard::new(pooled(looks))?;
        let better = |one: &(usize, Fit), other: &(usize, Fit)| one.1.score.total_cmp(&other.1.score);
        let fits = |voicing| fit(&heard, voicing, strings, all_strings);
        let (as_asked, asked) = candidates.asked.iter().map(fits).enumerate().max_by(better)?;
        let others: Vec<Fit> = candidates.others.iter().map(|other| fits(&other.voicing)).collect();
        let odds: Vec<f32> = others.iter().map(|other| other.score - asked.score).collect();
        let (best, _) = odds.iter().enumerate().max_by(|one, other| one.1.total_cmp(other.1))?;
        let other = &candidates.others[best];
        let of_look = |look: &Look| {
            let heard = Heard::new(look.rows)?;
            let score = |voicing| fit(&heard, voicing, strings, all_strings).score;
            Some(score(&other.voicing) - score(&candidates.asked[as_asked]))
        };
        let mut of_looks: Vec<f32> = looks.iter().filter_map(of_look).collect();
        of_looks.sort_by(f32::total_cmp);
        let own = describe(&heard, &asked, &others[best], other, looks, &of_looks, length, all_strings);
        Some(Self { shape, best, odds, own, sounding: asked.sounding })
    }
}

#[expect(clippy::too_many_arguments, reason = "all that is known of a span")]
#[expect(clippy::cast_precision_loss, reason = "small counts")]
fn describe(
    heard: &Heard,
    asked: &Fit,
    best: &Fit,
    other: &Other,
    looks: &[Look],
    of_looks: &[f32],
    length: usize,
    all_strings: bool,
) -> [f32; OWN] {
    let share = |of: f32| of_looks.get((of * of_looks.len() as f32) as usize).copied().unwrap_or(0.0);
    let mut astray: Vec<f32> = looks.iter().map(|look| look.astray).collect();
    let wander = wander(looks, &asked.explained, &best.explained);
    let more = telling(heard, &asked.explained, &best.explained);
    let less = telling(heard, &best.explained, &asked.explained);
    [
        best.score - asked.score,
        share(0.0),
        share(0.25),
        share(0.5),
        of_looks.last().copied().unwrap_or(0.0),
        median_f32(&mut astray).unwrap_or(0.0),
        best.score,
        asked.score,
        looks.len() as f32,
        LOOKS_S[length] as f32,
        wander.map_or(UNTOLD, |wander| wander.0),
        wander.map_or(UNTOLD, |wander| wander.1),
        if other.foreign { 1.0 } else { 0.0 },
        if all_strings { 1.0 } else { 0.0 },
        more.0,
        more.1,
        less.0,
        less.1,
        other.classes_more as f32,
        other.classes_less as f32,
    ]
}

/// Of the rows that `one` explains louder than `other`: how many there are, and how much louder than `other` has them
/// they were, as a share of how much louder they should be.
fn telling(heard: &Heard, other: &Rows, one: &Rows) -> (f32, f32) {
    let (mut count, mut heard_db, mut told_db) = (0.0, 0.0, 0.0);
    for row in 0..ROWS {
        let told = 10.0 * (one[row] / other[row]).log10();
        if told >= TELLING_DB {
            count += 1.0;
            told_db += told;
            heard_db += (heard.decibels()[row] - 10.0 * other[row].log10()).clamp(-told, 2.0 * told);
        }
    }
    (count, if told_db > 0.0 { heard_db / told_db } else { UNTOLD })
}

/// How the peaks behave that tell one chord from the other, in cents: from look to look, and from where a string would
/// have them. `None` when nothing was heard that tells the one from the other.
fn wander(looks: &[Look], asked: &Rows, other: &Rows) -> Option<(f32, f32)> {
    let (mut apart, mut off, mut weights) = (0.0, 0.0, 0.0);
    for row in 0..ROWS {
        let power = looks.iter().map(|look| look.rows[row]).sum::<f32>();
        if 10.0 * (other[row] / asked[row]).log10() < TELLING_DB || power <= 0.0 {
            continue;
        }
        let weight = power.sqrt();
        let mut cents: Vec<f32> = looks.iter().map(|look| look.off_cents[row]).collect();
        let middle = median_f32(&mut cents).unwrap_or(0.0);
        let mut from: Vec<f32> = cents.iter().map(|cents| (cents - middle).abs()).collect();
        apart += weight * median_f32(&mut from).unwrap_or(0.0);
        off += weight * middle.abs();
        weights += weight;
    }
    (weights > 0.0).then(|| (apart / weights, off / weights))
}

/// The mean of the looks, each row for itself.
fn pooled(looks: &[Look]) -> Rows {
    let mut pooled = [0.0; ROWS];
    for look in looks {
        for (sum, row) in pooled.iter_mut().zip(look.rows) {
            *sum += row.powf(POOLING);
        }
    }
    pooled.map(|sum: f32| sum.powf(1.0 / POOLING))
}

/// Describes each span by itself, then beside the pass's other spans: a shape that is played elsewhere in the pass shows
/// how this player's guitar sounds it, and how much of what speaks for another chord is only that.
#[expect(clippy::cast_precision_loss, reason = "a few spans")]
pub(super) fn beside_the_others(spans: &[Scored], shapes: &[PlannedShape]) -> Vec<[f32; CHORD_FEATURES]> {
    let median = |numbers: &mut dyn Iterator<Item = f32>| median_f32(&mut numbers.collect::<Vec<_>>());
    let usual = |of: usize| median(&mut spans.iter().map(|span| span.own[of])).unwrap_or(0.0);
    let (odds, astray, misfit) = (usual(0), usual(ASTRAY), usual(7));
    let described = |(index, span): (usize, &Scored)| {
        let mut row = [0.0; CHORD_FEATURES];
        row[..OWN].copy_from_slice(&span.own);
        let same = || spans.iter().enumerate().filter(|(other, one)| *other != index && one.shape == span.shape);
        let elsewhere = median(&mut same().map(|(_, one)| one.odds[span.best]));
        let sounding = shapes[span.shape].strings.iter().flatten().count();
        row[OWN..].copy_from_slice(&[
            same().count() as f32,
            elsewhere.map_or(UNTOLD, |elsewhere| span.own[0] - elsewhere),
            elsewhere.unwrap_or(UNTOLD),
            odds,
            astray,
            misfit,
            sounding as f32,
            spans.len() as f32,
        ]);
        row
    };
    spans.iter().enumerate().map(described).collect()
}
