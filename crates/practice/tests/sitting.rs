//! Days, and breaks from playing.

use sixrung_practice::{BreakDue, BreakRules, Day, Moment, Sitting, UtcOffset};

#[test]
fn a_practice_day_begins_at_four_in_the_morning_local_time() {
    let check =
        |moment: i64, zone: i32, day: i64| assert_eq!(Moment(moment).day(UtcOffset(zone)), Day(day), "{moment}");
    check(4 * 3600, 0, 0);
    check(4 * 3600 - 1, 0, -1);
    check(28 * 3600 - 1, 0, 0);
    check(3 * 3600, 3600, 0);
    check(i64::MAX, 0, (i64::MAX - 4 * 3600) / 86_400);
    for zone in [-12 * 3600, 0, 19_800, 14 * 3600] {
        let begins = Day(20_000).begins(UtcOffset(zone));
        assert_eq!(begins.day(UtcOffset(zone)), Day(20_000));
        assert_eq!(Moment(begins.0 - 1).day(UtcOffset(zone)), Day(19_999));
    }
}

/// Minutes of playing, each followed by a pause in minutes, and what is due after the playing.
fn check(rows: &[(u32, i64, Option<BreakDue>)]) {
    let mut sitting = Sitting::default();
    let mut now = Moment(0);
    for (row, (played_min, pause_min, expected)) in rows.iter().enumerate() {
        now.0 += i64::from(*played_min) * 60;
        assert_eq!(sitting.played(played_min * 60, &BreakRules::default(), now), *expected, "row {row}");
        now.0 += pause_min * 60;
    }
}

#[test]
fn a_break_is_suggested_at_25_minutes_played_and_firm_at_50() {
    check(&[
        (20, 0, None),
        (5, 0, Some(BreakDue::Suggested { played_min: 25 })),
        (20, 0, None),
        (10, 0, Some(BreakDue::Firm { played_min: 55 })),
        (10, 0, None),
    ]);
}

#[test]
fn five_minutes_without_playing_are_a_break() {
    check(&[
        (24, 5, None),
        (24, 4, None),
        (1, 5, Some(BreakDue::Suggested { played_min: 25 })),
        (24, 0, None),
        (1, 0, Some(BreakDue::Suggested { played_min: 25 })),
    ]);
}
