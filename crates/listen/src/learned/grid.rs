//! The spectrum of a stretch after a stroke, in bands a quarter of a semitone apart.

use std::sync::Arc;

use realfft::num_complex::Complex;
use realfft::{RealFftPlanner, RealToComplex};

use super::form::LearnedWindow;
use crate::hann::hann;
use crate::sound::PassSound;

/// The lowest band: under the low E string lowered by a tone.
const LOWEST_HZ: f64 = 68.0;
/// Bands are so far apart.
const STEP_CENTS: f64 = 25.0;
/// Up to 3.4 kHz: what every working rate holds.
pub(super) const POINTS: usize = 272;
/// A band reaches so far to both sides, falling off evenly, and no less than the share of 1/length that a Hann window
/// can resolve. Semitones stay apart, strings a little out of tune stay inside: a design choice of ours.
const REACH_CENTS: f64 = 35.0;
const REACH_OF_RESOLUTION: f64 = 0.8;

/// A stretch after a stroke's first string.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Window {
    from_ms: u32,
    length_ms: u32,
}

/// The longer, the better neighbouring pitches can be told apart (E2 and F2 are 4.9 Hz apart); the shorter, the faster
/// the strokes may follow each other. Each begins when most of a sweep has passed.
pub(super) const WINDOWS: [Window; 3] = [
    Window { from_ms: 20, length_ms: 128 },
    Window { from_ms: 40, length_ms: 256 },
    Window { from_ms: 60, length_ms: 512 },
];

impl Window {
    /// How long a stroke must be left alone for it.
    pub(super) fn needs_s(self) -> f64 {
        f64::from(self.from_ms + self.length_ms) / 1000.0
    }

    pub(super) fn is(self, learned: &LearnedWindow) -> bool {
        (self.from_ms, self.length_ms) == (learned.from_ms, learned.length_ms)
    }

    pub(super) const fn milliseconds(self) -> (u32, u32) {
        (self.from_ms, self.length_ms)
    }

    fn length_s(self) -> f64 {
        f64::from(self.length_ms) / 1000.0
    }

    /// Half the width of the band at `hertz`.
    fn reach_hz(self, hertz: f64) -> f64 {
        (hertz * ((REACH_CENTS / 1200.0).exp2() - 1.0)).max(REACH_OF_RESOLUTION / self.length_s())
    }

    /// How much a band tells that its neighbours do not: where bands overlap widely, little.
    pub(super) fn weight(self, point: usize) -> f64 {
        let hertz = band_hz(point, 0.0);
        (hertz * ((STEP_CENTS / 1200.0).exp2() - 1.0) / self.reach_hz(hertz)).min(1.0)
    }

    /// What a steady tone of power 1 leaves in the bands: the first band, and its and the next ones' powers. The main
    /// lobe of the Hann window (Harris, Proc. IEEE 1978), seen through the bands.
    pub(super) fn tone(self, hertz: f64) -> (usize, Vec<f64>) {
        let length_s = self.length_s();
        let lobe_hz = 2.0 / length_s;
        let first = (0..POINTS).find(|point| {
            let band = band_hz(*point, 0.0);
            band + self.reach_hz(band) > hertz - lobe_hz
        });
        let Some(first) = first else { return (POINTS, Vec::new()) };
        let mut powers = Vec::new();
        for point in first..POINTS {
            let (band, reach) = (band_hz(point, 0.0), self.reach_hz(band_hz(point, 0.0)));
            if band - reach > hertz + lobe_hz {
                break;
            }
            // Summed on the same lattice of 1 Hz as the spectrum itself.
            let mut power = 0.0;
            let mut at = (band - reach).ceil();
            while at < band + reach {
                power += (1.0 - (at - band).abs() / reach) * hann_lobe((at - hertz) * length_s);
                at += 1.0;
            }
            powers.push(power);
        }
        (first, powers)
    }
}

