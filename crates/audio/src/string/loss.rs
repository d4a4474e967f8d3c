//! The loss of one trip along the string: `H(z) = g(1 − p) / (1 − p z⁻¹)`.
//!
//! Jaffe & Smith 1983, "Extensions of the Karplus-Strong plucked-string algorithm"; J. O. Smith, *Physical Audio
//! Signal Processing*.

use std::f64::consts::TAU;

/// Where the second decay time is given.
pub(crate) const TREBLE_HZ: f64 = 3000.0;

/// A one-pole loss filter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Loss {
    /// Gain at 0 Hz, below 1.
    g: f64,
    /// The pole, 0 to below 1.
    p: f64,
}

/// The gain of one trip of a string of `f0` hertz whose partial falls by 60 dB in `t60` seconds.
fn trip_gain(f0: f64, t60: f64) -> f64 {
    10.0_f64.powf(-3.0 / (f0 * t60))
}

impl Loss {
    /// A gain at 0 Hz of one would never let go of an offset.
    const MOST: f64 = 0.999_99;

    /// The filter with which a string of `f0` hertz decays by 60 dB in `t60_s` seconds at its fundamental and in
    /// `treble_t60_s` at 3 kHz. Where the treble would outlast the fundamental, both decay alike.
    pub(crate) fn design(rate: f64, f0: f64, t60_s: f64, treble_t60_s: f64) -> Self {
        let (low, high) = (trip_gain(f0, t60_s), trip_gain(f0, treble_t60_s));
        let (omega_low, omega_high) = (TAU * f0 / rate, TAU * TREBLE_HZ.min(0.45 * rate) / rate);
        let tilt = |p: f64| shape(p, omega_high) / shape(p, omega_low);
        let (mut none, mut most) = (0.0, 0.999);
        for _ in 0..60 {
            let p = 0.5 * (none + most);
            if omega_high > omega_low && tilt(p) > high / low { none = p } else { most = p }
        }
        let p = if omega_high > omega_low { none } else { 0.0 };
        Self { g: (low / shape(p, omega_low)).min(Self::MOST), p }
    }

    /// Samples of phase delay at `omega` radians a sample.
    pub(crate) fn delay(self, omega: f64) -> f64 {
        (self.p * omega.sin()).atan2(1.0 - self.p * omega.cos()) / omega
    }

    /// Gain at `omega` radians a sample.
    #[cfg(test)]
    pub(crate) fn gain(self, omega: f64) -> f64 {
        self.g * shape(self.p, omega)
    }

    /// `(input, feedback)` of `y = input·x + feedback·y₁`.
    pub(crate) fn coefficients(self) -> (f64, f64) {
        (self.g * (1.0 - self.p), self.p)
    }
}

/// |H| at `omega` with g = 1.
fn shape(p: f64, omega: f64) -> f64 {
    (1.0 - p) / (1.0 - 2.0 * p * omega.cos() + p * p).sqrt()
}

#[cfg(test)]
mod tests {
    use super::{Loss, TAU};

    fn check(f0: f64, t60_s: f64, treble_t60_s: f64) {
        let loss = Loss::design(48_000.0, f0, t60_s, treble_t60_s);
        for (hertz, t60) in [(f0, t60_s), (3000.0, treble_t60_s)] {
            let expected = 10.0_f64.powf(-3.0 / (f0 * t60));
            let found = loss.gain(TAU * hertz / 48_000.0);
            assert!((found - expected).abs() < 1e-9, "{f0} Hz at {hertz} Hz: {found} for {expected}");
        }
    }

    #[test]
    fn both_decay_times_are_met() {
        check(82.41, 9.0, 2.6);
        check(110.0, 8.5, 3.3);
        check(329.63, 6.0, 2.9);
    }
}
