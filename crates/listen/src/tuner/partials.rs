//! Frequencies of single partials from how far their phase turns between two windows.

use std::f64::consts::TAU;

use crate::hann::hann;

/// Lanes the sum is spread over, for the processor's sake.
const LANES: usize = 8;

/// Two overlapping Hann windows, the second a third of the whole later than the first: near the least variance two
/// windows can give (Quinn & Hannan, The Estimation and Tracking of Frequency, 2001, on phase differences).
#[derive(Debug)]
pub(super) struct Pair {
    /// Samples both windows cover together.
    pub(super) length: usize,
    /// Samples from one window to the next.
    hop: usize,
    hann: Vec<f32>,
    /// Both windowed stretches, one after the other.
    windowed: Vec<f32>,
}

/// What both windows say of one frequency.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(super) struct Turn {
    /// Where the phase turns as it was seen to turn.
    pub(super) hertz: f64,
    /// Mean power in both windows.
    pub(super) power: f64,
}

impl Pair {
    /// Windows that cover `length` samples.
    pub(super) fn new(length: usize) -> Self {
        let hop = length / 3;
        // Whole lanes, so that the sum has no rest.
        let window = (length - hop) / LANES * LANES;
        Self { length: window + hop, hop, windowed: vec![0.0; 2 * window], hann: hann(window) }
    }

    /// Takes the last `length` samples of `sound`.
    pub(super) fn take(&mut self, sound: &[f32]) {
        let sound = &sound[sound.len() - self.length..];
        let window = self.hann.len();
        let (first, second) = self.windowed.split_at_mut(window);
        for (into, from) in [(first, &sound[..window]), (second, &sound[self.hop..])] {
            for ((value, sample), weight) in into.iter_mut().zip(from).zip(&self.hann) {
                *value = sample * weight;
            }
        }
    }

    /// The frequency of what sounds near `hertz`, in sound of `rate` samples a second. Right when it lies within
    /// half a turn a hop, and farther from other sounds than two bins of a window.
    pub(super) fn turn(&self, hertz: f64, rate: f64) -> Turn {
        let omega = TAU * hertz / rate;
        let (first, second) = self.windowed.split_at(self.hann.len());
        let (a, b) = (spectrum_at(first, omega), spectrum_at(second, omega));
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let hop = self.hop as f64;
        let turned = (b.1 * a.0 - b.0 * a.1).atan2(b.0 * a.0 + b.1 * a.1);
        let off = (turned - omega * hop + TAU / 2.0).rem_euclid(TAU) - TAU / 2.0;
        let power = 0.5 * (a.0 * a.0 + a.1 * a.1 + b.0 * b.0 + b.1 * b.1);
        Turn { hertz: hertz + off / hop * rate / TAU, power }
    }

    /// Standard deviation in hertz of a frequency read at this signal-to-noise ratio of powers.
    pub(super) fn deviation_hz(&self, ratio: f64, rate: f64) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let hop_s = self.hop as f64 / rate;
        // Each phase varies by half the inverse ratio; the difference by twice that.
        1.0 / (TAU * hop_s * ratio.max(1e-9).sqrt())
    }
}

/// Real and imaginary part of the Fourier sum at `omega` radians a sample.
#[expect(clippy::cast_possible_truncation, reason = "phases are exact to 1e-5 over the longest window")]
fn spectrum_at(sound: &[f32], omega: f64) -> (f64, f64) {
    let mut cosine = [0.0_f32; LANES];
    let mut sine = [0.0_f32; LANES];
    let mut phase = 0.0_f64;
    for (cosine, sine) in cosine.iter_mut().zip(&mut sine) {
        (*cosine, *sine) = (phase.cos() as f32, -phase.sin() as f32);
        phase += omega;
    }
    let (turn_cosine, turn_sine) = (phase.cos() as f32, -phase.sin() as f32);
    let mut real = [0.0_f32; LANES];
    let mut imaginary = [0.0_f32; LANES];
    for samples in sound.chunks_exact(LANES) {
        for lane in 0..LANES {
            real[lane] += samples[lane] * cosine[lane];
            imaginary[lane] += samples[lane] * sine[lane];
            let next = cosine[lane] * turn_cosine - sine[lane] * turn_sine;
            sine[lane] = cosine[lane] * turn_sine + sine[lane] * turn_cosine;
            cosine[lane] = next;
        }
    }
    (real.iter().copied().map(f64::from).sum(), imaginary.iter().copied().map(f64::from).sum())
}
