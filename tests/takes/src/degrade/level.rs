//! Automatic gain, and an overdriven input.

use std::ops::Range;

use crate::dice::Dice;
use crate::level::{db, narrow};
use crate::synth::RATE;

/// Automatic gain: towards a level of −20 to −12 dB full scale, by at most 20 to 34 dB; down within some tens of
/// milliseconds, up by 20 to 50 dB a second.
pub(super) fn level(take: &[f32], dice: &mut Dice) -> Vec<f32> {
    let target = db(dice.between(-20.0, -12.0));
    let most = db(dice.between(20.0, 34.0));
    let up = db(dice.between(20.0, 50.0) / f64::from(RATE));
    let down = narrow((-1.0 / (dice.between(0.010, 0.040) * f64::from(RATE))).exp());
    let follows = narrow((-1.0 / (0.015 * f64::from(RATE))).exp());
    let (mut power, mut gain) = (1e-6_f32, 1.0_f32);
    let mut sound = Vec::with_capacity(take.len());
    for sample in take {
        power = (follows * power).max(0.0) + (1.0 - follows) * sample * sample;
        let wanted = (target / power.sqrt().max(1e-6)).min(most);
        gain = if wanted < gain { wanted + (gain - wanted) * down } else { (gain * up).min(wanted) };
        sound.push((gain * sample).clamp(-0.95, 0.95));
    }
    sound
}

/// An overdriven input: of the guitar's samples 2 to 12 in 100 are cut off; half of the takes are turned down
/// afterwards by 3 to 15 dB.
pub(super) fn overdrive(take: &[f32], playing: &Range<usize>, dice: &mut Dice) -> Vec<f32> {
    let mut sizes: Vec<f32> =
        take[playing.start.min(take.len())..playing.end.min(take.len())].iter().map(|sample| sample.abs()).collect();
    sizes.sort_unstable_by(f32::total_cmp);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a share of the samples"
    )]
    let index = (sizes.len() as f64 * (1.0 - dice.between(0.02, 0.12))) as usize;
    let ceiling = sizes.get(index).copied().unwrap_or(1.0).max(1e-6);
    let after = if dice.chance(0.5) { db(-dice.between(3.0, 15.0)) } else { 1.0 };
    take.iter().map(|sample| after * (sample / ceiling).clamp(-1.0, 1.0)).collect()
}
