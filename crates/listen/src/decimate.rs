//! Any sample rate brought down to a working rate between 8 and 16 kHz.

use std::f64::consts::PI;

/// The lowest working rate: guitar strings speak below 4 kHz (a steel string falls by 9 to 11 dB an octave; measured
/// on the FluidR3 steel samples), and room noise is louder than they are above it.
const LOWEST_WORKING_HZ: u32 = 8_000;
/// Filter taps on either side, in working samples: 12 give 60 dB of alias rejection a fifth above the edge with a
/// Blackman window (Oppenheim & Schafer, Discrete-Time Signal Processing, window design table).
const HALF_WIDTH: usize = 12;

/// A windowed-sinc low-pass followed by keeping every n-th sample. Its delay is known and compensated by the caller.
#[derive(Debug)]
pub(crate) struct Decimator {
    factor: usize,
    taps: Vec<f32>,
    /// The last `taps.len()` inputs twice over, so that the newest stretch is always contiguous.
    ring: Vec<f32>,
    at: usize,
    until_next: usize,
}

impl Decimator {
    pub(crate) fn new(rate: u32) -> Self {
        let factor = (rate / LOWEST_WORKING_HZ).max(1) as usize;
        let taps = if factor == 1 { vec![1.0] } else { low_pass(factor) };
        Self { factor, ring: vec![0.0; 2 * taps.len()], taps, at: 0, until_next: factor }
    }

    /// How many input samples make one output sample.
    pub(crate) fn factor(&self) -> usize {
        self.factor
    }

    /// What to add to `n · factor` for the place of output `n` among the inputs.
    #[expect(clippy::cast_precision_loss, reason = "a few hundred taps")]
    pub(crate) fn offset(&self) -> f64 {
        self.factor as f64 - 1.0 - (self.taps.len() / 2) as f64
    }

    /// Forgets all it heard.
    pub(crate) fn reset(&mut self) {
        self.ring.fill(0.0);
        (self.at, self.until_next) = (0, self.factor);
    }

    /// Takes one input; gives an output on every `factor`-th.
    pub(crate) fn push(&mut self, sample: f32) -> Option<f32> {
        let length = self.taps.len();
        self.ring[self.at] = sample;
        self.ring[self.at + length] = sample;
        self.at = (self.at + 1) % length;
        self.until_next -= 1;
        if self.until_next > 0 {
            return None;
        }
        self.until_next = self.factor;
        Some(crate::sums::dot(&self.ring[self.at..self.at + length], &self.taps))
    }
}

/// Odd, symmetric, unity gain at zero, edge at 0.9 of the new half rate.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "filter design")]
fn low_pass(factor: usize) -> Vec<f32> {
    let half = (HALF_WIDTH * factor) as f64;
    let cutoff = 0.45 / factor as f64;
    let taps: Vec<f64> = (0..=2 * HALF_WIDTH * factor)
        .map(|index| {
            let x = index as f64 - half;
            let sinc = if x == 0.0 { 2.0 * cutoff } else { (2.0 * PI * cutoff * x).sin() / (PI * x) };
            let phase = PI * (x / half + 1.0);
            sinc * (0.42 - 0.5 * phase.cos() + 0.08 * (2.0 * phase).cos())
        })
        .collect();
    let sum: f64 = taps.iter().sum();
    taps.iter().map(|tap| (tap / sum) as f32).collect()
}
