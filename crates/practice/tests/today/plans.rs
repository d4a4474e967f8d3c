//! Plans for a day, as readable lines: minutes, what, and why.
//!
//! The order of the parts is that of the trainer's own rules (a design choice of ours); what they rest on stands in the
//! module's own comment.

use sixrung_practice::today::{Rest, SongToday, TodayRequest, plan};
use sixrung_practice::{Held, Marked, Moment, Policy, RestReason, SessionEnd, Step, UtcOffset};

use crate::days::{DAY, HOUR, NOW, change, climbed, done_till, lines, measured, request, section};

fn check(request: &TodayRequest, expected: &[&str]) {
    let plan = plan(request);
    assert_eq!(lines(&plan), expected);
    assert_eq!(plan.minutes() + plan.spare_min, request.minutes);
}

#[test]
fn a_beginner_goes_from_shapes_to_changes_and_on() {
    let song = || vec![section(0, 1), section(1, 3)];
    check(&request(5, song()), &["5 step 1 Shapes: first of all x3"]);
    check(&request(10, song()), &["5 step 1 Shapes: first of all x3", "5 step 1 Changes: after Shapes"]);
    let long = [
        "5 step 1 Shapes: first of all x3",
        "5 step 1 Changes: after Shapes",
        "4 step 1 OneStroke: after Changes",
        "5 break: played 14",
        "4 step 1 OneChord: after OneStroke",
        "5 step 1 Slow: after OneChord",
        "7 climb 1: after Slow",
    ];
    check(&request(35, song()), &long);
}

#[test]
fn a_beginner_goes_on_where_the_steps_were_left() {
    let begun = done_till(section(0, 2), Step::Changes);
    let asked = TodayRequest { changes: vec![change("G", "D", 2.0, &[(0, 4)])], ..request(10, vec![begun]) };
    check(
        &asked,
        &[
            "4 step 0 OneStroke: after Changes",
            "4 change G-D: not measured x4 in 0",
            "2 step 0 OneChord: after OneStroke",
        ],
    );
}

/// Two sections climbed the day before, one change measured.
fn usual(minutes: u16) -> TodayRequest {
    let mut slow = change("G", "D", 2.0, &[(0, 4)]);
    slow.measured = measured(0.9, 84.0);
    let changes = vec![change("C", "G", 3.0, &[(0, 2)]), slow];
    let sections = vec![climbed(0, 3, 3, 20), climbed(1, 1, 2, 44)];
    let song = SongToday::MayBePlayed { seconds: 170 };
    TodayRequest { changes, first_learned: Some(1), song, passes_since_run: 4, ..request(minutes, sections) }
}

#[test]
fn a_usual_day_has_each_part_in_its_order() {
    check(
        &usual(25),
        &[
            "2 warm up 0 at 76: known 3 of 6",
            "1 recheck 0 at 93: waits at 93 1d",
            "1 recheck 1 at 84: waits at 84 2d",
            "5 climb 0: most to gain 93 to 126 3 left x3",
            "6 change G-D: 0.9 s of 12 fits 84 needs 103 in 0",
            "6 rotate 1 Climb: rotation 2d 4 left",
            "3 run whole: now and then 27",
            "1 replay 1 at 84: learned first",
        ],
    );
}

#[test]
fn on_a_long_day_sections_take_turns_between_breaks() {
    check(
        &usual(60),
        &[
            "3 warm up 0 at 76: known 3 of 6",
            "1 recheck 0 at 93: waits at 93 1d",
            "1 recheck 1 at 84: waits at 84 2d",
            "5 climb 0: most to gain 93 to 126 3 left x3",
            "4 change G-D: 0.9 s of 12 fits 84 needs 103 in 0",
            "5 break: played 14",
            "6 rotate 1 Climb: rotation 2d 4 left",
            "5 climb 0: again after 5",
            "6 rotate 1 Climb: again after 6",
            "4 change G-D: 0.9 s of 12 fits 84 needs 103 in 0",
            "5 break: played 21",
            "3 run whole: now and then 50",
            "5 climb 0: again after 10",
            "3 rotate 1 Climb: again after 12",
            "3 run whole: now and then 16",
            "1 replay 1 at 84: learned first",
        ],
    );
}

#[test]
fn who_has_just_played_long_begins_with_a_break() {
    let lines = |minutes| lines(&plan(&TodayRequest { since_break_s: 26 * 60, ..usual(minutes) }));
    assert_eq!(lines(20)[0], "5 break: played 26");
    // Too short a time for a break and as much playing: the break comes after it.
    assert!(!lines(9).iter().any(|line| line.contains("break")));
}

