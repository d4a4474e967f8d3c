//! Whether what is left of a pass is the player's, or still ours.

use super::fit::{Others, Pair};
use crate::median::median;
use crate::sound::PassSound;

/// A strum so far below what was taken off under it is its remains, in decibels: of clicks and strums some 15 dB are
/// removed, and who plays beside us so much weaker than we are heard can't be told from them.
const LEAST_ABOVE_REMOVED_DB: f64 = -8.0;
/// Of what is left of a pass so large a share may still be ours: a quarter is 5 dB under the player.
const LARGEST_SHARE: f64 = 0.25;

/// How much of our own sound is left in a pass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Leftover {
    /// The share of what is left that a path from what was played explains, 0 to 1: found in one half of the pass,
    /// measured on the other.
    pub share: f64,
    /// How far the strums heard stand above what was taken off under them, in decibels; `None` when nothing was.
    pub above_removed_db: Option<f64>,
}

/// At most so much of a pass is looked at, in seconds.
const LONGEST_S: f64 = 15.0;
/// Length of the path looked for, in seconds: most of what a room returns, and few enough taps not to explain a player
/// by chance.
const PATH_S: f64 = 0.100;
/// The pass is dealt into two halves by turns of so many seconds: a chord or two each.
const TURN_S: f64 = 1.5;
/// A strum's own sound, in seconds: as an onset's strength is measured.
const STRUM_S: f64 = 0.024;
/// Below this nothing was played: −80 dB re full scale, as a power.
const SILENCE: f64 = 1e-8;

impl Leftover {
    /// Whether what is left may be our own sound rather than the player's.
    #[must_use]
    pub fn may_be_ours(&self) -> bool {
        self.share > LARGEST_SHARE || self.above_removed_db.is_some_and(|above| above < LEAST_ABOVE_REMOVED_DB)
    }
}

/// A pass's sound, and what of it we played ourselves.
#[derive(Clone, Copy)]
pub(crate) struct Beside<'a> {
    pub(crate) heard: &'a PassSound,
    pub(crate) played: &'a PassSound,
    pub(crate) removed: &'a PassSound,
}

impl Beside<'_> {
    /// What of the sound is ours. `None` when it is not known what was played over all of it, or it was silence.
    pub(crate) fn leftover(&self, strums_s: &[f64]) -> Option<Leftover> {
        let Self { heard, played, .. } = *self;
        if played.samples.len() != heard.samples.len() || heard.samples.is_empty() {
            return None;
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of samples")]
        let length = heard.samples.len().min((LONGEST_S * heard.rate) as usize);
        let played = &played.samples[..length];
        #[expect(clippy::cast_precision_loss, reason = "a count")]
        let power = played.iter().map(|sample| f64::from(*sample).powi(2)).sum::<f64>() / length as f64;
        if power.is_nan() || power < SILENCE {
            return None;
        }
        let share = explained(&Pair::new(&heard.samples[..length], played, heard.rate));
        let mut above: Vec<f64> = strums_s.iter().filter_map(|at_s| self.above_removed_db(*at_s)).collect();
        Some(Leftover { share, above_removed_db: median(&mut above) })
    }

    /// Whether a strum is no more than the remains of ours.
    pub(crate) fn is_remains(&self, at_s: f64) -> bool {
        self.above_removed_db(at_s).is_some_and(|above| above < LEAST_ABOVE_REMOVED_DB)
    }

    /// How far a strum stands above what was taken off under it.
    fn above_removed_db(&self, at_s: f64) -> Option<f64> {
        if self.removed.samples.len() != self.heard.samples.len() {
            return None;
        }
        let bright = |sound: &PassSound| {
            let strum = sound.between(at_s, at_s + STRUM_S);
            strum.windows(2).map(|pair| f64::from(pair[1] - pair[0]).powi(2)).sum::<f64>() + 1e-12
        };
        Some(10.0 * (bright(self.heard) / bright(self.removed)).log10())
    }
}

/// The share of what is heard that what is played explains, by a path found in the other half. What is found by chance
/// in one half agrees with nothing in the other: the mean is that of our own sound alone.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "samples")]
fn explained(pair: &Pair) -> f64 {
    let count = (PATH_S * pair.rate) as usize;
    let turn = ((TURN_S * pair.rate) as usize).max(1);
    let lag = pair.lag();
    let (mut alike, mut all) = (0.0, 0.0);
    for half in 0..2 {
        let is_learned = |index: usize| (index / turn) % 2 == half;
        let dealt = |(index, sample): (usize, &f64)| if is_learned(index) { *sample } else { 0.0 };
        let learned = Pair {
            rate: pair.rate,
            heard: pair.heard.iter().enumerate().map(dealt).collect(),
            played: pair.played.iter().enumerate().map(dealt).collect(),
        };
        let own = pair.along(&learned.fit(lag, count, 0, Others::Keep).taps, lag);
        for (index, (heard, own)) in pair.heard.iter().zip(own).enumerate() {
            if !is_learned(index) {
                alike += heard * own;
                all += heard * heard;
            }
        }
    }
    if all > 0.0 { (alike / all).clamp(0.0, 1.0) } else { 0.0 }
}
