//! How far the whole guitar is off concert pitch.

use std::f64::consts::TAU;

use super::spectrum::{hertz, peak};

/// Peaks between these are looked at, in hertz: first partials, and low ones of the bass strings.
const RANGE_HZ: (f64, f64) = (95.0, 900.0);
/// So much of the strongest peak a peak must have, in power.
const LEAST_POWER: f32 = 0.003;
/// Peaks must agree at least so well, 0 (anywhere) to 1 (all the same): below it nothing is said. Tempered thirds and
/// fifths spread partials by up to 14 cents, cos(2π · 0.14) = .64.
const LEAST_AGREEMENT: f64 = 0.5;

/// Gathers how far peaks lie from equal temperament. Whole semitones can't be told from none, so the offset lies within
/// ±50 cents: the mean direction of circular data (Mardia & Jupp 2000, Directional Statistics).
#[derive(Debug, Default)]
pub(super) struct TuningSum {
    sine: f64,
    cosine: f64,
    weight: f64,
}

impl TuningSum {
    /// Takes in the power spectrum of a look.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bins")]
    pub(super) fn add(&mut self, power: &[f32], bin_hz: f64) {
        let (from, to) = ((RANGE_HZ.0 / bin_hz) as usize, (RANGE_HZ.1 / bin_hz) as usize);
        let Some(range) = power.get(from..to) else { return };
        let most = range.iter().copied().fold(0.0, f32::max);
        for (index, three) in range.windows(3).enumerate() {
            let is_peak = three[1] > LEAST_POWER * most && three[1] >= three[0] && three[1] > three[2];
            if !is_peak {
                continue;
            }
            let bin = peak(power, from + index + 1);
            let semitones = 12.0 * (bin * bin_hz / hertz(0.0, 0.0)).log2();
            let weight = f64::from(three[1] / most).sqrt();
            self.sine += weight * (TAU * semitones).sin();
            self.cosine += weight * (TAU * semitones).cos();
            self.weight += weight;
        }
    }

    /// The offset in cents, positive is sharp; `None` when the peaks do not agree.
    pub(super) fn cents(&self) -> Option<f64> {
        let agreement = self.sine.hypot(self.cosine) / self.weight.max(1e-9);
        (agreement >= LEAST_AGREEMENT).then(|| 100.0 * self.sine.atan2(self.cosine) / TAU)
    }
}
