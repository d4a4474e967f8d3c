//! Onsets and their log-odds to strums: at most one an expected stroke, and more evidence for one nobody asked for.

use std::ops::Range;

use sixrung_lesson::Action;

use super::features::strum_features;
use super::trees::{Asked, log_odds};
use crate::judge::offsets_s;
use crate::median::median;
use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::strums::{LARGEST_BIAS_S, Strum, cells, longest_sweep_s, strums as rises_alone};

/// Log-odds asked for where a stroke is expected, its nearness to that time counted in, and anywhere else. These and the
/// two below were chosen on the even takes of seeds 31000 to 34000, with trees grown on the odd ones: planted misses
/// taken for strokes stay below 5 in 100.
const EXPECTED_ODDS: f32 = -1.2;
const EXTRA_ODDS: f32 = 2.0;
/// Spread of a player's strokes around their time, in seconds, and the share of strokes that may lie anywhere: what
/// the nearness is worth.
const SPREAD_S: f64 = 0.035;
const ANYWHERE_SHARE: f64 = 0.05;

/// A first string is looked for before the likeliest one by at most a sweep, and this share of a slot: what lies
/// further back belongs to the stroke before.
const BACK_OF_SLOT: f64 = 0.25;
/// What is touched just before a strum can look likelier than its first string: so far after it is looked, in seconds.
const JUST_AFTER_S: f64 = 0.020;

/// The strums of a pass, by all that was kept of it.
pub(crate) fn choose(onsets: &[Onset], sound: &PassSound, plan: &PassPlan) -> Vec<Strum> {
    let described = strum_features(onsets, sound, plan);
    let odds: Vec<f32> = described.iter().map(|described| log_odds(Asked::Stroke, described)).collect();
    let first: Vec<f32> = described.iter().map(|described| log_odds(Asked::First, described)).collect();
    let longest_s = longest_sweep_s(plan);
    let slot_s = plan.strokes.iter().map(|stroke| stroke.slot_s).fold(f64::INFINITY, f64::min);
    let back_s = longest_s.min(BACK_OF_SLOT * slot_s);
    let sure = extras(onsets, &odds, &[], longest_s);
    let strums = |indices: &[usize]| {
        let first = |index: &usize| first_string(onsets, &first, *index, back_s);
        indices
            .iter()
            .map(|index| Strum { certain: odds[*index] >= EXTRA_ODDS, ..strum(onsets, first(index), longest_s) })
            .collect::<Vec<_>>()
    };
    let bias_s = median(&mut offsets_s(plan, &strums(&sure))).unwrap_or(0.0).clamp(-LARGEST_BIAS_S, LARGEST_BIAS_S);
    let expected = plan.times_s().map(|at| at + bias_s);
    let mut kept: Vec<usize> =
        cells(plan, bias_s).iter().zip(expected).filter_map(|(cell, at_s)| best(onsets, &odds, cell, at_s)).collect();
    kept.extend(extras(onsets, &odds, &kept, longest_s));
    kept.sort_unstable();
    kept.dedup();
    let mut found = strums(&kept);
    found.extend(chucks_by_rises(onsets, plan, bias_s, &found));
    found.sort_unstable_by(|one, other| one.at_s.total_cmp(&other.at_s));
    found
}

/// What rises alone make a strum where a chuck is expected and none was found: it has nothing that lasts to be known by.
fn chucks_by_rises(onsets: &[Onset], plan: &PassPlan, bias_s: f64, found: &[Strum]) -> Vec<Strum> {
    let others = rises_alone(onsets, plan);
    let cells = cells(plan, bias_s);
    let is_in = |strum: &&Strum, cell: &Range<f64>| cell.contains(&strum.at_s);
    let chucks = cells.iter().zip(&plan.strokes).filter(|(_, stroke)| stroke.action == Action::Chuck);
    let missing = chucks.filter(|(cell, _)| !found.iter().any(|strum| is_in(&strum, cell)));
    let steepest = |cell: &Range<f64>| {
        let inside = others.iter().filter(|strum| is_in(strum, cell));
        inside.max_by(|one, other| one.rise_db.total_cmp(&other.rise_db)).copied()
    };
    missing.filter_map(|(cell, _)| steepest(cell)).collect()
}

/// The likeliest onset of a cell, if it is likely enough.
fn best(onsets: &[Onset], odds: &[f32], cell: &Range<f64>, at_s: f64) -> Option<usize> {
    let first = onsets.partition_point(|onset| onset.at_s < cell.start);
    let end = onsets.partition_point(|onset| onset.at_s < cell.end).max(first);
    let worth = |index: usize| odds[index] + nearness(onsets[index].at_s - at_s);
    let best = (first..end).max_by(|one, other| worth(*one).total_cmp(&worth(*other)))?;
    (worth(best) >= EXPECTED_ODDS).then_some(best)
}

#[expect(clippy::cast_possible_truncation, reason = "a logarithm")]
fn nearness(off_s: f64) -> f32 {
    let near = (-(off_s / SPREAD_S).powi(2) / 2.0).exp();
    (ANYWHERE_SHARE + (1.0 - ANYWHERE_SHARE) * near).ln() as f32
}

/// Likely onsets that belong to none of `kept`, the likeliest first, each taking its surroundings.
fn extras(onsets: &[Onset], odds: &[f32], kept: &[usize], longest_s: f64) -> Vec<usize> {
    let mut likely: Vec<usize> = (0..onsets.len()).filter(|index| odds[*index] >= EXTRA_ODDS).collect();
    likely.sort_by(|one, other| odds[*other].total_cmp(&odds[*one]));
    let mut taken: Vec<f64> = kept.iter().map(|index| onsets[*index].at_s).collect();
    likely.retain(|index| {
        let at_s = onsets[*index].at_s;
        let free = taken.iter().all(|other| (at_s - other).abs() > longest_s);
        if free {
            taken.push(at_s);
        }
        free
    });
    likely.sort_unstable();
    likely
}

/// The likeliest first string of the strum an onset is part of: a little before it, or just after.
fn first_string(onsets: &[Onset], first: &[f32], index: usize, back_s: f64) -> usize {
    let at_s = onsets[index].at_s;
    let from = onsets.partition_point(|onset| onset.at_s < at_s - back_s);
    let end = onsets.partition_point(|onset| onset.at_s <= at_s + JUST_AFTER_S);
    (from..end).max_by(|one, other| first[*one].total_cmp(&first[*other])).unwrap_or(index)
}

/// An onset and the strings that follow it.
fn strum(onsets: &[Onset], index: usize, longest_s: f64) -> Strum {
    let first = onsets[index];
    let strings = || onsets[index..].iter().take_while(|onset| onset.at_s - first.at_s <= longest_s);
    let most = |of: fn(&Onset) -> f32| strings().map(of).fold(f32::MIN, f32::max);
    Strum {
        at_s: first.at_s,
        strength_db: most(|onset| onset.strength_db),
        rise_db: most(|onset| onset.rise_db),
        gain_db: most(|onset| onset.gain_db),
        certain: false,
    }
}