/// Power of the Hann window's spectrum, so many bins of 1/length from its middle; nothing beyond the main lobe.
fn hann_lobe(bins: f64) -> f64 {
    if bins.abs() >= 2.0 {
        return 0.0;
    }
    if (bins.abs() - 1.0).abs() < 1e-6 {
        return 0.25;
    }
    let sinc =
        if bins.abs() < 1e-9 { 1.0 } else { (std::f64::consts::PI * bins).sin() / (std::f64::consts::PI * bins) };
    (sinc / (1.0 - bins * bins)).powi(2)
}

#[expect(clippy::cast_precision_loss, reason = "a few hundred")]
pub(super) fn band_hz(point: usize, cents: f64) -> f64 {
    LOWEST_HZ * ((point as f64 * STEP_CENTS + cents) / 1200.0).exp2()
}

/// Makes spectra of a guitar that is `cents` above or below the one learned.
pub(super) struct Spectra {
    rate: f64,
    fft: Arc<dyn RealToComplex<f32>>,
    input: Vec<f32>,
    output: Vec<Complex<f32>>,
    bands: Vec<Vec<Band>>,
}

/// First bin, and the weights from there on.
type Band = (usize, Vec<f64>);

impl Spectra {
    pub(super) fn new(rate: f64, cents: f64) -> Self {
        // Bins of 1 Hz, near enough: the next power of two.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "8,000 to 16,000")]
        let length = (rate.clamp(1000.0, 200_000.0).ceil() as usize).next_power_of_two();
        let fft = RealFftPlanner::new().plan_fft_forward(length);
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let bin_hz = rate / length as f64;
        let bands = WINDOWS.iter().map(|window| bands(*window, bin_hz, cents, length / 2)).collect();
        Self { rate, input: fft.make_input_vec(), output: fft.make_output_vec(), fft, bands }
    }

    /// Power in each band, 1 on the whole; `None` where the sound ends too soon or nothing sounds.
    pub(super) fn of(&mut self, sound: &PassSound, stroke_s: f64, window: usize) -> Option<Vec<f64>> {
        let Window { from_ms, .. } = WINDOWS[window];
        let from_s = stroke_s + f64::from(from_ms) / 1000.0;
        let samples = sound.between(from_s, from_s + WINDOWS[window].length_s());
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let missing_s = WINDOWS[window].length_s() - samples.len() as f64 / self.rate;
        if missing_s > 0.002 || samples.len() > self.input.len() {
            return None;
        }
        self.input.fill(0.0);
        for (input, (sample, weight)) in self.input.iter_mut().zip(samples.iter().zip(hann(samples.len()))) {
            *input = sample * weight;
        }
        self.fft.process(&mut self.input, &mut self.output).expect("the lengths are the plan's own");
        let power = |(first, weights): &Band| -> f64 {
            let bins = self.output[*first..].iter().zip(weights);
            bins.map(|(bin, weight)| weight * f64::from(bin.norm_sqr())).sum()
        };
        let mut powers: Vec<f64> = self.bands[window].iter().map(power).collect();
        let whole: f64 = powers.iter().sum();
        if whole.is_nan() || whole <= 1e-12 {
            return None;
        }
        powers.iter_mut().for_each(|power| *power /= whole);
        Some(powers)
    }
}

fn bands(window: Window, bin_hz: f64, cents: f64, last: usize) -> Vec<Band> {
    let band = |point| {
        let hertz = band_hz(point, cents);
        let reach = window.reach_hz(hertz);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "bins of a spectrum")]
        let (first, end) = (((hertz - reach) / bin_hz).ceil() as usize, ((hertz + reach) / bin_hz).ceil() as usize);
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let weight = |bin: usize| 1.0 - (bin as f64 * bin_hz - hertz).abs() / reach;
        (first.min(last), (first.min(last)..end.min(last + 1)).map(weight).collect())
    };
    (0..POINTS).map(band).collect()
}
