//! How loud a recording is, and what brings it to the program's own loudness.

use ebur128::{EbuR128, Mode};

/// The loudness everything is mixed to, in LUFS.
pub const TARGET_LUFS: f64 = -18.0;
/// No recording is raised by more than this, in decibels: what is that faint is mostly noise.
const MOST_GAIN_DB: f64 = 24.0;

/// The gain in decibels that brings a recording to [`TARGET_LUFS`], by integrated loudness (EBU R 128, ITU-R BS.1770);
/// `None` for one so short or so faint that it has no loudness.
#[must_use]
#[expect(clippy::cast_possible_truncation, reason = "a gain")]
pub fn gain_to_target(frames: &[[f32; 2]], rate: u32) -> Option<f32> {
    let mut meter = EbuR128::new(2, rate, Mode::I).ok()?;
    for block in frames.chunks(rate.max(1) as usize) {
        meter.add_frames_f32(block.as_flattened()).ok()?;
    }
    let loudness = meter.loudness_global().ok().filter(|loudness| loudness.is_finite())?;
    Some((TARGET_LUFS - loudness).min(MOST_GAIN_DB) as f32)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use super::gain_to_target;

    #[expect(clippy::cast_possible_truncation, reason = "test samples")]
    fn tone(peak_db: f64) -> Vec<[f32; 2]> {
        let peak = 10.0_f64.powf(peak_db / 20.0);
        (0_u32..5 * 48_000).map(|n| [(peak * (TAU * 997.0 * f64::from(n) / 48_000.0).sin()) as f32; 2]).collect()
    }

    /// EBU Tech 3341, case 1: a 1 kHz sine in both channels at −23 dBFS reads −23 LUFS.
    #[test]
    fn the_gain_is_what_is_missing_to_the_target() {
        for (peak_db, gain_db) in [(-23.0, 5.0), (-18.0, 0.0), (-6.0, -12.0), (-60.0, 24.0)] {
            let found = gain_to_target(&tone(peak_db), 48_000).expect("it has a loudness");
            assert!((found - gain_db).abs() < 0.1, "{peak_db} dB: {found}");
        }
        assert_eq!(gain_to_target(&vec![[0.0; 2]; 96_000], 48_000), None);
        assert_eq!(gain_to_target(&[], 48_000), None);
    }
}
