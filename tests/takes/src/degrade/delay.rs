//! A delay that changes.

use crate::dice::Dice;
use crate::level::narrow;
use crate::synth::RATE;

/// The crossing from one delay to the next, in frames: 5 ms.
const CROSSING: usize = 240;

/// Every 1.5 to 4 s another delay, from 0 to 120 ms, 20 to 70 ms away from the last: a buffer that fills and is emptied.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "minutes of frames")]
pub(super) fn wander(take: &[f32], dice: &mut Dice) -> Vec<f32> {
    let frames = |seconds: f64| (seconds * f64::from(RATE)) as usize;
    let mut sound = Vec::with_capacity(take.len());
    let mut delay_s: f64 = dice.between(0.0, 0.12);
    let mut from = 0;
    while from < take.len() {
        let to = (from + frames(dice.between(1.5, 4.0))).min(take.len());
        let last = frames(delay_s);
        if from > 0 {
            let step = dice.between(0.020, 0.070);
            let up = if delay_s + step > 0.12 { false } else { delay_s < step || dice.chance(0.5) };
            delay_s += if up { step } else { -step };
        }
        let next = frames(delay_s.max(0.0));
        for index in from..to {
            let at = |delay: usize| index.checked_sub(delay).map_or(0.0, |index| take[index]);
            #[expect(clippy::cast_precision_loss, reason = "a share")]
            let share = narrow(((index - from) as f64 / CROSSING as f64).min(1.0));
            sound.push(share * at(next) + (1.0 - share) * at(last));
        }
        from = to;
    }
    sound
}
