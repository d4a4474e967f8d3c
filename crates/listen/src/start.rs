//! Where in a recording the first pass begins.

use crate::judge::offsets_s;
use crate::median::median;
use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::shift::Fits;
use crate::strums::strums;
use crate::verdict::Reason;

/// The best place must explain this much of a stroke more than any other. On an even pattern the place one slot on
/// explains exactly one stroke less, so half a stroke tells them apart unless the player left out the first.
const LEAD_STROKES: f64 = 0.35;
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
    if rival.is_some_and(|rival| rival.strokes + LEAD_STROKES > best.strokes) {
        return Err(Reason::StartUnclear);
    }
    let placed = plans.iter().map(|plan| plan.starting_at(plan.starts_s + best.shift_s));
    let mut offsets: Vec<f64> = placed.flat_map(|plan| offsets_s(&plan, &strums(onsets, &plan))).collect();
    Ok(best.shift_s + median(&mut offsets).unwrap_or(0.0) - latency_s)
}