#[test]
fn a_short_day_keeps_what_is_needed_most() {
    check(
        &usual(5),
        &[
            "1 warm up 0 at 76: known 3 of 6",
            "1 recheck 0 at 93: waits at 93 1d",
            "3 climb 0: most to gain 93 to 126 3 left x3",
        ],
    );
    check(
        &usual(8),
        &[
            "1 warm up 0 at 76: known 3 of 6",
            "1 recheck 0 at 93: waits at 93 1d",
            "3 climb 0: most to gain 93 to 126 3 left x3",
            "2 change G-D: 0.9 s of 12 fits 84 needs 103 in 0",
            "1 replay 1 at 84: learned first",
        ],
    );
}

#[test]
fn a_rung_is_checked_again_after_twelve_hours_and_not_before() {
    for (ago_h, waits) in [(11, false), (12, true), (60, true)] {
        let lines = lines(&plan(&request(10, vec![climbed(0, 1, 2, ago_h)])));
        assert_eq!(lines.iter().any(|line| line.contains("recheck 0 at 84")), waits, "{ago_h} h: {lines:?}");
    }
}

#[test]
fn a_section_that_rests_is_not_planned_until_it_has_rested() {
    let resting = |reason, ago_s| {
        let rest = Some(Rest { since: Moment(NOW.0 - ago_s), reason });
        let mut sections = vec![climbed(0, 3, 3, 1), climbed(1, 1, 2, 1)];
        sections[0].rest = rest;
        lines(&plan(&request(20, sections))).iter().any(|line| line.contains("climb 0"))
    };
    assert!(!resting(RestReason::Falls(3), 60));
    assert!(resting(RestReason::Falls(3), 30 * 60));
    assert!(!resting(RestReason::Enough { clean: 4 }, 3 * HOUR));
    assert!(resting(RestReason::Enough { clean: 4 }, DAY));
}

#[test]
fn where_all_sections_rest_only_changes_are_left_and_then_nothing() {
    let mut resting = climbed(0, 1, 2, 1);
    resting.rest = Some(Rest { since: NOW, reason: RestReason::Passes(10) });
    let changes = vec![change("G", "D", 1.0, &[(0, 1)]), change("C", "F", 4.0, &[(0, 1)])];
    let asked = TodayRequest { changes, ..request(20, vec![resting.clone()]) };
    check(&asked, &["5 change C-F: sections rest", "5 change G-D: sections rest"]);
    assert_eq!(plan(&asked).spare_min, 10);
    assert_eq!(plan(&request(20, vec![resting])).spare_min, 20);
    assert_eq!(plan(&request(20, Vec::new())).spare_min, 20);
}

#[test]
fn when_all_sections_stand_the_song_is_next() {
    let sections = || vec![climbed(0, 3, 6, 40), climbed(1, 1, 6, 64)];
    let song = SongToday::MayBePlayed { seconds: 170 };
    let asked = TodayRequest { song, first_learned: Some(0), ..request(15, sections()) };
    check(
        &asked,
        &[
            "2 warm up 1 at 76: known 6 of 6",
            "1 recheck 1 at 126: waits at 126 3d",
            "1 recheck 0 at 126: waits at 126 2d",
            "10 song PlayAlong: 2 stand",
            "1 replay 0 at 126: learned first",
        ],
    );
    let sung = sections().into_iter().map(|section| done_till(section, Step::PlayAlong)).collect();
    let asked = TodayRequest { song, ..request(15, sung) };
    assert!(lines(&plan(&asked)).iter().any(|line| line.contains("song Sing")));
}

#[test]
fn one_section_alone_takes_turns_with_something_else() {
    let asked =
        TodayRequest { changes: vec![change("G", "D", 2.0, &[(0, 4)])], ..request(25, vec![climbed(0, 1, 1, 1)]) };
    check(
        &asked,
        &[
            "2 warm up 0 one stroke: known 1 of 6",
            "6 climb 0: most to gain 76 to 126 5 left x1",
            "4 change G-D: not measured x4 in 0",
            "1 run 0: now and then 10",
            "6 climb 0: again after 6",
            "5 change G-D: not measured x4 in 0",
            "1 run 0: now and then 10",
        ],
    );
}

