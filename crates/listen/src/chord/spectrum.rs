//! Sound to how strong each semitone is in it.

use std::ops::Range;
use std::sync::Arc;

use realfft::num_complex::{Complex, Complex32};
use realfft::{RealFftPlanner, RealToComplex};

use super::spans::LOOKS_S;
use crate::hann::hann;

/// The semitones measured: from A1 to E7, 55 to 2,637 Hz.
pub(super) const LOWEST_KEY: u8 = 33;
/// How many semitones are measured.
pub(super) const ROWS: usize = 68;
/// A partial belongs to a semitone when it lies so near, in cents: strings are out of tune with each other and their
/// upper partials sharp.
pub(super) const NEAR_CENTS: f64 = 33.0;
/// The noise floor is the lowest quarter of the spectrum within this many semitones either way: partials fill less.
const FLOOR_ONE_IN: usize = 4;
const FLOOR_SEMITONES: f64 = 5.0;
/// Noise peaks stand so far above that quantile, in power: 6 dB.
const FLOOR_MARGIN: f32 = 4.0;
/// Between the semitones is looked at where a look parts them: from so many hertz over its length in seconds, where a
/// quarter of a semitone is as wide as half a main lobe, up to E6, so near the middle between two.
const ASTRAY_FROM: f64 = 200.0;
const ASTRAY_ROWS: usize = 60;
const ASTRAY_SEMITONES: f64 = 0.12;

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
            windows: LOOKS_S.map(|length| of_unit_sum((length * rate) as usize)),
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

    /// What a look tells, in a guitar that is off by `cents`.
    pub(super) fn heard(&mut self, power: &[f32], length: usize, cents: f64) -> Look {
        let mut look = Look { rows: [0.0; ROWS], off_cents: [0.0; ROWS], astray: 0.0 };
        for index in 0..ROWS {
            let row = as_row(index);
            let bin = loudest(power, self.range(power, row, NEAR_CENTS / 100.0, cents));
            let off = 1200.0 * (peak(power, bin) * self.bin_hz() / hertz(row, cents)).log2();
            look.rows[index] = (power[bin] - FLOOR_MARGIN * self.floor(power, row, cents)).max(0.0);
            #[expect(clippy::cast_possible_truncation, reason = "cents")]
            let off = off as f32;
            look.off_cents[index] = off;
        }
        let least_hz = ASTRAY_FROM / LOOKS_S[length];
        let (mut on, mut off) = (0.0, 1e-9);
        for row in (0..ASTRAY_ROWS).map(as_row).filter(|row| hertz(*row, 0.0) > least_hz) {
            on += power[loudest(power, self.range(power, row, NEAR_CENTS / 100.0, cents))].sqrt();
            off += power[loudest(power, self.range(power, row + 0.5, ASTRAY_SEMITONES, cents))].sqrt();
        }
        look.astray = off / (on + 1e-9);
        look
    }

    /// The bins within `around` semitones of a row.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bins within the spectrum")]
    fn range(&self, power: &[f32], row: f64, around: f64, cents: f64) -> Range<usize> {
        let bin = |row: f64| (hertz(row, cents) / self.bin_hz()).round() as usize;
        bin(row - around).min(power.len() - 1)..(bin(row + around) + 1).min(power.len())
    }

    fn floor(&mut self, power: &[f32], row: f64, cents: f64) -> f32 {
        let range = self.range(power, row, FLOOR_SEMITONES, cents);
        self.sorted.clear();
        self.sorted.extend_from_slice(&power[range]);
        let place = self.sorted.len() / FLOOR_ONE_IN;
        *self.sorted.select_nth_unstable_by(place, f32::total_cmp).1
    }
}

/// One look at a sound.
#[derive(Clone, Copy, Debug)]
pub(super) struct Look {
    /// Power of each semitone.
    pub rows: Rows,
    /// Where in the semitone its peak lies, in cents from the middle.
    pub off_cents: Rows,
    /// How much lies between the semitones, re what lies on them, 0 up. Voices glide and shake, strings do not.
    pub astray: f32,
}

#[expect(clippy::cast_precision_loss, reason = "68 at most")]
fn as_row(index: usize) -> f64 {
    index as f64
}

fn loudest(power: &[f32], range: Range<usize>) -> usize {
    let start = range.start;
    range.max_by(|one, other| power[*one].total_cmp(&power[*other])).unwrap_or(start)
}

/// Where a peak around `bin` lies, in bins: a parabola through the logarithms of three (Smith & Serra 1987).
#[expect(clippy::cast_precision_loss, reason = "a few thousand bins")]
pub(super) fn peak(power: &[f32], bin: usize) -> f64 {
    let log = |bin: usize| power.get(bin).map_or(0.0, |power| f64::from(power.max(1e-20)).ln());
    let (before, at, after) = (log(bin.saturating_sub(1)), log(bin), log(bin + 1));
    let bend = before - 2.0 * at + after;
    let off = if bend < 0.0 { 0.5 * (before - after) / bend } else { 0.0 };
    bin as f64 + off.clamp(-1.0, 1.0)
}

/// A window of unit sum, so that a steady tone is equally high in looks of any length.
#[expect(clippy::cast_precision_loss, reason = "a few thousand samples")]
fn of_unit_sum(length: usize) -> Vec<f32> {
    hann(length).into_iter().map(|weight| 2.0 * weight / length as f32).collect()
}
