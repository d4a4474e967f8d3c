//! Practice days by the calendar, as they are written.

use std::fmt;
use std::str::FromStr;

use crate::moment::Day;

/// A date of the Gregorian calendar in the years 1 to 9999, written `2031-01-28` (ISO 8601).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

/// What was written is no date.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NoDate;

impl Date {
    /// The date of a practice day; days outside the years 1 to 9999 have the nearest one inside.
    #[must_use]
    pub fn of(day: Day) -> Self {
        const FIRST: i64 = -719_162;
        const LAST: i64 = 2_932_896;
        let (year, month, day) = Day(day.0.clamp(FIRST, LAST)).date();
        Self { year: u16::try_from(year).expect("clamped to these years"), month, day }
    }

    /// The year, 1 to 9999.
    #[must_use]
    pub const fn year(self) -> u16 {
        self.year
    }

    /// The month, 1 to 12.
    #[must_use]
    pub const fn month(self) -> u8 {
        self.month
    }

    /// The day of the month, from 1.
    #[must_use]
    pub const fn day_of_month(self) -> u8 {
        self.day
    }

    /// The practice day of this date.
    #[must_use]
    pub fn day(self) -> Day {
        // The era arithmetic of Hinnant, "chrono-Compatible Low-Level Date Algorithms": years begin with March.
        let year = i64::from(self.year) - i64::from(self.month <= 2);
        let from_march = (i64::from(self.month) + 9) % 12;
        let day_of_year = (153 * from_march + 2) / 5 + i64::from(self.day) - 1;
        let era = year.div_euclid(400);
        let year_of_era = year.rem_euclid(400);
        let day_of_era = 365 * year_of_era + year_of_era / 4 - year_of_era / 100 + day_of_year;
        Day(era * 146_097 + day_of_era - 719_468)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

impl FromStr for Date {
    type Err = NoDate;

    fn from_str(text: &str) -> Result<Self, NoDate> {
        let part = |range, digits: usize| {
            let part = text.get(range).filter(|part: &&str| part.bytes().all(|byte| byte.is_ascii_digit()));
            part.filter(|part| part.len() == digits).and_then(|part| part.parse::<u16>().ok())
        };
        let (year, month, day) = (part(0..4, 4), part(5..7, 2), part(8..10, 2));
        let (Some(year), Some(month), Some(day)) = (year, month, day) else { return Err(NoDate) };
        let (Ok(month), Ok(day)) = (u8::try_from(month), u8::try_from(day)) else { return Err(NoDate) };
        let date = Self { year, month, day };
        let written = text.len() == 10 && text.as_bytes()[4] == b'-' && text.as_bytes()[7] == b'-';
        // The 31st of a month of thirty days comes back as another day.
        let is_there = year >= 1 && (1..=12).contains(&month) && day >= 1 && Self::of(date.day()) == date;
        if written && is_there { Ok(date) } else { Err(NoDate) }
    }
}

impl fmt::Display for NoDate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a date is written year-month-day, as in 2031-01-28")
    }
}

impl std::error::Error for NoDate {}

#[cfg(test)]
mod tests {
    use super::{Date, NoDate};
    use crate::moment::Day;

    /// Unix day numbers as `date -u -d @$((86400*n)) +%F` prints them.
    #[test]
    fn days_have_their_calendar_dates_and_back() {
        let check = |day, written: &str| {
            assert_eq!(Date::of(Day(day)).to_string(), written);
            assert_eq!(written.parse::<Date>().map(Date::day), Ok(Day(day)));
        };
        check(0, "1970-01-01");
        check(-1, "1969-12-31");
        check(11_016, "2000-02-29");
        check(19_782, "2024-02-29");
        check(20_664, "2026-07-30");
        check(47_540, "2100-02-28");
        check(47_541, "2100-03-01");
        check(-719_162, "0001-01-01");
        check(2_932_896, "9999-12-31");
        for day in -3_000..40_000 {
            assert_eq!(Date::of(Day(day)).day(), Day(day));
        }
    }

    #[test]
    fn what_is_no_date_is_refused() {
        for written in [
            "",
            "2031",
            "2031-1-28",
            "2031-02-29",
            "2031-04-31",
            "2031-13-01",
            "2031-00-01",
            "2031-01-00",
            "0000-01-01",
            "2031/01/28",
            "2031-01-28 ",
            "+031-01-28",
            "2031-01-+8",
            "20é1-01-28",
            "28-01-2031",
        ] {
            assert_eq!(written.parse::<Date>(), Err(NoDate), "{written:?}");
        }
    }
}
