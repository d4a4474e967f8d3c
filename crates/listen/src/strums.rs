//! Onsets and the score to strums: one strum a slot, and more evidence for one nobody asked for.

use std::ops::Range;

use crate::judge::offsets_s;
use crate::median::{median, median_f32};
use crate::onset::Onset;
use crate::plan::PassPlan;

/// Strings of one strum follow each other within this. Sweeps of real strums: median 17 ms, 90 % below 41 ms (12,619
/// strums of an open data set, third-party note); slow beginners' sweeps are twice that.
const LONGEST_SWEEP_S: f64 = 0.085;
/// And never longer than this share of a slot, so that fast sixteenths stay apart.
const LONGEST_SWEEP_OF_SLOT: f64 = 0.6;
/// The next string of a sweep follows within this: twice a slow string-to-string time of 15 ms and a little,
/// for one string unheard.
const LONGEST_STEP_S: f64 = 0.035;
/// Parts of a strum weaker than this beside its strongest are something else. Tuned, like all decibels below, on takes
/// made with fluidsynth (seeds 77, 500 and 991 of the generator among our tests).
const WEAKEST_PART_DB: f32 = 12.0;
/// Parts that rise less than this are ripples of what rings on, when a stronger one follows.
const LEAST_PART_RISE_DB: f32 = 4.0;
const LEAST_PART_GAIN_DB: f32 = 3.0;
/// A first string this much weaker than its strum counts when it rises as clearly as `CLEAR_RISE_DB`.
const WEAKEST_FIRST_STRING_DB: f32 = 25.0;
const CLEAR_RISE_DB: f32 = 8.0;
/// Evidence for a strum: by how much the unexplained sound lastingly gains, less half of what the strum lacks of the
/// pass's usual strength. So much is asked for where one is expected, so much elsewhere. Weights and limits by logistic
/// regression on the cells of played and planted missed strokes.
const EXPECTED_EVIDENCE_DB: f32 = -1.0;
const EXTRA_EVIDENCE_DB: f32 = 5.0;
/// And a strum nobody asked for begins more suddenly than ripples of what rings on do.
const EXTRA_RISE_DB: f32 = 5.0;
/// A strum so much weaker than the next, right before it, only prepares it.
const PREPARATION_BELOW_DB: f32 = 6.0;
/// A strum that rises so much sets what is usual in a pass. Noise alone, averaged over 4 against 12 ms at 8 kHz, rises
/// by 1.3 dB (standard deviation of a ratio of χ² sums): 6 dB comes once in many minutes of it.
pub(crate) const LEAST_USUAL_RISE_DB: f32 = 6.0;

/// A player's bias beyond this is no habit: the widest limit of the window rule.
pub(crate) const LARGEST_BIAS_S: f64 = 0.050;

/// One strum, heard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strum {
    /// When its first string sounded, in seconds on the take's clock.
    pub at_s: f64,
    /// Power of its strongest part, in decibels re full scale.
    pub strength_db: f32,
    /// Its steepest rise out of what rang on, in decibels.
    pub rise_db: f32,
    /// The largest rise that lasts, in decibels.
    pub gain_db: f32,
    /// Whether it is strong enough to count where nobody asked for it.
    pub certain: bool,
}

/// Groups the onsets of one pass into strums, drops what is too weak beside the rest, and where a stroke is expected
/// keeps a doubtful one only when there is no better.
#[must_use]
pub fn strums(onsets: &[Onset], plan: &PassPlan) -> Vec<Strum> {
    let longest_s = longest_sweep_s(plan);
    let mut found = sweeps(onsets, longest_s);
    let Some(usual_db) = usual_strength_db(&found, &cells(plan, 0.0)) else { return Vec::new() };
    drop_preparations(&mut found, longest_s);
    let evidence_db = |strum: &Strum| strum.gain_db + (strum.strength_db - usual_db) / 2.0;
    found.retain(|strum| evidence_db(strum) >= EXPECTED_EVIDENCE_DB);
    for strum in &mut found {
        strum.certain = evidence_db(strum) >= EXTRA_EVIDENCE_DB && strum.rise_db >= EXTRA_RISE_DB;
    }
    let mut kept: Vec<Strum> = found.iter().filter(|strum| strum.certain).copied().collect();
    let bias_s = median(&mut offsets_s(plan, &kept)).unwrap_or(0.0).clamp(-LARGEST_BIAS_S, LARGEST_BIAS_S);
    kept.extend(cells(plan, bias_s).iter().filter_map(|cell| best_doubtful(&found, cell)));
    kept.sort_unstable_by(|one, other| one.at_s.total_cmp(&other.at_s));
    kept
}

