//! What lies between the expected strokes, in numbers: whether it is a stroke nobody asked for.

use super::choose::{Found, LOOKED_AT_ODDS};
use super::features::{PARTIALS_NEW, SCORE_FROM, SHARES_NEW};
use super::slots::{NO_ODDS, middle, quantile};

/// How many numbers describe what may be a stroke nobody asked for.
pub const EXTRA_FEATURES: usize = 20;

/// A stroke may follow another within this share of the longest sweep: players are late and early.
const APART_OF_SWEEP: f64 = 0.5;
/// Strokes further away count as so far, in seconds.
const FAR_S: f64 = 2.0;

/// Describes what may be a stroke nobody asked for; with the index of its first string.
#[expect(clippy::cast_possible_truncation, reason = "seconds")]
pub(super) fn extra_features(found: &Found<'_>, is_played: &[bool]) -> Vec<(usize, [f32; EXTRA_FEATURES])> {
    let at_s = |index: usize| found.onsets[index].at_s;
    let kept = |of: &[Option<usize>]| {
        let kept = of.iter().zip(is_played).filter(|(_, played)| **played);
        kept.filter_map(|(index, _)| index.map(at_s)).collect::<Vec<f64>>()
    };
    let mut taken = kept(&found.best);
    taken.extend(kept(&found.first));
    taken.sort_by(f64::total_cmp);
    let usual = middle(found.best.iter().flatten().map(|best| found.odds[*best]));
    let usual = if found.best.iter().flatten().next().is_some() { usual } else { NO_ODDS };
    let common = quantile(found.odds.clone(), 0.5);
    let (from_s, to_s) = found.plan.reach_s();
    let likely = found.likely(LOOKED_AT_ODDS, APART_OF_SWEEP * found.longest_s, taken.clone());
    let describe = |index: &usize| {
        let first = found.first_string(*index);
        if !(from_s..to_s).contains(&at_s(first)) {
            return None;
        }
        let next = taken.partition_point(|taken| *taken < at_s(*index));
        let before_s = next.checked_sub(1).map_or(FAR_S, |before| at_s(*index) - taken[before]);
        let after_s = taken.get(next).map_or(FAR_S, |after| after - at_s(*index));
        let described = &found.described[*index];
        let odds = found.odds[*index];
        let row = [
            odds,
            found.first_odds[*index],
            found.first_odds[first],
            described[0],
            described[1],
            described[2],
            before_s.min(FAR_S) as f32,
            after_s.min(FAR_S) as f32,
            (before_s.min(after_s) / (before_s + after_s)) as f32,
            usual,
            odds - usual,
            common,
            described[SHARES_NEW],
            described[SHARES_NEW + 1],
            described[SHARES_NEW + 2],
            described[PARTIALS_NEW],
            described[PARTIALS_NEW + 1],
            described[SCORE_FROM],
            described[SCORE_FROM + 2],
            found.longest_s as f32,
        ];
        Some((first, row))
    };
    likely.iter().filter_map(describe).collect()
}
