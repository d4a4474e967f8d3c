//! What is counted aloud on each slot of a bar, and which way the hand swings there.

use std::fmt;

use crate::meter::Meter;
use crate::pattern::{Direction, Grid};
use crate::score::{Score, Slot};
use crate::units::{TICKS_PER_QUARTER, Tick};

/// How triplets are counted: teachers differ, so it is a setting.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum TripletCount {
    /// `1 trip let`.
    #[default]
    TripLet,
    /// `1 & a`.
    AndA,
}

/// What is counted on a slot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Count {
    /// A counted note, from 1.
    Number(u32),
    /// `&`, half-way (or a third of the way, as a teacher likes it).
    And,
    /// `e`, a quarter of the way.
    E,
    /// `a`, the last part before the next number.
    A,
    /// `trip`, a third of the way.
    Trip,
    /// `let`, two thirds of the way.
    Let,
    /// A slot too fine to be counted.
    Uncounted,
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Number(number) => return number.fmt(f),
            Self::And => "&",
            Self::E => "e",
            Self::A => "a",
            Self::Trip => "trip",
            Self::Let => "let",
            Self::Uncounted => "·",
        })
    }
}

/// What is counted on slot `slot` of a bar (from 0; slots beyond the bar belong to the bars after it).
///
/// The counted note is the meter's lower number: quarters in x/4, eighths in 6/8 and 12/8 (`1 2 3 4 5 6`). Eighths
/// `1 & 2 &`, sixteenths `1 e & a`, triplets as `triplets` says: common practice, no source. Swung eighths are
/// counted as even ones are.
#[must_use]
pub fn counts(meter: Meter, grid: Grid, slot: u32, triplets: TripletCount) -> Count {
    count_at(meter, even_start(grid, slot), triplets)
}

/// Which way a hand that never stops swinging goes on slot `slot` of a bar (from 0; slots beyond the bar belong to
/// the bars after it).
///
/// Duple grids: even slot down, odd up, so that sixteenths go down on the number and `&`, up on `e` and `a`.
/// Quarters go down every time, the hand coming back between. In compound meters and for triplets each beat starts
/// down and alternates within. Every bar starts down. All common practice.
#[must_use]
pub fn pendulum(meter: Meter, grid: Grid, slot: u32) -> Direction {
    let at = Tick(even_start(grid, slot).0 % meter.bar().0);
    let step = TICKS_PER_QUARTER / grid.per_quarter();
    let swing = match grid {
        Grid::Quarters => 0,
        Grid::Triplets => at.0 % TICKS_PER_QUARTER / step,
        _ if meter.is_compound() => at.0 % meter.beat().0 / step,
        _ => at.0 / step,
    };
    if swing.is_multiple_of(2) { Direction::Down } else { Direction::Up }
}

impl Score {
    /// What is counted on a slot of this score. It goes by the slot's place in its bar, so that a bar made of two
    /// half-bar patterns on different grids still counts right.
    #[must_use]
    pub fn count(&self, slot: &Slot, triplets: TripletCount) -> Count {
        let bar = &self.bars[slot.bar];
        let offset = slot.at - bar.start;
        let even = match slot.grid {
            Grid::SwungEighths { .. } if !offset.0.is_multiple_of(TICKS_PER_QUARTER) => {
                Tick(offset.0 / TICKS_PER_QUARTER * TICKS_PER_QUARTER + TICKS_PER_QUARTER / 2)
            }
            _ => offset,
        };
        count_at(bar.meter, even, triplets)
    }
}

/// Where a slot would lie were its grid not swung.
const fn even_start(grid: Grid, slot: u32) -> Tick {
    match grid {
        Grid::SwungEighths { .. } => Grid::Eighths.slot_start(slot),
        even => even.slot_start(slot),
    }
}

/// What is counted at a place in a bar.
fn count_at(meter: Meter, at: Tick, triplets: TripletCount) -> Count {
    let counted = TICKS_PER_QUARTER * 4 / u32::from(meter.unit());
    let at = at.0 % meter.bar().0;
    let twelfths = at % counted * 12;
    if !twelfths.is_multiple_of(counted) {
        return Count::Uncounted;
    }
    match (twelfths / counted, triplets) {
        (0, _) => Count::Number(at / counted + 1),
        (6, _) | (4, TripletCount::AndA) => Count::And,
        (3, _) => Count::E,
        (9, _) | (8, TripletCount::AndA) => Count::A,
        (4, TripletCount::TripLet) => Count::Trip,
        (8, TripletCount::TripLet) => Count::Let,
        _ => Count::Uncounted,
    }
}
