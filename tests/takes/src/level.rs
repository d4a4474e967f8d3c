//! Levels of samples.

/// A level in decibels as a factor.
pub(crate) fn db(decibels: f64) -> f32 {
    narrow(10.0_f64.powf(decibels / 20.0))
}

/// To single precision, as samples are.
#[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
pub(crate) const fn narrow(value: f64) -> f32 {
    value as f32
}

/// Root of the mean square.
#[expect(clippy::cast_precision_loss, reason = "counts of frames")]
pub(crate) fn rms(samples: &[f32]) -> f32 {
    (samples.iter().map(|sample| sample * sample).sum::<f32>() / samples.len().max(1) as f32).sqrt()
}
