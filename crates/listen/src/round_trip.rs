//! The lag between what is played out and what comes back, when nobody has measured it yet.

use crate::judge::offsets_s;
use crate::median::{median, spread};
use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::shift::Fits;
use crate::strums::strums;

/// Round trips looked for, in seconds: a player may lead, a wireless headset lags by up to 0.3 s (common practice, no
/// source).
const RANGE_S: (f64, f64) = (-0.050, 0.500);
/// A rival shift this far away or more is another one.
const SAME_S: f64 = 0.060;

/// A round trip, found from one pass of playing along.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoundTrip {
    /// What the microphone lags behind the output clock, in seconds, the player's own bias included: playing along
    /// can't tell the two apart.
    pub lag_s: f64,
    /// Spread of the strokes around it, in milliseconds.
    pub spread_ms: f64,
    /// How far this shift is ahead of the next best, 0 to 1.
    pub confidence: f64,
}

/// Finds the constant lag under which a whole pass fits best; `None` when nothing fits.
#[must_use]
pub fn find_round_trip(plan: &PassPlan, onsets: &[Onset]) -> Option<RoundTrip> {
    let expected: Vec<f64> = plan.times_s().collect();
    let fits = Fits::new(&expected, onsets, RANGE_S);
    let best = fits.best()?;
    let rival = fits.best_elsewhere(best.shift_s, SAME_S).map_or(0.0, |fit| fit.strokes);
    let placed = plan.starting_at(plan.starts_s + best.shift_s);
    let mut offsets = offsets_s(&placed, &strums(onsets, &placed));
    let off_s = median(&mut offsets)?;
    let spread_ms = spread(&offsets, off_s)? * 1000.0;
    Some(RoundTrip { lag_s: best.shift_s + off_s, spread_ms, confidence: (1.0 - rival / best.strokes).clamp(0.0, 1.0) })
}
