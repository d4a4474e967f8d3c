//! Correlation and convolution of stretches of sound, by Fourier transform.

use realfft::num_complex::Complex;
use realfft::{ComplexToReal, RealFftPlanner, RealToComplex};
use std::sync::Arc;

/// Transforms of one length.
pub(crate) struct Spectra {
    length: usize,
    forward: Arc<dyn RealToComplex<f64>>,
    inverse: Arc<dyn ComplexToReal<f64>>,
}

/// The transform of a stretch.
pub(crate) struct Spectrum(Vec<Complex<f64>>);

impl Spectra {
    /// Transforms long enough for stretches of `samples`, and what lies `lags` beyond them, not to wrap around.
    pub(crate) fn new(samples: usize, lags: usize) -> Self {
        let length = (samples + lags + 1).next_power_of_two().max(2);
        let mut planner = RealFftPlanner::new();
        Self { length, forward: planner.plan_fft_forward(length), inverse: planner.plan_fft_inverse(length) }
    }

    pub(crate) fn of(&self, samples: &[f64]) -> Spectrum {
        let mut input = vec![0.0; self.length];
        input[..samples.len()].copy_from_slice(samples);
        let mut output = self.forward.make_output_vec();
        self.forward.process(&mut input, &mut output).expect("both are of the length that was planned");
        Spectrum(output)
    }

    /// Σₙ y\[n\]·x\[n − lag\] for `count` lags from `first` on.
    pub(crate) fn correlation(&self, y: &Spectrum, x: &Spectrum, first: i64, count: usize) -> Vec<f64> {
        let product = y.0.iter().zip(&x.0).map(|(y, x)| y * x.conj()).collect();
        let all = self.back(product);
        (first..).take(count).map(|lag| all[self.wrapped(lag)]).collect()
    }

    /// Σₖ taps\[k\]·x\[n − lag − k\] for n from 0 on, `count` of them.
    pub(crate) fn convolution(&self, taps: &[f64], lag: i64, x: &Spectrum, count: usize) -> Vec<f64> {
        let taps = self.of(taps);
        let product = taps.0.iter().zip(&x.0).map(|(taps, x)| taps * x).collect();
        let all = self.back(product);
        (0..).take(count).map(|index: i64| all[self.wrapped(index - lag)]).collect()
    }

    fn back(&self, mut spectrum: Vec<Complex<f64>>) -> Vec<f64> {
        // What rounding left there would be refused.
        for edge in [0, self.length / 2] {
            spectrum[edge].im = 0.0;
        }
        let mut output = self.inverse.make_output_vec();
        self.inverse.process(&mut spectrum, &mut output).expect("both are of the length that was planned");
        #[expect(clippy::cast_precision_loss, reason = "a length")]
        let scale = 1.0 / self.length as f64;
        output.iter_mut().for_each(|value| *value *= scale);
        output
    }

    #[expect(clippy::cast_possible_wrap, clippy::cast_possible_truncation, reason = "lengths")]
    fn wrapped(&self, index: i64) -> usize {
        index.rem_euclid(self.length as i64) as usize
    }
}

#[cfg(test)]
mod tests {
    use super::Spectra;

    fn check(found: &[f64], expected: &[f64]) {
        assert_eq!(found.len(), expected.len());
        assert!(found.iter().zip(expected).all(|(one, other)| (one - other).abs() < 1e-9), "{found:?} {expected:?}");
    }

    #[test]
    fn sums_over_lags_are_those_written_out() {
        let spectra = Spectra::new(4, 4);
        let (x, y) = (spectra.of(&[1.0, 2.0, 3.0]), spectra.of(&[0.0, 1.0, 2.0, 3.0]));
        check(&spectra.correlation(&y, &x, -1, 4), &[3.0, 8.0, 14.0, 8.0]);
        check(&spectra.convolution(&[1.0, -1.0], 1, &x, 4), &[0.0, 1.0, 1.0, 1.0]);
        check(&spectra.convolution(&[1.0], -1, &x, 3), &[2.0, 3.0, 0.0]);
    }
}
