//! The mains' hum, which has a pitch but is no string.

use super::strings::cents;

/// Mains frequencies in hertz, and the harmonics that hum is loudest at.
const MAINS_HZ: [f64; 2] = [50.0, 60.0];
const HARMONICS: u32 = 4;
/// Grids stay within ±0.2 Hz nearly always (EN 50160 allows ±1 % in 99.5 % of a year), some 7 cents at 50 Hz.
const NEAR_CENTS: f64 = 7.0;

/// Whether hum could sound like this.
pub(super) fn could_be_hum(hertz: f64) -> bool {
    MAINS_HZ
        .iter()
        .any(|mains| (1..=HARMONICS).any(|harmonic| cents(hertz, mains * f64::from(harmonic)).abs() <= NEAR_CENTS))
}

/// A string has fallen by this soon, in decibels; hum never falls. Steel strings lose 4 dB a second at the slowest
/// (T60 of FluidR3's lowest string 14.7 s), and more just after the pluck.
pub(super) const STRINGS_FALL_DB: f32 = 1.0;
