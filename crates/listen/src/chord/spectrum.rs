//! Sound to how strong each semitone is in it.

use std::sync::Arc;

use realfft::num_complex::{Complex, Complex32};
use realfft::{RealFftPlanner, RealToComplex};

use super::spans::LOOKS_S;

/// The semitones measured: from A1 to E7, 55 to 2,637 Hz.
pub(super) const LOWEST_KEY: u8 = 33;
/// How many semitones are measured.
pub(super) const ROWS: usize = 68;
/// A partial belongs to a semitone when it lies so near, in cents: strings are out of tune with each other and their
/// upper partials sharp.
pub(super) const NEAR_CENTS: f64 = 33.0;
/// The noise floor is this quantile of the spectrum within this many semitones either way: partials fill less.
const FLOOR_QUANTILE: f64 = 0.25;
const FLOOR_SEMITONES: f64 = 5.0;

/// Power of each semitone from [`LOWEST_KEY`] up, the noise floor taken off.
pub(super) type Rows = [f32; ROWS];

/// Frequency of a row in hertz, in a guitar that is off by `cents`.
pub(super) fn hertz(row: f64, cents: f64) -> f64 {
    440.0 * ((row + f64::from(LOWEST_KEY) - 69.0 + cents / 100.0) / 12.0).exp2()
}

/// A Fourier transform for looks at one sample rate.
pub(super) struct Spectrograph {
    rate: f64,
    transform: Arc<dyn RealToComplex<f32>>,
    windows: [Vec<f32>; LOOKS_S.len()],
    input: Vec<f32>,
    output: Vec<Complex32>,
    scratch: Vec<Complex32>,
    sorted: Vec<f32>,
}

impl Spectrograph {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few thousand samples")]
    pub(super) fn new(rate: f64) -> Self {
        let longest = (LOOKS_S[LOOKS_S.len() - 1] * rate) as usize;
        // Half as long again and more: neighbouring bins are then near enough to find a peak's height.
        let length = (longest * 3 / 2).next_power_of_two();
        let transform = RealFftPlanner::new().plan_fft_forward(length);
        Self {
            rate,
            windows: LOOKS_S.map(|length| hann((length * rate) as usize)),
            input: transform.make_input_vec(),
            output: transform.make_output_vec(),
            scratch: transform.make_scratch_vec(),
            sorted: Vec::with_capacity(length),
            transform,
        }
    }

    /// Power in each bin of a look of length [`LOOKS_S`]`[length]` that begins `sound`; `false` when it is too short.
    pub(super) fn look(&mut self, sound: &[f32], length: usize, power: &mut Vec<f32>) -> bool {
        let window = &self.windows[length];
        if sound.len() < window.len() {
            return false;
        }
        self.input.fill(0.0);
        for ((input, sample), weight) in self.input.iter_mut().zip(sound).zip(window) {
            *input = sample * weight;
        }
        let done = self.transform.process_with_scratch(&mut self.input, &mut self.output, &mut self.scratch);
        done.expect("the buffers were made for it");
        power.clear();
        power.extend(self.output.iter().map(Complex::norm_sqr));
        true
    }

    /// Width of a bin in hertz.
    #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
    pub(super) fn bin_hz(&self) -> f64 {
        self.rate / self.input.len() as f64
    }

    /// The strongest bin near each semitone, above the noise around it.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bins within the spectrum")]
    pub(super) fn rows(&mut self, power: &[f32], cents: f64) -> Rows {
        let bin_hz = self.bin_hz();
        let range = |row: f64, around: f64| {
            let from = (hertz(row - around, cents) / bin_hz).round() as usize;
            let to = (hertz(row + around, cents) / bin_hz).round() as usize;
            from.min(power.len() - 1)..(to + 1).min(power.len())
        };
        let mut rows = [0.0; ROWS];
        for (index, value) in (0_u8..).zip(&mut rows) {
            let row = f64::from(index);
            let peak = power[range(row, NEAR_CENTS / 100.0)].iter().copied().fold(0.0, f32::max);
            self.sorted.clear();
            self.sorted.extend_from_slice(&power[range(row, FLOOR_SEMITONES)]);
            #[expect(clippy::cast_precision_loss, reason = "a few thousand")]
            let place = (self.sorted.len() as f64 * FLOOR_QUANTILE) as usize;
            let floor = *self.sorted.select_nth_unstable_by(place, f32::total_cmp).1;
            *value = (peak - 4.0 * floor).max(0.0);
        }
        rows
    }
}

/// Raised cosine of unit sum, so that a steady tone is equally high in looks of any length.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a few thousand samples")]
fn hann(length: usize) -> Vec<f32> {
    let window = |index: usize| 1.0 - (std::f64::consts::TAU * (index as f64 + 0.5) / length as f64).cos();
    (0..length).map(|index| (window(index) / length as f64) as f32).collect()
}
