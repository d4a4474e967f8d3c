//! Strokes as they come, at any pace: there is no score to say where to look for them.

use super::ring::rise_db;
use crate::median::median_f32;
use crate::onset::Onset;
use crate::sound::PassSound;
use crate::strums::{LEAST_USUAL_RISE_DB, Strum, sweeps};

/// Strings of a slow stroke follow each other within this, in seconds: as for any strum.
const LONGEST_SWEEP_S: f64 = 0.085;
/// Strokes lie further apart than this, in seconds: as in the learning step.
const CLOSEST_S: f64 = 0.18;
/// So long after a stroke began it is known that it was one, in seconds: whatever comes within the closest has swept.
pub(super) const KNOWN_AFTER_S: f64 = CLOSEST_S + LONGEST_SWEEP_S + 0.005;
/// A stroke rises and lasts by at least so much, in decibels, and what lasts makes up for what it lacks of the usual
/// strength, a decibel for two: as in the learning step.
const LEAST_RISE_DB: f32 = 4.0;
const LEAST_GAIN_DB: f32 = 3.0;
const LEAST_EVIDENCE_DB: f32 = 0.5;
const WEAKEST_DB: f32 = 25.0;
/// The usual strength is the median of so many strokes before.
const USUAL_OF: usize = 8;
/// Where the whole sound falls by so much, in decibels, nothing was struck; and what is so much weaker than usual is a
/// stroke only where the sound rises by at least so much. Of 1,498 strokes of change drills (seed 71000) none falls by 3
/// or is weaker by 8; of 14 other onsets, mostly of fingers that leave the strings, none is weaker by less than 9.
const FALLS_DB: f32 = -3.0;
const WEAK_DB: f32 = 9.0;
const RISES_DB: f32 = 3.0;
/// What disturbs the sound of a stroke rises so clearly and is no weaker than this beside it, in decibels.
const DISTURBS_DB: f32 = 20.0;

/// Finds strokes among onsets. What it says of a stroke depends on what came up to [`KNOWN_AFTER_S`] after it alone.
#[derive(Debug, Default)]
pub(super) struct Strokes {
    onsets: Vec<Onset>,
    /// Strength of the strokes before, in decibels, the newest last.
    strengths_db: Vec<f32>,
}

impl Strokes {
    pub(super) fn with_room() -> Self {
        Self { onsets: Vec::with_capacity(1024), strengths_db: Vec::with_capacity(USUAL_OF + 1) }
    }

    /// Takes in onsets, by time.
    pub(super) fn take_in(&mut self, onsets: &[Onset]) {
        self.onsets.extend_from_slice(onsets);
    }

    /// The next stroke at or after `from_s`, if it began so long before `settled_s` that it is known.
    pub(super) fn next(&mut self, sound: &PassSound, from_s: f64, settled_s: f64) -> Option<Strum> {
        let mut from_s = from_s;
        loop {
            let begin = self.onsets.partition_point(|onset| onset.at_s < from_s);
            let first_s = self.onsets.get(begin)?.at_s;
            let until_s = first_s + KNOWN_AFTER_S;
            if until_s > settled_s {
                return None;
            }
            let end = self.onsets.partition_point(|onset| onset.at_s <= until_s);
            if !self.onsets[begin..end].iter().any(may_be_of_a_stroke) {
                from_s = first_s + CLOSEST_S;
                self.forget_before(from_s);
                continue;
            }
            let found = sweeps(&self.onsets[begin..end], LONGEST_SWEEP_S);
            let Some(first) = found.iter().find(|strum| self.is_stroke(sound, strum)) else {
                from_s = first_s + CLOSEST_S;
                self.forget_before(from_s);
                continue;
            };
            if first.at_s > first_s {
                // What comes before it was none: it may be followed by a stronger one that is not yet known.
                from_s = first.at_s;
                self.forget_before(from_s);
                continue;
            }
            // The stronger of two so close is the stroke, the other a touch before or a ripple after it.
            let stronger = found.iter().skip(1).take_while(|strum| strum.at_s - first.at_s < CLOSEST_S);
            let stronger = stronger
                .filter(|strum| self.is_stroke(sound, strum))
                .find(|strum| strum.strength_db > first.strength_db + 3.0);
            if let Some(stronger) = stronger {
                from_s = stronger.at_s;
                self.forget_before(from_s);
                continue;
            }
            let first = *first;
            if self.strengths_db.len() == USUAL_OF {
                self.strengths_db.remove(0);
            }
            self.strengths_db.push(first.strength_db);
            return Some(first);
        }
    }

    /// When the sound of a stroke is first disturbed within these times, in seconds.
    pub(super) fn disturbed_s(&self, stroke: &Strum, from_s: f64, to_s: f64) -> Option<f64> {
        let disturbs = |onset: &&Onset| {
            (from_s..to_s).contains(&onset.at_s)
                && onset.rise_db >= LEAST_USUAL_RISE_DB
                && onset.strength_db >= stroke.strength_db - DISTURBS_DB
        };
        self.onsets.iter().find(disturbs).map(|onset| onset.at_s)
    }

    /// Drops onsets before a time, in seconds.
    pub(super) fn forget_before(&mut self, at_s: f64) {
        self.onsets.retain(|onset| onset.at_s >= at_s);
    }

    fn is_stroke(&self, sound: &PassSound, strum: &Strum) -> bool {
        let usual_db = median_f32(&mut self.strengths_db.clone()).unwrap_or(strum.strength_db);
        let below_db = (usual_db - strum.strength_db).max(0.0);
        let rise_db = rise_db(sound, strum.at_s);
        strum.rise_db >= LEAST_RISE_DB
            && strum.gain_db >= LEAST_GAIN_DB
            && below_db <= WEAKEST_DB
            && strum.gain_db - below_db / 2.0 >= LEAST_EVIDENCE_DB
            && rise_db > FALLS_DB
            && (below_db < WEAK_DB || rise_db >= RISES_DB)
    }

    /// Where the stroke after one at `at_s` may begin at the earliest, in seconds.
    pub(super) fn after_s(at_s: f64) -> f64 {
        at_s + CLOSEST_S
    }
}

/// Whether an onset rises and lasts as a stroke's strongest does.
fn may_be_of_a_stroke(onset: &Onset) -> bool {
    onset.rise_db >= LEAST_RISE_DB && onset.gain_db >= LEAST_GAIN_DB
}
