//! The first tenth of a second of a stroke, in bands and moments: where the strings speak in turn.

use std::sync::Arc;

use realfft::num_complex::Complex;
use realfft::{RealFftPlanner, RealToComplex};

use super::segments::decibels;
use crate::hann::hann;
use crate::sound::PassSound;

/// Bands of equal width on a logarithmic scale. Of 8, 12, 16 and 20, twenty told most strokes apart (made takes, seeds
/// 7001 and 7002).
const BANDS: usize = 20;
const LOWEST_HZ: f64 = 70.0;
const HIGHEST_HZ: f64 = 3400.0;
/// From the first string, in milliseconds: long enough to tell bass from treble, as many as fit before the next stroke
/// of fast sixteenths. The best of six sets on the same seeds.
const MOMENTS_MS: [(f64, f64); 5] = [(-4.0, 20.0), (8.0, 32.0), (20.0, 44.0), (32.0, 68.0), (56.0, 92.0)];
/// Numbers that describe an attack.
pub(super) const FEATURES: usize = BANDS * MOMENTS_MS.len();
/// How long a stroke must be left alone, in seconds.
pub(super) const NEEDS_S: f64 = 0.080;
/// Assumed beneath everything, relative to the whole attack: −40 dB, above the noise of a room.
const FLOOR: f64 = 1e-4;

/// Describes attacks.
pub(super) struct Attacks {
    fft: Arc<dyn RealToComplex<f32>>,
    input: Vec<f32>,
    output: Vec<Complex<f32>>,
    /// Bins from one to the next.
    edges: Vec<usize>,
}

impl Attacks {
    pub(super) fn new(rate: f64) -> Self {
        // Bins of 8 Hz, near enough: the lowest band is 15 Hz wide.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "8,000 to 16,000")]
        let length = (rate.clamp(1000.0, 200_000.0) / 8.0).ceil() as usize;
        let length = length.next_power_of_two();
        let fft = RealFftPlanner::new().plan_fft_forward(length);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "bins of a spectrum"
        )]
        let edge = |band: usize| {
            let hertz = LOWEST_HZ * (HIGHEST_HZ / LOWEST_HZ).powf(band as f64 / BANDS as f64);
            (hertz * length as f64 / rate).ceil() as usize
        };
        let edges = (0..=BANDS).map(edge).collect();
        Self { input: fft.make_input_vec(), output: fft.make_output_vec(), fft, edges }
    }

    /// Level of each band in each moment in decibels relative to the whole; `None` where the sound ends too soon.
    pub(super) fn of(&mut self, sound: &PassSound, stroke_s: f64) -> Option<Vec<f64>> {
        let mut powers = Vec::with_capacity(FEATURES);
        for (from_ms, to_ms) in MOMENTS_MS {
            let samples = sound.between(stroke_s + from_ms / 1000.0, stroke_s + to_ms / 1000.0);
            #[expect(clippy::cast_precision_loss, reason = "hundreds")]
            let missing = (to_ms - from_ms) / 1000.0 * sound.rate - samples.len() as f64;
            if missing > 2.0 || samples.len() > self.input.len() {
                return None;
            }
            self.input.fill(0.0);
            for (input, (sample, weight)) in self.input.iter_mut().zip(samples.iter().zip(hann(samples.len()))) {
                *input = sample * weight;
            }
            self.fft.process(&mut self.input, &mut self.output).expect("the lengths are the plan's own");
            let bands = self.edges.windows(2).map(|edge| edge[0]..edge[1].max(edge[0] + 1));
            powers.extend(bands.map(|bins| self.output[bins].iter().map(|bin| f64::from(bin.norm_sqr())).sum::<f64>()));
        }
        let whole: f64 = powers.iter().sum();
        if whole.is_nan() || whole <= 1e-12 {
            return None;
        }
        Some(powers.iter().map(|power| decibels(power / whole + FLOOR)).collect())
    }
}
