//! How strong each semitone is when a string sounds: a row of partials, smeared by the length of the look.

use std::f64::consts::PI;

use super::spans::LOOKS_S;
use super::spectrum::{LOWEST_KEY, NEAR_CENTS, ROWS, Rows, hertz};

/// Partials of a string that matter.
const PARTIALS: u32 = 10;
/// Partial k is k^−ROLLOFF as high as the first. Steel strings fall by 9 to 11 dB an octave (measured on the FluidR3
/// samples): 1.5 to 1.8.
const ROLLOFF: f64 = 1.5;
/// Partial k of a stiff string lies at k f √(1 + B k²) (Fletcher 1964): B of a guitar's strings is 0.00005 to 0.0004.
const STIFFNESS: f64 = 0.000_1;
/// A partial's height below which its smear is forgotten, re the peak.
const SMEAR_FLOOR: f64 = 0.003;

/// The highest key a string's spectrum is made for.
pub(super) const HIGHEST_KEY: u8 = 88;

/// Spectra of one string at each key, for one length of look.
pub(super) struct Strings(Vec<Rows>);

impl Strings {
    pub(super) fn new(length: usize) -> Self {
        Self((LOWEST_KEY..=HIGHEST_KEY).map(|key| spectrum(f64::from(key - LOWEST_KEY), LOOKS_S[length])).collect())
    }

    /// Power in each row of a string at `key`, the first partial 1.
    pub(super) fn at(&self, key: u8) -> Option<&Rows> {
        self.0.get(usize::from(key.checked_sub(LOWEST_KEY)?))
    }
}

#[expect(clippy::cast_possible_truncation, reason = "powers")]
fn spectrum(row: f64, look_s: f64) -> Rows {
    let mut rows = [0.0_f32; ROWS];
    let near = (NEAR_CENTS / 1200.0).exp2() - 1.0;
    for k in (1..=PARTIALS).map(f64::from) {
        let at_hz = k * hertz(row, 0.0) * (1.0 + STIFFNESS * k * k).sqrt();
        for (index, power) in (0_u8..).zip(&mut rows) {
            let row_hz = hertz(f64::from(index), 0.0);
            let apart_hz = ((at_hz - row_hz).abs() - near * row_hz).max(0.0);
            let height = k.powf(-ROLLOFF) * smear(apart_hz * look_s);
            *power += (height * height) as f32;
        }
    }
    rows
}

/// The transform of a Hann window so many bins from its middle, the main lobe only.
fn smear(bins: f64) -> f64 {
    let height = if bins < 1e-6 {
        1.0
    } else if (bins - 1.0).abs() < 1e-6 {
        0.5
    } else if bins < 2.0 {
        (PI * bins).sin() / (PI * bins * (1.0 - bins * bins))
    } else {
        0.0
    };
    if height < SMEAR_FLOOR { 0.0 } else { height }
}
