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

    /// Year, month from 1 and day from 1 of the proleptic Gregorian calendar (the era arithmetic of Hinnant,
    /// "chrono-Compatible Low-Level Date Algorithms").
    #[must_use]
    pub const fn date(self) -> (i64, u8, u8) {
        let shifted = self.0.saturating_add(719_468);
        let era = shifted.div_euclid(146_097);
        let day_of_era = shifted.rem_euclid(146_097);
        let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
        let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
        let from_march = (5 * day_of_year + 2) / 153;
        let day = day_of_year - (153 * from_march + 2) / 5 + 1;
        let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
        let january_or_february = if month <= 2 { 1 } else { 0 };
        (year_of_era + era * 400 + january_or_february, month as u8, day as u8)
    }
}

#[cfg(test)]
mod tests {
    use super::Day;

    /// Unix day numbers as `date -u -d @$((86400*n)) +%F` prints them.
    #[test]
    fn days_have_their_calendar_dates() {
        let check = |day, expected| assert_eq!(Day(day).date(), expected);
        check(0, (1970, 1, 1));
        check(-1, (1969, 12, 31));
        check(11_016, (2000, 2, 29));
        check(19_782, (2024, 2, 29));
        check(20_664, (2026, 7, 30));
        check(47_540, (2100, 2, 28));
        check(47_541, (2100, 3, 1));
    }
}
