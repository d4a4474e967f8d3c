//! Small things that spectra and attacks share.

/// Power in decibels.
pub(super) fn decibels(power: f64) -> f64 {
    10.0 * power.log10()
}

/// Decibels as they are kept: a hundredth is finer than anything heard.
pub(super) fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
