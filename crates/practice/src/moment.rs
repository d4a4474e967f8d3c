//! Wall-clock moments and practice days, handed in by whoever has a clock.

/// Seconds since 1970-01-01 00:00 UTC.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(pub i64);

/// Seconds by which local time is ahead of UTC.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct UtcOffset(pub i32);

/// A practice day, counted from 1970-01-01. It begins at [`Moment::DAY_BEGINS_S`] local time.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Day(pub i64);

impl Moment {
    /// A practice day begins at four in the morning, so that playing past midnight belongs to the evening before: a
    /// design choice of ours.
    pub const DAY_BEGINS_S: i64 = 4 * 3600;

    /// Seconds from `earlier` to here; negative when the clock was set back in between.
    #[must_use]
    pub const fn since(self, earlier: Self) -> i64 {
        self.0.saturating_sub(earlier.0)
    }

    /// The practice day this moment belongs to where local time is `zone`.
    #[must_use]
    pub const fn day(self, zone: UtcOffset) -> Day {
        Day(self.0.saturating_add(zone.0 as i64 - Self::DAY_BEGINS_S).div_euclid(86_400))
    }
}

impl Day {
    /// When the day begins where local time is `zone`.
    #[must_use]
    pub const fn begins(self, zone: UtcOffset) -> Moment {
        Moment(self.0.saturating_mul(86_400).saturating_add(Moment::DAY_BEGINS_S - zone.0 as i64))
    }
}
