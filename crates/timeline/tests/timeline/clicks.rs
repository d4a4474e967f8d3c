//! The metronome: beats, count-ins, and the notes between when the beat is slow.

use sixrung_lesson::{BeatUnit, Meter};
use sixrung_timeline::{
    Between, ClickKind, Clicks, CompileError, Division, Event, EventKind, Request, Thinned, default_count_in_bars,
};

use crate::support::{compiled, lesson, request, tempo, try_compile};

/// Clicks as `1` bar, `+` beat, `.` between.
fn pattern(events: &[Event]) -> String {
    let kind = |event: &Event| match event.kind {
        EventKind::Click(ClickKind::Bar) => Some('1'),
        EventKind::Click(ClickKind::Beat) => Some('+'),
        EventKind::Click(ClickKind::Between) => Some('.'),
        EventKind::Click(ClickKind::Count(beat)) => Some(char::from(b'1' + beat)),
        _ => None,
    };
    events.iter().filter_map(kind).collect()
}

fn in_meter(meter: &str, beat: &str) -> sixrung_lesson::Lesson {
    let (grid, strokes) = match meter {
        "4/4" => ("quarters", "D D D D"),
        "3/4" => ("quarters", "D D D"),
        "6/8" => ("eighths", "D - D D - D"),
        "12/8" => ("eighths", "D - D D - D D - D D - D"),
        "5/4" => ("quarters", "D D D D D"),
        _ => unreachable!("no other meter is asked for"),
    };
    let more = format!(r#"tempo: 120, meter: "{meter}", beat: "{beat}","#);
    lesson(&more, grid, strokes, strokes, r#"(chord: "D", pattern: "p")"#)
}

#[test]
fn count_in_and_bar_click_as_the_meter_is_felt() {
    let check = |meter, beat, bpm, count_in: &str, bar: &str| {
        let timeline = compiled(&in_meter(meter, beat), &Request { count_in_bars: 1, ..request(bpm) }).timeline;
        let found = (pattern(&timeline.intro_events), pattern(&timeline.cycle_events));
        assert_eq!(found, (count_in.to_owned(), bar.to_owned()), "{meter} at {bpm}");
    };
    check("4/4", "quarter", 120.0, "1+++", "1+++");
    check("3/4", "quarter", 120.0, "1++", "1++");
    check("5/4", "quarter", 120.0, "1++++", "1++++");
    // Six eighths with accents on 1 and 4: common practice.
    check("6/8", "dotted quarter", 58.0, "1..+..", "1+");
    check("12/8", "dotted quarter", 58.0, "1..+..+..+..", "1+++");
    // Below about 33 a minute people cannot keep to a click (Repp 2005).
    check("4/4", "quarter", 33.0, "1+++", "1+++");
    check("4/4", "quarter", 32.9, "1.+.+.+.", "1.+.+.+.");
    check("4/4", "quarter", 16.0, "1...+...+...+...", "1...+...+...+...");
    check("6/8", "dotted quarter", 30.0, "1..+..", "1..+..");
    check("6/8", "dotted quarter", 10.0, "1.....+.....", "1.....+.....");
    // The beat felt may not be the beat counted by the tempo.
    check("4/4", "half", 20.0, "1+++", "1+++");
    check("6/8", "eighth", 174.0, "1..+..", "1+");
}

#[test]
fn a_click_can_be_thinned_divided_and_evened_but_never_the_count_in() {
    let check = |meter, beat, clicks: Clicks, count_in: &str, bar: &str| {
        let asked = Request { count_in_bars: 1, clicks, ..request(60.0) };
        let timeline = compiled(&in_meter(meter, beat), &asked).timeline;
        let found = (pattern(&timeline.intro_events), pattern(&timeline.cycle_events));
        assert_eq!(found, (count_in.to_owned(), bar.to_owned()), "{meter} {clicks:?}");
    };
    let thinned = |thinned| Clicks { thinned, ..Clicks::default() };
    check("4/4", "quarter", thinned(Thinned::FirstOnly), "1+++", "1");
    check("4/4", "quarter", thinned(Thinned::EvenOnly), "1+++", "++");
    check("3/4", "quarter", thinned(Thinned::EvenOnly), "1++", "+");
    check("6/8", "dotted quarter", thinned(Thinned::EvenOnly), "1..+..", "+");
    check("4/4", "quarter", thinned(Thinned::SilentBars { heard: 1, silent: 1 }), "1+++", "1+++");
    let divided = |division| Clicks { division, ..Clicks::default() };
    check("4/4", "quarter", divided(Division::Two), "1+++", "1.+.+.+.");
    check("4/4", "quarter", divided(Division::Three), "1+++", "1..+..+..+..");
    check("6/8", "dotted quarter", divided(Division::Three), "1..+..", "1..+..");
    check("6/8", "dotted quarter", divided(Division::Four), "1..+..", "1...+...");
    check("4/4", "quarter", Clicks { even: true, ..Clicks::default() }, "1+++", "++++");
    let rising = Clicks { count_rises: true, ..Clicks::default() };
    check("4/4", "quarter", rising, "1234", "1+++");
    check("6/8", "dotted quarter", rising, "1..2..", "1+");
    check("4/4", "quarter", Clicks { division: Division::Two, ..thinned(Thinned::EvenOnly) }, "1+++", "++");
}

#[test]
fn silent_bars_come_by_turns_from_the_beginning_of_the_pass() {
    let strokes = "D D D D";
    let more = r#"tempo: 120, meter: "4/4", beat: "quarter","#;
    let four = lesson(more, "quarters", strokes, strokes, r#"(chord: "D", pattern: "p", times: 6)"#);
    let check = |heard, silent, expected: &str| {
        let clicks = Clicks { thinned: Thinned::SilentBars { heard, silent }, ..Clicks::default() };
        let timeline = compiled(&four, &Request { clicks, ..request(120.0) }).timeline;
        let bars: String = (0..6)
            .map(|bar| {
                let within =
                    |event: &&Event| event.at.0 / (4 * 960) == bar && matches!(event.kind, EventKind::Click(_));
                char::from(b'0' + u8::try_from(timeline.cycle_events.iter().filter(within).count()).expect("few"))
            })
            .collect();
        assert_eq!(bars, expected, "{heard} heard, {silent} silent");
    };
    check(1, 1, "404040");
    check(2, 1, "440440");
    check(3, 2, "444004");
    check(0, 1, "404040");
    check(4, 0, "444444");
}

#[test]
fn no_click_is_slower_than_can_be_kept_to() {
    for bpm in 10..=60 {
        for (meter, beat) in [("4/4", "quarter"), ("6/8", "dotted quarter")] {
            let plan = compiled(&in_meter(meter, beat), &request(f64::from(bpm)));
            let clicks = pattern(&plan.timeline.cycle_events).len();
            let apart = plan.timeline.grid.seconds(plan.timeline.cycle) / clicks as f64;
            assert!(apart <= 60.0 / 33.0 + 1e-9, "{meter} at {bpm}: {apart} s");
        }
    }
}

#[test]
fn two_bars_are_counted_when_a_bar_is_shorter_than_two_seconds() {
    let check = |meter: (u8, u8), beat: BeatUnit, bpm, bars| {
        let meter = Meter::new(meter.0, meter.1).expect("a meter");
        assert_eq!(default_count_in_bars(meter, tempo(bpm), beat.ticks()), bars, "{meter:?} at {bpm}");
    };
    check((4, 4), BeatUnit::Quarter, 120.0, 1);
    check((4, 4), BeatUnit::Quarter, 126.0, 2);
    check((3, 4), BeatUnit::Quarter, 93.0, 2);
    check((6, 8), BeatUnit::DottedQuarter, 58.0, 1);
    check((6, 8), BeatUnit::DottedQuarter, 61.0, 2);
}

#[test]
fn the_count_in_is_the_intro_of_a_loop_and_the_beginning_of_each_cycle_with_rest() {
    let check = |between, expected: [u32; 5], intro: &str, cycle: &str| {
        let plan = compiled(&in_meter("4/4", "quarter"), &Request { count_in_bars: 2, between, ..request(120.0) });
        let timeline = plan.timeline;
        let found = [timeline.intro, timeline.cycle, timeline.pass_at, timeline.pass].map(|ticks| ticks.0 / 3840);
        assert_eq!([&found[..], &[u32::from(timeline.passes.is_some())]].concat(), expected);
        assert_eq!((pattern(&timeline.intro_events), pattern(&timeline.cycle_events)), (intro.into(), cycle.into()));
    };
    check(Between::Seamless, [2, 1, 0, 1, 0], "1+++1+++", "1+++");
    check(Between::Rest { bars: 3 }, [0, 6, 2, 1, 0], "", "1+++1+++1+++");
}

#[test]
fn a_request_out_of_range_is_refused() {
    let lesson = in_meter("4/4", "quarter");
    let check = |request: Request, expected| assert_eq!(try_compile(&lesson, &request), Err(expected));
    check(Request { rate: 7_999, ..request(120.0) }, CompileError::Rate(7_999));
    check(Request { rate: 192_001, ..request(120.0) }, CompileError::Rate(192_001));
    check(Request { count_in_bars: 5, ..request(120.0) }, CompileError::CountIn(5));
}
