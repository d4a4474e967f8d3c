//! Whether a pass could be heard well enough to judge.

use crate::level::Moment;
use crate::plan::PassPlan;
use crate::strums::Strum;
use crate::verdict::Reason;

/// So large a share of cut-off samples is an overdriven input.
const OVERDRIVEN_SHARE: f32 = 0.005;
/// Below this the loudest moment of a pass is silence, in decibels re full scale.
const SILENCE_BELOW_DB: f32 = -75.0;

/// What is known of the input over one pass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Quality {
    /// Its moments, by time.
    pub moments: Vec<Moment>,
}

impl Quality {
    /// Why this pass can't be judged, if it can't.
    #[must_use]
    pub fn objection(&self, plan: &PassPlan, strums: &[Strum]) -> Option<Reason> {
        let last = plan.strokes.last()?;
        let needed_s = plan.starts_s + last.at_s + last.slot_s / 2.0;
        let moments = &self.moments;
        let loudest = moments.iter().map(|moment| moment.level_db).fold(f32::MIN, f32::max);
        #[expect(clippy::cast_precision_loss, reason = "a share")]
        let clipped = moments.iter().map(|moment| moment.clipped).sum::<f32>() / moments.len().max(1) as f32;
        if moments.iter().any(|moment| moment.bad) {
            Some(Reason::BadSamples)
        } else if moments.iter().any(|moment| moment.gap) {
            Some(Reason::Gap)
        } else if moments.last().is_none_or(|moment| moment.end_s < needed_s) {
            Some(Reason::TooShort)
        } else if clipped > OVERDRIVEN_SHARE {
            Some(Reason::Clipped)
        } else if loudest < SILENCE_BELOW_DB || strums.is_empty() {
            Some(Reason::Silence)
        } else {
            None
        }
    }
}
