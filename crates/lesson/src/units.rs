//! Musical time and tempo as integers, so that nothing drifts.

use std::iter::Sum;
use std::ops::{Add, AddAssign, Mul, Sub};

/// Ticks in one quarter note: divisible by 2, 3, 4, 5, 6 and 8 parts.
pub const TICKS_PER_QUARTER: u32 = 960;

/// A musical position or length, in 1/960 of a quarter note.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tick(pub u32);

impl Tick {
    /// The first instant, and the empty length.
    pub const ZERO: Self = Self(0);

    /// `self − other`, or zero where that would be negative.
    #[must_use]
    pub const fn saturating_sub(self, other: Self) -> Self {
        Self(self.0.saturating_sub(other.0))
    }
}

impl Add for Tick {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl AddAssign for Tick {
    fn add_assign(&mut self, other: Self) {
        self.0 += other.0;
    }
}

impl Sub for Tick {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl Mul<u32> for Tick {
    type Output = Self;
    fn mul(self, times: u32) -> Self {
        Self(self.0 * times)
    }
}

impl Sum for Tick {
    fn sum<I: Iterator<Item = Self>>(ticks: I) -> Self {
        ticks.fold(Self::ZERO, Add::add)
    }
}

/// A tempo in thousandths of a beat per minute, from 10 to 400 bpm. What a beat is, the lesson says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Tempo(u32);

impl Tempo {
    /// The slowest tempo taken, in milli-bpm.
    pub const MIN_MILLI_BPM: u32 = 10_000;
    /// The fastest tempo taken, in milli-bpm.
    pub const MAX_MILLI_BPM: u32 = 400_000;

    /// A tempo from beats per minute; `None` outside 10 to 400, or when not a number.
    #[must_use]
    pub fn from_bpm(bpm: f64) -> Option<Self> {
        let milli = (bpm * 1000.0).round();
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the range is checked")]
        (f64::from(Self::MIN_MILLI_BPM)..=f64::from(Self::MAX_MILLI_BPM)).contains(&milli).then_some(Self(milli as u32))
    }

    /// A tempo from milli-bpm; `None` outside 10 to 400 bpm.
    #[must_use]
    pub fn from_milli_bpm(milli: u32) -> Option<Self> {
        (Self::MIN_MILLI_BPM..=Self::MAX_MILLI_BPM).contains(&milli).then_some(Self(milli))
    }

    /// Thousandths of a beat per minute.
    #[must_use]
    pub const fn milli_bpm(self) -> u32 {
        self.0
    }

    /// Beats per minute.
    #[must_use]
    pub fn bpm(self) -> f64 {
        f64::from(self.0) / 1000.0
    }
}
