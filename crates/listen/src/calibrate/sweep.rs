//! A short rising tone, and where one is heard.
//!
//! Correlating with a sweep gathers its energy into a peak as narrow as its band is wide (Klauder et al., Bell System
//! Technical Journal 1960): 25 ms over 9.5 kHz stand out of white noise by some 20 dB more than a click of the same
//! peak, and the peak is a tenth of a millisecond wide.

use std::f64::consts::TAU;

use crate::own::Spectra;

/// Length in seconds, and the band in hertz: what small loudspeakers play and microphones hear.
pub(super) const LENGTH_S: f64 = 0.025;
const LOWEST_HZ: f64 = 500.0;
const HIGHEST_HZ: f64 = 10_000.0;
/// Of the half of the rate so much is used: above it converters filter.
const OF_HALF_RATE: f64 = 0.9;
/// The share of its length over which it comes and goes.
const EDGE: f64 = 0.08;
/// Before the strongest arrival an earlier one may be the direct one, the strongest a wall's: this long before, and at
/// most so much weaker in amplitude (−8 dB). Design choices of ours.
const DIRECT_WITHIN_S: f64 = 0.012;
const DIRECT_AMPLITUDE: f64 = 0.4;

/// A sweep at one rate, with its quadrature.
pub(super) struct Sweep {
    rate: f64,
    real: Vec<f64>,
    quadrature: Vec<f64>,
}

/// Where a sweep is heard.
#[derive(Clone, Copy, Debug)]
pub(super) struct Arrival {
    /// How long after the start of the stretch it begins, in seconds.
    pub(super) lag_s: f64,
    /// Amplitude of the correlation there.
    pub(super) strength: f64,
}

impl Sweep {
    pub(super) fn new(rate: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "thousands")]
        let length = (LENGTH_S * rate).round() as usize;
        let highest = HIGHEST_HZ.min(OF_HALF_RATE * rate / 2.0);
        #[expect(clippy::cast_precision_loss, reason = "thousands")]
        let wave = |frame: usize| {
            let at_s = (frame as f64 + 0.5) / rate;
            let share = at_s / LENGTH_S;
            let edge = (share.min(1.0 - share) / EDGE).clamp(0.0, 1.0);
            let turns = LOWEST_HZ * at_s + (highest - LOWEST_HZ) / LENGTH_S * at_s * at_s / 2.0;
            (TAU * turns, 0.5 - 0.5 * (std::f64::consts::PI * edge).cos())
        };
        let (real, quadrature) = (0..length)
            .map(|frame| {
                let (phase, level) = wave(frame);
                (level * phase.cos(), level * phase.sin())
            })
            .unzip();
        Self { rate, real, quadrature }
    }

    /// Its samples, the largest 1.
    pub(super) fn samples(&self) -> &[f64] {
        &self.real
    }

    /// The pitch at its end.
    pub(super) fn highest_hz(&self) -> f64 {
        HIGHEST_HZ.min(OF_HALF_RATE * self.rate / 2.0)
    }

    /// How strongly it begins at each sample of a stretch: the envelope of its correlation. The stretch is longer by
    /// a sweep than what comes back.
    pub(super) fn envelope(&self, heard: &[f32]) -> Vec<f64> {
        let count = heard.len().saturating_sub(self.real.len());
        let heard: Vec<f64> = heard.iter().map(|sample| f64::from(*sample)).collect();
        let spectra = Spectra::new(heard.len(), self.real.len());
        let of_heard = spectra.of(&heard);
        let along = |wave: &[f64]| spectra.correlation(&of_heard, &spectra.of(wave), 0, count);
        let (real, quadrature) = (along(&self.real), along(&self.quadrature));
        real.iter().zip(&quadrature).map(|(one, other)| one.hypot(*other)).collect()
    }

    /// The direct arrival in an envelope.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "samples")]
    pub(super) fn arrival(&self, envelope: &[f64]) -> Option<Arrival> {
        let (strongest, top) = envelope.iter().copied().enumerate().max_by(|one, other| one.1.total_cmp(&other.1))?;
        let from = strongest.saturating_sub((DIRECT_WITHIN_S * self.rate) as usize).max(1);
        let is_peak = |index: &usize| envelope[*index] >= envelope[index - 1] && envelope[*index] > envelope[index + 1];
        let direct = (from..strongest).filter(is_peak).find(|index| envelope[*index] >= DIRECT_AMPLITUDE * top);
        let index = direct.unwrap_or(strongest);
        Some(Arrival { lag_s: (index as f64 + between(envelope, index)) / self.rate, strength: envelope[index] })
    }

    /// Amplitudes of a sweep that begins at `from` of a stretch in `bands` equal parts of its band, the lowest first:
    /// its pitch rises evenly, so each part of its length is a part of its band. `None` where the stretch is too short.
    pub(super) fn bands(&self, heard: &[f32], from: usize, bands: usize) -> Option<Vec<f64>> {
        let heard = heard.get(from..from + self.real.len())?;
        let part = self.real.len() / bands;
        let one = |band: usize| {
            let range = band * part..(band + 1) * part;
            let sum =
                |wave: &[f64]| -> f64 { range.clone().map(|index| f64::from(heard[index]) * wave[index]).sum::<f64>() };
            sum(&self.real).hypot(sum(&self.quadrature))
        };
        Some((0..bands).map(one).collect())
    }

    /// The upper edges of the parts of its band, in hertz.
    #[expect(clippy::cast_precision_loss, reason = "a dozen")]
    pub(super) fn edges_hz(&self, bands: usize) -> Vec<f64> {
        let step = (self.highest_hz() - LOWEST_HZ) / bands as f64;
        (1..=bands).map(|band| LOWEST_HZ + step * band as f64).collect()
    }
}

/// The top of a parabola through a peak and its neighbours, in samples from it.
fn between(envelope: &[f64], index: usize) -> f64 {
    let Some(&[before, here, after]) = index.checked_sub(1).and_then(|from| envelope.get(from..from + 3)) else {
        return 0.0;
    };
    let bend = before - 2.0 * here + after;
    if bend < 0.0 { (0.5 * (before - after) / bend).clamp(-0.5, 0.5) } else { 0.0 }
}
