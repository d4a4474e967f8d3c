//! Onsets and the score to strums: one strum a slot, and more evidence for one nobody asked for.

use crate::onset::Onset;
use crate::plan::PassPlan;

/// Strings of one strum follow each other within this. Sweeps of real strums: median 17 ms, 90 % below 41 ms (12,619
/// strums of an open data set, third-party note); slow beginners' sweeps are twice that.
const LONGEST_SWEEP_S: f64 = 0.085;
/// And never longer than this share of a slot, so that fast sixteenths stay apart.
const LONGEST_SWEEP_OF_SLOT: f64 = 0.6;
/// The next string of a sweep follows within this.
const LONGEST_STEP_S: f64 = 0.040;
/// Parts of a strum weaker than this beside its strongest are something else. Tuned on generated takes, seeds 0–143.
const WEAKEST_PART_DB: f32 = 12.0;
/// And parts that rise less than this are ripples of what rings on, when a stronger one follows. Tuned with it.
const LEAST_PART_RISE_DB: f32 = 4.0;
/// A strum where one is expected may be so much weaker than the pass's usual one, a strum elsewhere only so much.
/// Tuned with it.
const WEAKEST_EXPECTED_DB: f32 = 15.0;
const WEAKEST_EXTRA_DB: f32 = 9.0;
/// And it rises by so much out of what rings on. Tuned with it.
const LEAST_EXPECTED_RISE_DB: f32 = 3.5;
const LEAST_EXTRA_RISE_DB: f32 = 8.0;

/// One strum, heard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strum {
    /// When its first string sounded, in seconds on the take's clock.
    pub at_s: f64,
    /// Power of its strongest part, in decibels re full scale.
    pub strength_db: f32,
    /// Its steepest rise out of what rang on, in decibels.
    pub rise_db: f32,
    /// Whether it is strong enough to count where nobody asked for it.
    pub certain: bool,
}

/// Groups the onsets of one pass into strums and drops what is too weak beside the rest.
#[must_use]
pub fn strums(onsets: &[Onset], plan: &PassPlan) -> Vec<Strum> {
    let slot_s = plan.strokes.iter().map(|stroke| stroke.slot_s).fold(f64::INFINITY, f64::min);
    let mut found = sweeps(onsets, LONGEST_SWEEP_S.min(LONGEST_SWEEP_OF_SLOT * slot_s));
    let Some(usual_db) = usual_strength_db(&found, plan) else { return Vec::new() };
    found
        .retain(|strum| strum.strength_db >= usual_db - WEAKEST_EXPECTED_DB && strum.rise_db >= LEAST_EXPECTED_RISE_DB);
    for strum in &mut found {
        strum.certain = strum.strength_db >= usual_db - WEAKEST_EXTRA_DB && strum.rise_db >= LEAST_EXTRA_RISE_DB;
    }
    found
}

fn sweeps(onsets: &[Onset], longest_s: f64) -> Vec<Strum> {
    let mut found = Vec::new();
    let mut rest = onsets;
    while let Some(first) = rest.first() {
        let mut length = 1;
        while length < rest.len()
            && rest[length].at_s - first.at_s <= longest_s
            && rest[length].at_s - rest[length - 1].at_s <= LONGEST_STEP_S
        {
            length += 1;
        }
        let (sweep, after) = rest.split_at(length);
        let strength_db = sweep.iter().map(|onset| onset.strength_db).fold(f32::MIN, f32::max);
        let rise_db = sweep.iter().map(|onset| onset.rise_db).fold(0.0, f32::max);
        let at_s = sweep
            .iter()
            .find(|onset| {
                onset.strength_db >= strength_db - WEAKEST_PART_DB && onset.rise_db >= rise_db.min(LEAST_PART_RISE_DB)
            })
            .map_or(first.at_s, |onset| onset.at_s);
        found.push(Strum { at_s, strength_db, rise_db, certain: false });
        rest = after;
    }
    found
}

/// Median over the expected strokes of the strongest strum nearer to each than to any other.
fn usual_strength_db(found: &[Strum], plan: &PassPlan) -> Option<f32> {
    let times: Vec<f64> = plan.times_s().collect();
    let mut strongest: Vec<f32> = Vec::with_capacity(times.len());
    for (index, time) in times.iter().enumerate() {
        let from = index.checked_sub(1).map_or(f64::NEG_INFINITY, |before| (times[before] + time) / 2.0);
        let to = times.get(index + 1).map_or(f64::INFINITY, |after| (after + time) / 2.0);
        let inside = found.iter().filter(|strum| (from..to).contains(&strum.at_s));
        strongest.extend(inside.map(|strum| strum.strength_db).reduce(f32::max));
    }
    crate::median::median_f32(&mut strongest)
}
