//! Strokes on a beat grid.

use crate::units::{TICKS_PER_QUARTER, Tick};

/// The grid a pattern's strokes stand on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grid {
    /// One slot a quarter.
    Quarters,
    /// Two even slots a quarter.
    Eighths,
    /// Two slots a quarter, the first `long` parts and the second `short` parts of it: 2:1 is a shuffle.
    SwungEighths {
        /// Parts of the first slot, 1 to 16.
        long: u8,
        /// Parts of the second slot, 1 to 16.
        short: u8,
    },
    /// Three slots a quarter.
    Triplets,
    /// Four slots a quarter.
    Sixteenths,
}

impl Grid {
    /// Slots in one quarter note.
    #[must_use]
    pub const fn per_quarter(self) -> u32 {
        match self {
            Self::Quarters => 1,
            Self::Eighths | Self::SwungEighths { .. } => 2,
            Self::Triplets => 3,
            Self::Sixteenths => 4,
        }
    }

    /// Where slot `index` begins, counted from the start of the pattern. Exact for every grid but an odd swing
    /// ratio, which is rounded to the nearest tick once a slot.
    #[must_use]
    pub const fn slot_start(self, index: u32) -> Tick {
        let per = self.per_quarter();
        let whole = index / per * TICKS_PER_QUARTER;
        let part = match self {
            Self::SwungEighths { long, short } if index % 2 == 1 => {
                let parts = long as u32 + short as u32;
                (TICKS_PER_QUARTER * long as u32 + parts / 2) / parts
            }
            _ => index % per * TICKS_PER_QUARTER / per,
        };
        Tick(whole + part)
    }
}

/// Which way the hand moves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Direction {
    /// From the heavy strings to the light.
    Down,
    /// From the light strings to the heavy.
    Up,
}

/// How loud a stroke is meant.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Dynamic {
    /// Softer than the rest.
    Soft,
    /// As usual.
    #[default]
    Plain,
    /// Accented.
    Accent,
}

/// What the hand does in one slot.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Action {
    /// The strings of the shape are struck.
    Strum,
    /// The strings are struck deadened.
    Chuck,
    /// Only the lowest sounding string is struck.
    Bass,
    /// The hand moves past the strings in silence.
    Air,
    /// The hand rests and whatever sounds rings on.
    Ring,
    /// The hand stops the strings.
    Stop,
}

impl Action {
    /// Whether a stroke is meant to be heard here.
    #[must_use]
    pub const fn sounds(self) -> bool {
        matches!(self, Self::Strum | Self::Chuck | Self::Bass)
    }
}

/// One slot of a pattern.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stroke {
    /// What the hand does.
    pub action: Action,
    /// Which way it goes; for `Ring` and `Stop` the way it would have gone.
    pub direction: Direction,
    /// How loud.
    pub dynamic: Dynamic,
    /// Whether the pattern's next chord begins with this slot.
    pub changes: bool,
}

/// A named row of strokes: any number of whole or half bars.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Pattern {
    /// The teacher's name for it.
    pub name: String,
    /// The grid its slots stand on.
    pub grid: Grid,
    /// One entry a slot.
    pub strokes: Vec<Stroke>,
}

impl Pattern {
    /// Its whole length.
    #[must_use]
    pub fn length(&self) -> Tick {
        self.grid.slot_start(u32::try_from(self.strokes.len()).unwrap_or(u32::MAX))
    }

    /// How many chords beyond the first it takes.
    #[must_use]
    pub fn change_points(&self) -> usize {
        self.strokes.iter().filter(|stroke| stroke.changes).count()
    }
}
