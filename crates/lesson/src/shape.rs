//! Where the fingers go for a chord.

use crate::pitch::Pitch;
use crate::tuning::Tuning;

/// What one string does in a shape. Frets count from the capo.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StringUse {
    /// Kept silent.
    Muted,
    /// Rings open.
    Open,
    /// Stopped at a fret, 1 to 24.
    Fret(u8),
}

impl StringUse {
    /// The fret that sounds: 0 for open, `None` when muted.
    #[must_use]
    pub const fn fret(self) -> Option<u8> {
        match self {
            Self::Muted => None,
            Self::Open => Some(0),
            Self::Fret(fret) => Some(fret),
        }
    }
}

/// A finger of the fretting hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Finger {
    /// The thumb, over the neck.
    Thumb,
    /// 1.
    Index,
    /// 2.
    Middle,
    /// 3.
    Ring,
    /// 4.
    Little,
}

impl Finger {
    /// As printed in a diagram's dot.
    #[must_use]
    pub const fn letter(self) -> char {
        match self {
            Self::Thumb => 'T',
            Self::Index => '1',
            Self::Middle => '2',
            Self::Ring => '3',
            Self::Little => '4',
        }
    }
}

/// One finger laid across several strings.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Barre {
    /// Fret, from the capo.
    pub fret: u8,
    /// The string it starts on, as an index in written order (heavier side).
    pub from: usize,
    /// The string it ends on, as an index in written order, inclusive.
    pub to: usize,
    /// Which finger.
    pub finger: Finger,
}

/// How a muted string is to be kept silent, in the teacher's words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MuteNote {
    /// The string, as an index in written order.
    pub string: usize,
    /// For example "the tip of finger 3".
    pub with: String,
}

/// A fingered chord.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shape {
    /// The teacher's name for it, as written in the lesson.
    pub name: String,
    /// One entry a string, in written order.
    pub strings: Vec<StringUse>,
    /// One entry a string, in written order; `None` where no finger is named or needed.
    pub fingers: Vec<Option<Finger>>,
    /// Barres, lowest fret first.
    pub barres: Vec<Barre>,
    /// Name of an easier shape that may replace this one.
    pub stand_in: Option<String>,
    /// How to keep strings silent.
    pub mute_notes: Vec<MuteNote>,
}

impl Shape {
    /// What each string sounds, `None` when muted; frets beyond the capo add to it.
    #[must_use]
    pub fn pitches(&self, tuning: &Tuning, capo: u8) -> Vec<Option<Pitch>> {
        self.strings
            .iter()
            .zip(tuning.open())
            .map(|(string, open)| string.fret().map(|fret| open.up(fret).up(capo)))
            .collect()
    }
}
