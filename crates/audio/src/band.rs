//! A gentle bandpass for noise.

use std::f64::consts::TAU;

/// A one-pole lowpass and a one-pole highpass, each `N` times.
pub(crate) struct Band<const N: usize> {
    low: [f64; N],
    high: [f64; N],
    openness: f64,
    lift: f64,
}

impl<const N: usize> Band<N> {
    /// Lets through what lies between two frequencies, in hertz.
    pub(crate) fn new(rate_hz: f64, (from, to): (f64, f64)) -> Self {
        let pole = |hertz: f64| 1.0 - (-TAU * hertz.min(0.4 * rate_hz) / rate_hz).exp();
        Self { low: [0.0; N], high: [0.0; N], openness: pole(to), lift: pole(from) }
    }

    /// The next sample.
    pub(crate) fn filter(&mut self, sample: f64) -> f64 {
        let mut value = sample;
        for state in &mut self.low {
            *state += self.openness * (value - *state);
            value = *state;
        }
        for state in &mut self.high {
            *state += self.lift * (value - *state);
            value -= *state;
        }
        value
    }
}
