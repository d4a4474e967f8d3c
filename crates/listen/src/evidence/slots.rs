//! What lies in the place of each expected stroke, in numbers: the likeliest onset there and what speaks against it,
//! beside the same player's other strokes in this pass.

use sixrung_lesson::{Action, Direction};

use super::choose::Found;
use super::features::{FEATURES, PARTIALS_NEW, SHARES_NEW};
use crate::median::median;
use crate::plan::PlannedStroke;

/// How many numbers describe the place of an expected stroke.
pub const SLOT_FEATURES: usize = 38;

/// What stands for a number where nothing was heard.
const NOTHING: f32 = -99.0;
/// Log-odds that stand for no onset.
pub(super) const NO_ODDS: f32 = -9.0;
/// Other onsets this near to a first string may be it, in seconds; nearer than the second they are the same.
const NEAR_S: f64 = 0.0605;
const SAME_S: f64 = 0.0085;
/// The usual is taken from at least so many strokes.
const LEAST_USUAL: usize = 3;
/// Quantiles that stand for a pass's weak strokes, and for what is nearly taken for a stroke in it.
const WEAK: f64 = 0.2;
const NOISE: f64 = 0.95;
const NO_NOISE: f32 = -6.0;

/// Describes each place. `windows_s` are the half widths of the strokes' windows, `bias_limit_s` is how much of the
/// player's bias is forgiven.
pub(super) fn slot_features(found: &Found<'_>, windows_s: &[f64], bias_limit_s: f64) -> Vec<[f32; SLOT_FEATURES]> {
    let plan = found.plan;
    let all = All::of(found, bias_limit_s);
    (0..plan.strokes.len()).map(|index| all.describe(found, index, windows_s[index])).collect()
}

/// All places of a pass.
struct All {
    /// Log-odds of the likeliest onset, and of its first string, in each place.
    stroke: Vec<f32>,
    first: Vec<f32>,
    strength_db: Vec<f32>,
    gain_db: Vec<f32>,
    /// Heard − expected, the player's bias taken out, in seconds.
    off_s: Vec<Option<f64>>,
    usual: f32,
    weak: f32,
    usual_first: f32,
    noise: f32,
    spread_s: f64,
}

impl All {
    fn of(found: &Found<'_>, bias_limit_s: f64) -> Self {
        let of = |index: &Option<usize>, numbers: &[f32], without: f32| index.map_or(without, |index| numbers[index]);
        let stroke: Vec<f32> = found.best.iter().map(|best| of(best, &found.odds, NO_ODDS)).collect();
        let first: Vec<f32> = found.first.iter().map(|first| of(first, &found.first_odds, NO_ODDS)).collect();
        let own = |number: usize| {
            let of = |best: &Option<usize>| best.map_or(-24.0, |best| found.described[best][number]);
            found.best.iter().map(of).collect::<Vec<f32>>()
        };
        let offs = found.first.iter().zip(found.plan.times_s());
        let off_s: Vec<Option<f64>> =
            offs.map(|(first, at)| first.map(|first| found.onsets[first].at_s - at)).collect();
        let likely = off_s.iter().zip(&found.worth).filter(|(_, worth)| **worth > -1.0);
        let mut likely: Vec<f64> = likely.filter_map(|(off, _)| *off).collect();
        let bias_s = median(&mut likely).unwrap_or(0.0).clamp(-bias_limit_s, bias_limit_s);
        let off_s: Vec<Option<f64>> = off_s.into_iter().map(|off| off.map(|off| off - bias_s)).collect();
        let mut apart: Vec<f64> = off_s.iter().flatten().map(|off| off.abs()).collect();
        Self {
            usual: middle(stroke.iter().copied()),
            weak: quantile(stroke.clone(), WEAK),
            usual_first: middle(first.iter().copied()),
            noise: noise(found),
            spread_s: median(&mut apart).unwrap_or(0.1),
            strength_db: own(2),
            gain_db: own(1),
            stroke,
            first,
            off_s,
        }
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "seconds and small counts")]
    fn describe(&self, found: &Found<'_>, index: usize, window_s: f64) -> [f32; SLOT_FEATURES] {
        let strokes = &found.plan.strokes;
        let stroke = &strokes[index];
        let off_s = self.off_s[index];
        let before = index.checked_sub(1);
        let after = Some(index + 1).filter(|after| *after < strokes.len());
        let gap = |from: usize, to: usize| (strokes[to].at_s - strokes[from].at_s) as f32;
        let apart =
            |index: Option<usize>| index.and_then(|index| self.off_s[index]).map_or(0.1, |off| off.abs() as f32);
        let worth = |index: Option<usize>| index.map_or(9.0, |index| found.worth[index]);
        let (rival, rival_off_s) = rival(found, index);
        let same = same(strokes, index);
        let beside = |own: &[f32]| own[index] - middle(same.iter().map(|index| own[*index]));
        let late_s = found.best[index]
            .zip(found.first[index])
            .map_or(0.0, |(best, first)| found.onsets[best].at_s - found.onsets[first].at_s);
        let onset: [f32; FEATURES] = found.best[index].map_or([NOTHING; FEATURES], |best| found.described[best]);
        [
            found.worth[index],
            self.stroke[index],
            found.second[index],
            self.first[index],
            rival,
            rival_off_s as f32,
            off_s.map_or(0.0, |off| off as f32),
            off_s.map_or(9.0, |off| (off.abs() / window_s) as f32),
            off_s.map_or(9.0, |off| (off.abs() - window_s) as f32),
            window_s as f32,
            stroke.slot_s as f32,
            before.map_or(1.0, |before| gap(before, index)),
            after.map_or(1.0, |after| gap(index, after)),
            kind(stroke),
            if stroke.direction == Direction::Down { 1.0 } else { 0.0 },
            if before.is_none_or(|before| strokes[before].shape != stroke.shape) { 1.0 } else { 0.0 },
            self.usual,
            self.weak,
            self.usual_first,
            self.noise,
            self.spread_s as f32,
            worth(before),
            worth(after),
            apart(before),
            apart(after),
            beside(&self.strength_db),
            beside(&self.gain_db),
            beside(&self.stroke),
            late_s as f32,
            found.onsets.len() as f32 / strokes.len() as f32,
            onset[0],
            onset[1],
            onset[2],
            onset[PARTIALS_NEW],
            onset[PARTIALS_NEW + 1],
            onset[SHARES_NEW],
            onset[SHARES_NEW + 1],
            onset[SHARES_NEW + 2],
        ]
    }
}

