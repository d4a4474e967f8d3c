//! Small things that spectra and attacks share.

use std::f64::consts::TAU;

/// A Hann window of so many samples, without its zeros at the ends.
pub(super) fn hann(length: usize) -> impl Iterator<Item = f32> {
    #[expect(clippy::cast_precision_loss, reason = "thousands")]
    let step = TAU / (length + 1) as f64;
    #[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "a weight")]
    (1..=length).map(move |index| (0.5 - 0.5 * (step * index as f64).cos()) as f32)
}

/// Power in decibels.
pub(super) fn decibels(power: f64) -> f64 {
    10.0 * power.log10()
}

/// Decibels as they are kept: a hundredth is finer than anything heard.
pub(super) fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