#[test]
fn the_change_that_holds_back_is_the_slowest_for_the_rung_then_the_hardest_unknown() {
    let drill = |changes| {
        let asked = TodayRequest { changes, ..request(10, vec![climbed(0, 1, 3, 1)]) };
        lines(&plan(&asked)).into_iter().find(|line| line.contains("change"))
    };
    let of = |from: &str, fits: f64| {
        let mut change = change(from, "D", 1.0, &[(0, 1)]);
        change.measured = measured(1.0, fits);
        change
    };
    let hard = || change("F", "D", 9.0, &[(0, 1)]);
    let found = |changes| drill(changes).map(|line| line.split([' ', ':']).nth(2).expect("a pair").to_owned());
    assert_eq!(found(vec![of("G", 100.0), of("C", 90.0), hard()]).as_deref(), Some("C-D"), "too slow for 103");
    assert_eq!(found(vec![of("G", 110.0), hard()]).as_deref(), Some("F-D"), "not measured");
    assert_eq!(found(vec![of("G", 110.0)]).as_deref(), Some("G-D"), "too slow for 126");
    assert_eq!(found(vec![of("G", 126.0)]), None, "all fit");
    assert_eq!(found(vec![change("F", "D", 9.0, &[(1, 1)])]), None, "not in this section");
    let often = vec![change("A", "E", 2.0, &[(0, 5)]), hard()];
    assert_eq!(found(often).as_deref(), Some("A-E"), "difficulty times how often it comes");
}

#[test]
fn a_day_ends_at_four_in_the_morning_of_the_players_own_zone() {
    // Played enough at 23:00 UTC: where local time is five hours ahead that is 04:00 of the same day as now.
    let mut stands = climbed(0, 1, 6, 9);
    stands.rest = Some(Rest { since: Moment(NOW.0 - 9 * HOUR), reason: RestReason::Enough { clean: 4 } });
    let there =
        |zone| TodayRequest { zone: UtcOffset(zone), policy: Policy::default(), ..request(10, vec![stands.clone()]) };
    assert_eq!(plan(&there(5 * 3600)).spare_min, 10);
    assert_eq!(plan(&there(0)).spare_min, 0);
}

#[test]
fn a_policy_may_leave_out_the_run_and_the_replay() {
    let has = |policy, what| lines(&plan(&TodayRequest { policy, ..usual(25) })).iter().any(|line| line.contains(what));
    let usual_policy = Policy::default();
    assert!(has(usual_policy, "run") && has(usual_policy, "replay"));
    assert!(!has(Policy { run_every_passes: 0, ..usual_policy }, "run"));
    assert!(!has(Policy { session_end: SessionEnd::Anywhere, ..usual_policy }, "replay"));
}

#[test]
fn the_first_section_of_the_day_is_replayed_where_none_is_given() {
    let asked = TodayRequest { first_learned: None, ..usual(25) };
    assert!(lines(&plan(&asked)).ends_with(&["1 replay 0 at 93: learned first".to_owned()]));
}

#[test]
fn the_song_is_not_begun_where_there_is_no_time_for_the_whole_of_it() {
    let song = |seconds| {
        let song = SongToday::MayBePlayed { seconds };
        let asked = TodayRequest { song, ..request(5, vec![climbed(0, 1, 6, 40)]) };
        lines(&plan(&asked)).iter().any(|line| line.contains("song PlayAlong"))
    };
    assert!(song(300));
    assert!(!song(301));
}

#[test]
fn a_rung_that_is_held_is_not_checked_again() {
    let recheck = |section| lines(&plan(&request(10, vec![section]))).iter().any(|line| line.contains("recheck"));
    let mut held = climbed(0, 1, 2, 20);
    assert!(recheck(held.clone()));
    let climb = held.climb.as_mut().expect("a climb");
    let rung = *climb.rungs.keys().nth(1).expect("a rung");
    let record = climb.rungs.get_mut(&rung).expect("a rung");
    record.held = Some(Held { at: NOW, marked: Marked::Heard });
    assert!(!recheck(held));
}

#[test]
fn the_song_is_not_played_as_a_whole_while_a_section_of_it_rests() {
    let mut sections = vec![climbed(0, 3, 6, 40), climbed(1, 1, 6, 64)];
    sections[1].rest = Some(Rest { since: NOW, reason: RestReason::Falls(3) });
    let song = SongToday::MayBePlayed { seconds: 60 };
    let lines = lines(&plan(&TodayRequest { song, ..request(20, sections) }));
    assert!(!lines.iter().any(|line| line.contains("song") || line.contains("whole")), "{lines:?}");
    assert!(lines.iter().any(|line| line.contains("rotate 0 Climb: keep up 2d")), "{lines:?}");
}