/// The likeliest other first string, and how much later it is, in seconds.
fn rival(found: &Found<'_>, index: usize) -> (f32, f64) {
    let Some(first) = found.first[index] else { return (NO_ODDS, 0.0) };
    let at_s = found.onsets[first].at_s;
    let from = found.onsets.partition_point(|onset| onset.at_s < at_s - NEAR_S);
    let end = found.onsets.partition_point(|onset| onset.at_s < at_s + NEAR_S);
    let others = (from..end).filter(|other| (found.onsets[*other].at_s - at_s).abs() > SAME_S);
    let best = others.max_by(|one, other| found.first_odds[*one].total_cmp(&found.first_odds[*other]));
    best.map_or((NO_ODDS, 0.0), |best| (found.first_odds[best], found.onsets[best].at_s - at_s))
}

/// The other strokes of the same kind and direction; all others where they are few.
fn same(strokes: &[PlannedStroke], index: usize) -> Vec<usize> {
    let here = &strokes[index];
    let others = || (0..strokes.len()).filter(|other| *other != index);
    let is_alike = |other: &usize| strokes[*other].direction == here.direction && kind(&strokes[*other]) == kind(here);
    let alike: Vec<usize> = others().filter(is_alike).collect();
    if alike.len() >= LEAST_USUAL {
        alike
    } else if strokes.len() == 1 {
        vec![index]
    } else {
        others().collect()
    }
}

/// How likely a stroke the likeliest of what is no part of one looks.
fn noise(found: &Found<'_>) -> f32 {
    let kept: Vec<f64> = found.best.iter().flatten().map(|best| found.onsets[*best].at_s).collect();
    let is_rest = |at_s: f64| kept.iter().all(|kept| (at_s - kept).abs() > found.longest_s);
    let rest = found.onsets.iter().zip(&found.odds).filter(|(onset, _)| is_rest(onset.at_s));
    let rest: Vec<f32> = rest.map(|(_, odds)| *odds).collect();
    if rest.len() > LEAST_USUAL { quantile(rest, NOISE) } else { NO_NOISE }
}

pub(super) fn kind(stroke: &PlannedStroke) -> f32 {
    match stroke.action {
        Action::Bass => 0.0,
        Action::Chuck => 1.0,
        _ => 2.0,
    }
}

/// The median, half-way between the two in the middle of an even number.
#[expect(clippy::cast_possible_truncation, reason = "log-odds and decibels")]
pub(super) fn middle(numbers: impl Iterator<Item = f32>) -> f32 {
    median(&mut numbers.map(f64::from).collect::<Vec<_>>()).unwrap_or(0.0) as f32
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "an index")]
pub(super) fn quantile(mut numbers: Vec<f32>, of: f64) -> f32 {
    numbers.sort_by(f32::total_cmp);
    numbers.get((of * numbers.len() as f64) as usize).copied().unwrap_or(0.0)
}
