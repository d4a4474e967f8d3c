//! A short stretch of sound to its power in bands and bins.

use std::sync::Arc;

use realfft::num_complex::Complex32;
use realfft::{RealFftPlanner, RealToComplex};

use crate::hann::hann;
use crate::sound::PassSound;

/// Bands, evenly spaced in pitch.
pub(super) const BANDS: usize = 20;
/// From where to where, in hertz: a guitar's lowest partial to the edge of the lowest working rate.
const LOWEST_HZ: f64 = 90.0;
const HIGHEST_HZ: f64 = 3_800.0;
/// Length of a look, in seconds: long enough to tell the lowest strings from their neighbours an octave up, short
/// enough to lie between two sixteenths.
pub(super) const LOOK_S: f64 = 0.064;
/// Length of a short look, in seconds: it shows what rises within a fast sweep.
pub(super) const SHORT_S: f64 = 0.024;
/// Edges of the groups of bins a short look is told by, in hertz.
const GROUPS_HZ: [f64; GROUPS + 1] = [90.0, 300.0, 600.0, 1_000.0, 1_600.0, 2_400.0, 3_800.0];
pub(super) const GROUPS: usize = 6;
/// Power beneath which a band and a bin are silent: −140 and −128 dB re full scale.
const SILENT_BAND: f32 = 1e-14;
const SILENT_BIN: f32 = 1.5e-13;

/// What a look shows.
#[derive(Clone, Debug)]
pub(super) struct Look {
    /// Natural logarithm of the power in each band.
    pub(super) bands: [f32; BANDS],
    /// The same of all bins together.
    pub(super) whole: f32,
    /// Natural logarithm of the power of each bin from the lowest band to the highest.
    pub(super) bins: Vec<f32>,
}

/// Looks at a pass's sound.
pub(super) struct Looker<'a> {
    sound: &'a PassSound,
    transform: Arc<dyn RealToComplex<f32>>,
    window: Vec<f32>,
    input: Vec<f32>,
    output: Vec<Complex32>,
    /// The first and one past the last bin.
    bins: (usize, usize),
}

impl<'a> Looker<'a> {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "lengths and bins of a short transform"
    )]
    pub(super) fn new(sound: &'a PassSound, length_s: f64) -> Self {
        let length = ((length_s * sound.rate / 2.0).round() as usize * 2).max(32);
        let transform = RealFftPlanner::new().plan_fft_forward(length);
        let bin = |hertz: f64| ((hertz * length as f64 / sound.rate) as usize).min(length / 2);
        Self {
            sound,
            window: hann(length),
            input: transform.make_input_vec(),
            output: transform.make_output_vec(),
            bins: (bin(LOWEST_HZ) + 1, bin(HIGHEST_HZ) + 1),
            transform,
        }
    }

    /// The look that begins at `from_s`; silence where nothing was kept.
    pub(super) fn look(&mut self, from_s: f64) -> Look {
        self.fill(from_s);
        self.transform.process(&mut self.input, &mut self.output).expect("the buffers were made for it");
        #[expect(clippy::cast_precision_loss, reason = "a few hundred samples")]
        let scale = 4.0 / (self.window.len() as f32).powi(2);
        let (first, end) = self.bins;
        let mut bands = [SILENT_BAND; BANDS];
        let mut whole = SILENT_BAND;
        let bins: Vec<f32> = (first..end)
            .map(|bin| {
                let power = self.output[bin].norm_sqr() * scale;
                bands[self.band(bin)] += power;
                whole += power;
                (power + SILENT_BIN).ln()
            })
            .collect();
        Look { bands: bands.map(f32::ln), whole: whole.ln(), bins }
    }

    /// Natural logarithm of the power in each group of bins.
    pub(super) fn groups(&self, look: &Look) -> [f32; GROUPS] {
        std::array::from_fn(|group| {
            let bins = self.bins_below(GROUPS_HZ[group])..self.bins_below(GROUPS_HZ[group + 1]);
            look.bins[bins].iter().map(|bin| bin.exp()).sum::<f32>().max(SILENT_BAND).ln()
        })
    }

    /// Frequency of a look's bin, in hertz.
    #[expect(clippy::cast_precision_loss, reason = "a bin of a short transform")]
    pub(super) fn hertz(&self, bin: usize) -> f64 {
        (bin + self.bins.0) as f64 * self.sound.rate / self.window.len() as f64
    }

    /// Which share of the bins lies below a frequency.
    pub(super) fn bins_below(&self, hertz: f64) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a bin of a short transform"
        )]
        let bin = (hertz * self.window.len() as f64 / self.sound.rate) as usize;
        bin.clamp(self.bins.0, self.bins.1) - self.bins.0
    }

    /// The band of a look's bin.
    pub(super) fn band_of(&self, bin: usize) -> usize {
        self.band(bin + self.bins.0)
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a band's number"
    )]
    fn band(&self, bin: usize) -> usize {
        let hertz = bin as f64 * self.sound.rate / self.window.len() as f64;
        let place = (hertz / LOWEST_HZ).ln() / (HIGHEST_HZ / LOWEST_HZ).ln() * BANDS as f64;
        (place.max(0.0) as usize).min(BANDS - 1)
    }

    #[expect(clippy::cast_possible_truncation, reason = "minutes at most")]
    fn fill(&mut self, from_s: f64) {
        let first = ((from_s - self.sound.starts_s) * self.sound.rate).round() as i64;
        for (index, (input, weight)) in (first..).zip(self.input.iter_mut().zip(&self.window)) {
            let sample = usize::try_from(index).ok().and_then(|index| self.sound.samples.get(index));
            *input = sample.copied().unwrap_or(0.0) * weight;
        }
    }
}