/// How long a strum of this pass may last, in seconds.
pub(crate) fn longest_sweep_s(plan: &PassPlan) -> f64 {
    let slot_s = plan.strokes.iter().map(|stroke| stroke.slot_s).fold(f64::INFINITY, f64::min);
    LONGEST_SWEEP_S.min(LONGEST_SWEEP_OF_SLOT * slot_s)
}

/// Fingers and pick touch the strings before a stroke: a weak strum right before a far stronger one is no strum.
fn drop_preparations(found: &mut Vec<Strum>, within_s: f64) {
    let next: Vec<Option<Strum>> = (1..=found.len()).map(|index| found.get(index).copied()).collect();
    let mut next = next.into_iter();
    found.retain(|strum| {
        let after = next.next().flatten();
        after.is_none_or(|after| {
            after.at_s - strum.at_s > within_s || after.strength_db - strum.strength_db < PREPARATION_BELOW_DB
        })
    });
}

/// Where each stroke is looked for: half-way to its neighbours, all moved by the player's bias.
pub(crate) fn cells(plan: &PassPlan, bias_s: f64) -> Vec<Range<f64>> {
    let times: Vec<f64> = plan.times_s().map(|time| time + bias_s).collect();
    let cell = |(index, time): (usize, &f64)| {
        let from = index.checked_sub(1).map_or(f64::NEG_INFINITY, |before| f64::midpoint(times[before], *time));
        let to = times.get(index + 1).map_or(f64::INFINITY, |after| f64::midpoint(*after, *time));
        from.max(time - plan.strokes[index].slot_s)..to.min(time + plan.strokes[index].slot_s)
    };
    times.iter().enumerate().map(cell).collect()
}

/// The most lasting strum of a cell that holds none that is certain.
fn best_doubtful(found: &[Strum], cell: &Range<f64>) -> Option<Strum> {
    let inside = || found.iter().filter(|strum| cell.contains(&strum.at_s));
    if inside().any(|strum| strum.certain) {
        return None;
    }
    inside().copied().max_by(|one, other| one.gain_db.total_cmp(&other.gain_db))
}

pub(crate) fn sweeps(onsets: &[Onset], longest_s: f64) -> Vec<Strum> {
    let mut found = Vec::new();
    let mut rest = onsets;
    while let Some(first) = rest.first() {
        let mut length = 1;
        while length < rest.len()
            && rest[length].at_s - first.at_s <= longest_s
            && (rest[length].at_s - rest[length - 1].at_s <= LONGEST_STEP_S
                || rest[length].rise_db < LEAST_USUAL_RISE_DB)
        {
            length += 1;
        }
        let (sweep, after) = rest.split_at(length);
        let (strum, begins) = strum_of(sweep);
        // A ripple before the first string must not cost the sweep its last ones: begin again where it begins.
        if begins > 0 {
            rest = &rest[begins..];
            continue;
        }
        found.push(strum);
        rest = after;
    }
    found
}

/// A sweep as one strum, and which of its onsets is the first string.
fn strum_of(sweep: &[Onset]) -> (Strum, usize) {
    let strength_db = sweep.iter().map(|onset| onset.strength_db).fold(f32::MIN, f32::max);
    let rise_db = sweep.iter().map(|onset| onset.rise_db).fold(0.0, f32::max);
    let gain_db = sweep.iter().map(|onset| onset.gain_db).fold(f32::MIN, f32::max);
    let is_string = |onset: &Onset| {
        let part = if onset.rise_db >= CLEAR_RISE_DB { WEAKEST_FIRST_STRING_DB } else { WEAKEST_PART_DB };
        onset.strength_db >= strength_db - part
            && onset.rise_db >= rise_db.min(LEAST_PART_RISE_DB)
            && onset.gain_db >= gain_db.min(LEAST_PART_GAIN_DB)
    };
    let begins = sweep.iter().position(is_string).unwrap_or(0);
    (Strum { at_s: sweep[begins].at_s, strength_db, rise_db, gain_db, certain: false }, begins)
}

/// Median over the expected strokes of the strongest clear strum in the cell of each.
fn usual_strength_db(found: &[Strum], cells: &[Range<f64>]) -> Option<f32> {
    let strongest = |cell: &Range<f64>| {
        let inside = found.iter().filter(|strum| cell.contains(&strum.at_s) && strum.rise_db >= LEAST_USUAL_RISE_DB);
        inside.map(|strum| strum.strength_db).reduce(f32::max)
    };
    median_f32(&mut cells.iter().filter_map(strongest).collect::<Vec<_>>())
}
