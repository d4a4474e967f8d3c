//! Meters: how a bar divides, and where its beats fall.

use crate::units::{TICKS_PER_QUARTER, Tick};

/// The note value a tempo counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum BeatUnit {
    /// An eighth note.
    Eighth,
    /// A quarter note.
    Quarter,
    /// A dotted quarter note, the beat of 6/8 and 12/8.
    DottedQuarter,
    /// A half note.
    Half,
}

impl BeatUnit {
    /// Its length.
    #[must_use]
    pub const fn ticks(self) -> Tick {
        Tick(match self {
            Self::Eighth => TICKS_PER_QUARTER / 2,
            Self::Quarter => TICKS_PER_QUARTER,
            Self::DottedQuarter => TICKS_PER_QUARTER * 3 / 2,
            Self::Half => TICKS_PER_QUARTER * 2,
        })
    }
}

/// A time signature: `count` notes of 1/`unit` in a bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Meter {
    count: u8,
    unit: u8,
}

impl Meter {
    /// Four quarters.
    pub const COMMON: Self = Self { count: 4, unit: 4 };

    /// A meter of 1 to 16 halves, quarters, eighths or sixteenths; `None` for any other.
    #[must_use]
    pub const fn new(count: u8, unit: u8) -> Option<Self> {
        if count >= 1 && count <= 16 && matches!(unit, 2 | 4 | 8 | 16) { Some(Self { count, unit }) } else { None }
    }

    /// The upper number.
    #[must_use]
    pub const fn count(self) -> u8 {
        self.count
    }

    /// The lower number.
    #[must_use]
    pub const fn unit(self) -> u8 {
        self.unit
    }

    /// Length of a bar.
    #[must_use]
    pub const fn bar(self) -> Tick {
        Tick(TICKS_PER_QUARTER * 4 / self.unit as u32 * self.count as u32)
    }

    /// Whether the beat divides in three: 6/8, 9/8, 12/8 and their like.
    #[must_use]
    pub const fn is_compound(self) -> bool {
        self.unit >= 8 && self.count > 3 && self.count.is_multiple_of(3)
    }

    /// The felt beat: a dotted value in compound meters, else the unit itself.
    #[must_use]
    pub const fn beat(self) -> Tick {
        let unit = TICKS_PER_QUARTER * 4 / self.unit as u32;
        Tick(if self.is_compound() { unit * 3 } else { unit })
    }

    /// Felt beats in a bar.
    #[must_use]
    pub const fn beats(self) -> u32 {
        self.bar().0 / self.beat().0
    }
}
