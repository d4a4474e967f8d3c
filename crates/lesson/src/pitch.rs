//! Pitches as MIDI key numbers, and their frequencies.

use std::fmt;

/// A sounding pitch as a MIDI key number: 69 is the A above middle C.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Pitch(pub u8);

impl Pitch {
    /// Frequency in hertz, in equal temperament at A4 = 440 Hz (ISO 16).
    #[must_use]
    pub fn hertz(self) -> f64 {
        440.0 * ((f64::from(self.0) - 69.0) / 12.0).exp2()
    }

    /// The pitch class, 0 (C) to 11 (B).
    #[must_use]
    pub const fn class(self) -> u8 {
        self.0 % 12
    }

    /// The name of the pitch class, with real signs, as guitarists usually spell it: common practice, no source.
    #[must_use]
    pub fn class_name(self) -> &'static str {
        const NAMES: [&str; 12] = ["C", "C♯", "D", "E♭", "E", "F", "F♯", "G", "A♭", "A", "B♭", "B"];
        NAMES[usize::from(self.class())]
    }

    /// This pitch raised by whole semitones.
    #[must_use]
    pub const fn up(self, semitones: u8) -> Self {
        Self(self.0.saturating_add(semitones))
    }

    /// Reads `E2`, `F#3`, `Bb1`: a letter, an optional `#` or `b`, an octave where C4 is middle C.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut chars = text.chars();
        let natural: i32 = match chars.next()?.to_ascii_uppercase() {
            'C' => 0,
            'D' => 2,
            'E' => 4,
            'F' => 5,
            'G' => 7,
            'A' => 9,
            'B' => 11,
            _ => return None,
        };
        let rest = chars.as_str();
        let (alter, octave) = match rest.chars().next()? {
            '#' | '♯' => (1, rest.trim_start_matches(['#', '♯'])),
            'b' | '♭' => (-1, rest.trim_start_matches(['b', '♭'])),
            _ => (0, rest),
        };
        let octave: i32 = octave.parse().ok()?;
        let key = (octave.checked_add(1)?).checked_mul(12)?.checked_add(natural + alter)?;
        u8::try_from(key).ok().filter(|key| *key < 128).map(Self)
    }
}

impl fmt::Display for Pitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.class_name(), i32::from(self.0) / 12 - 1)
    }
}
