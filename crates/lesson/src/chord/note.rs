//! Notes by name, without an octave.

use std::fmt;

/// Pitch classes of the letters C to B.
const LETTERS: [u8; 7] = [0, 2, 4, 5, 7, 9, 11];

/// A letter with its sharps or flats.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Note {
    /// 0 (C) to 6 (B).
    letter: u8,
    /// Semitones up, −3 to 3.
    alter: i8,
}

impl Note {
    /// A note at the head of a text, and what follows it.
    pub(super) fn at_head(text: &str) -> Option<(Self, &str)> {
        let letter = "CDEFGAB".find(text.chars().next()?)?;
        let mut rest = &text[1..];
        let mut alter = 0;
        while let Some(sign) = rest.chars().next().filter(|_| (-1..=1).contains(&alter)) {
            alter += match sign {
                '#' | '♯' if alter >= 0 => 1,
                'b' | '♭' if alter <= 0 => -1,
                _ => break,
            };
            rest = &rest[sign.len_utf8()..];
        }
        Some((Self { letter: u8::try_from(letter).ok()?, alter }, rest))
    }

    /// Its pitch class, 0 (C) to 11 (B).
    #[must_use]
    pub fn class(self) -> u8 {
        let class = i16::from(LETTERS[usize::from(self.letter)]) + i16::from(self.alter);
        u8::try_from(class.rem_euclid(12)).expect("less than 12")
    }

    /// The letter's number, 0 (C) to 6 (B).
    #[must_use]
    pub const fn letter(self) -> u8 {
        self.letter
    }

    /// Semitones its signs raise the letter by.
    #[must_use]
    pub const fn alter(self) -> i8 {
        self.alter
    }

    pub(super) fn is_flat(self) -> bool {
        self.alter < 0 || (self.letter == 3 && self.alter == 0)
    }

    /// The pitch class `class` as a degree above this note.
    pub(super) fn at_degree(self, degree: u8, class: u8) -> Self {
        let letter = (self.letter + degree.max(1) - 1) % 7;
        let alter = (i16::from(class) - i16::from(LETTERS[usize::from(letter)]) + 6).rem_euclid(12) - 6;
        Self { letter, alter: i8::try_from(alter).expect("from -6 to 5") }
    }

    /// A pitch class by its letter alone, or the letter with one sign.
    pub(super) fn nearest(class: u8, flat: bool) -> Self {
        let natural = |class: u8| LETTERS.iter().position(|own| *own == class % 12);
        let (letter, alter) = match natural(class) {
            Some(letter) => (letter, 0),
            None if flat => (natural(class + 1).expect("next to a black key lie white ones"), -1),
            None => (natural(class + 11).expect("next to a black key lie white ones"), 1),
        };
        Self { letter: u8::try_from(letter).expect("less than 7"), alter }
    }
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let letter = &"CDEFGAB"[usize::from(self.letter)..=usize::from(self.letter)];
        let sign = if self.alter < 0 { "b" } else { "#" };
        write!(f, "{letter}{}", sign.repeat(usize::from(self.alter.unsigned_abs())))
    }
}
