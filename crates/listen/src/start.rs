//! Where in a recording the first pass begins.

use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::shift::{Fit, Fits};
use crate::verdict::Reason;

/// A second place that explains the recording so nearly as well makes the start unclear. A design choice of ours.
const ALIKE: f64 = 0.97;
/// Places nearer together than this are one, in seconds.
const SAME_PLACE_S: f64 = 0.060;

/// Finds bar 1 beat 1 of the first pass, in seconds on the take's clock, from all onsets of the take.
///
/// # Errors
/// `Silence` when there are no onsets, `StartUnclear` when two places fit alike.
pub(crate) fn find_start(plans: &[PassPlan], onsets: &[Onset], latency_s: f64) -> Result<f64, Reason> {
    let expected: Vec<f64> = plans.iter().flat_map(PassPlan::times_s).collect();
    let fits = Fits::new(&expected, onsets, (f64::NEG_INFINITY, f64::INFINITY));
    let Some(best) = fits.best() else { return Err(Reason::Silence) };
    let rival = fits.best_elsewhere(best.shift_s, SAME_PLACE_S);
    if rival.is_some_and(|rival: Fit| rival.score >= ALIKE * best.score) {
        return Err(Reason::StartUnclear);
    }
    Ok(best.shift_s - latency_s)
}
