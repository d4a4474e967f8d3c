//! Which string is meant by a frequency, and how far it is from its pitch.

use sixrung_lesson::{Pitch, Tuning};

/// So far from every string a pitch is none of them, in cents: the middle between two strings a fourth apart lies at
/// 250, and a new string may be slacker than that. A design choice of ours.
const REACH: f64 = 450.0;
/// A string asked for is followed so far: an octave's confusion lies beyond. A design choice of ours.
const PINNED_REACH: f64 = 700.0;
/// Another string must be nearer by so much before a sounding note changes its name, so that a peg turned past the
/// middle stays with its string. A design choice of ours.
const HOLD: f64 = 100.0;

/// So near a string a pitch is plainly that string's: half the least interval of a guitar's strings, and more than
/// strings are usually off. A design choice of ours.
const PLAIN: f64 = 150.0;

/// The open strings as they should sound.
#[derive(Clone, Debug)]
pub(super) struct Strings(Vec<Pitch>);

/// A string and how far off it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Meant {
    /// Index in the tuning.
    pub(super) string: usize,
    /// Cents above its pitch.
    pub(super) cents: f64,
}

impl Strings {
    pub(super) fn new(tuning: &Tuning, capo: u8) -> Self {
        Self(tuning.open().iter().map(|pitch| pitch.up(capo)).collect())
    }

    pub(super) fn pitch(&self, string: usize) -> Pitch {
        self.0[string]
    }

    pub(super) fn count(&self) -> usize {
        self.0.len()
    }

    /// The lowest frequency that can be meant, in hertz.
    pub(super) fn lowest_hz(&self) -> f64 {
        let lowest = self.0.iter().map(|pitch| pitch.hertz()).fold(f64::INFINITY, f64::min);
        lowest * (-PINNED_REACH / 1200.0).exp2()
    }

    /// Whether `hertz` is plainly one of the strings, or the one asked for.
    pub(super) fn is_plain(&self, hertz: f64, pinned: Option<usize>) -> bool {
        if pinned.is_some() {
            return self.meant(hertz, pinned, None).is_some();
        }
        self.meant(hertz, None, None).is_some_and(|meant| meant.cents.abs() <= PLAIN)
    }

    /// The string meant by `hertz`: the one asked for, or the nearest; `held` is what the note is called so far.
    pub(super) fn meant(&self, hertz: f64, pinned: Option<usize>, held: Option<usize>) -> Option<Meant> {
        let off = |string: usize| Meant { string, cents: cents(hertz, self.0[string].hertz()) };
        if let Some(string) = pinned {
            return Some(off(string)).filter(|meant| meant.cents.abs() <= PINNED_REACH);
        }
        let nearest = (0..self.0.len()).map(off).min_by(|a, b| a.cents.abs().total_cmp(&b.cents.abs()))?;
        let held = held.map(off).filter(|held| held.cents.abs() <= nearest.cents.abs() + HOLD);
        Some(held.unwrap_or(nearest)).filter(|meant| meant.cents.abs() <= REACH)
    }
}

/// The interval from `from` to `hertz`: 1200 cents an octave (Ellis; ISO 16 gives the A).
pub(super) fn cents(hertz: f64, from: f64) -> f64 {
    1200.0 * (hertz / from).log2()
}
