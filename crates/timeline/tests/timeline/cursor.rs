//! Where a moment lies in a timeline.

use sixrung_lesson::Lesson;
use sixrung_timeline::{Between, Cursor, Frames, Plan, Request};

use crate::support::{compiled, lesson, request};

fn common() -> Lesson {
    lesson("tempo: 120,", "quarters", "D D D D", "D D D D", r#"(chord: "G", pattern: "p")"#)
}

fn at(plan: &Plan, seconds: f64) -> String {
    match Cursor::at(&plan.timeline, Frames((seconds * 48_000.0).round() as u64)) {
        Cursor::CountIn { pass, beat, of } => format!("count {beat} of {of} to pass {pass}"),
        Cursor::Pass { pass, tick } => format!("pass {pass} tick {tick:.1}"),
        Cursor::Rest { pass, .. } => format!("rest after {pass}"),
        Cursor::Finished => "finished".to_owned(),
    }
}

#[test]
fn a_loop_is_counted_in_once() {
    let plan = compiled(&common(), &Request { count_in_bars: 1, passes: Some(3), ..request(120.0) });
    let check = |seconds, expected: &str| assert_eq!(at(&plan, seconds), expected, "{seconds} s");
    check(0.0, "count 1 of 4 to pass 0");
    check(1.99, "count 4 of 4 to pass 0");
    check(2.0, "pass 0 tick 0.0");
    check(2.25, "pass 0 tick 480.0");
    check(4.0, "pass 1 tick 0.0");
    check(7.0, "pass 2 tick 1920.0");
    check(8.0, "finished");
}

#[test]
fn with_rest_every_pass_is_counted_in() {
    let rest = Request { count_in_bars: 1, between: Between::Rest { bars: 1 }, ..request(120.0) };
    let plan = compiled(&common(), &rest);
    let check = |seconds, expected: &str| assert_eq!(at(&plan, seconds), expected, "{seconds} s");
    check(0.5, "count 2 of 4 to pass 0");
    check(3.0, "pass 0 tick 1920.0");
    check(4.0, "rest after 0");
    check(5.999, "rest after 0");
    check(6.0, "count 1 of 4 to pass 1");
    check(600_008.0, "pass 100001 tick 0.0");
}

#[test]
fn compound_meters_count_their_eighths_and_slow_beats_their_beats() {
    let six = lesson(
        r#"tempo: 60, meter: "6/8", beat: "dotted quarter","#,
        "eighths",
        "D - D D - D",
        "D - D D - D",
        r#"(chord: "G", pattern: "p")"#,
    );
    let plan = compiled(&six, &Request { count_in_bars: 1, ..request(60.0) });
    assert_eq!(at(&plan, 1.7), "count 6 of 6 to pass 0");
    let plan = compiled(&common(), &Request { count_in_bars: 1, ..request(20.0) });
    assert_eq!(at(&plan, 4.0), "count 2 of 4 to pass 0");
}

#[test]
fn a_pass_begins_at_the_frame_playback_begins_it() {
    // 137.3 bpm: passes begin at fractions of a frame.
    let plan = compiled(&common(), &request(137.3));
    let timeline = &plan.timeline;
    for pass in (1..200_000).step_by(997) {
        let start = timeline.grid.frame(sixrung_timeline::FineFrames::default(), timeline.cycle_start(pass));
        let found = [start.0 - 1, start.0].map(|frame| match Cursor::at(timeline, Frames(frame)) {
            Cursor::Pass { pass, .. } => u64::from(pass),
            other => panic!("{other:?}"),
        });
        assert_eq!(found, [pass - 1, pass]);
    }
}
