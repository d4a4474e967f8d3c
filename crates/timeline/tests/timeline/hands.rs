//! Strokes string by string. The rules are design choices of ours, after strums measured in an open data set
//! (third-party note) and common practice.

use sixrung_lesson::{Arrangement, Pitch, Stretch, layout};
use sixrung_timeline::{Between, Event, EventKind, Feel, Plan, Request, compile_with};

use crate::support::{compiled, demos, lesson, nanoseconds, request};

/// At 120 bpm an eighth lasts 250 ms, of which 7 % are 17.5 ms.
fn eighths(p: &str, q: &str, entries: &str) -> Plan {
    compiled(&lesson("tempo: 120,", "eighths", p, q, entries), &request(120.0))
}

/// What the hands do, slot by slot of an eighth: strings in their numbers (6 the heaviest), `!` damped, `x` deadened,
/// each stroke followed by its sweep in µs.
fn told(plan: &Plan) -> String {
    let mut slots: Vec<Vec<&Event>> = vec![Vec::new(); (plan.timeline.cycle.0 / 480) as usize];
    for event in &plan.timeline.cycle_events {
        slots[(event.at.0 / 480) as usize].push(event);
    }
    let string = |event: &Event| match event.kind {
        EventKind::Click(_) | EventKind::Bass { .. } | EventKind::BassStop | EventKind::Brush { .. } => String::new(),
        EventKind::Damp { string } => format!("!{}", 6 - string),
        EventKind::Chuck { string, .. } => format!("x{}", 6 - string),
        EventKind::Pluck { string, .. } | EventKind::PalmMuted { string, .. } => format!("{}", 6 - string),
    };
    let slot = |events: &Vec<&Event>| {
        let sweep = events.iter().map(|event| event.delay_ns).max().unwrap_or(0) / 1000;
        let strings: String = events.iter().map(|event| string(event)).collect();
        if sweep == 0 { strings } else { format!("{strings}~{sweep}") }
    };
    slots.iter().map(slot).collect::<Vec<_>>().join(" ").trim_end().to_owned()
}

#[test]
fn strokes_meet_the_strings_a_hand_would() {
    let check = |strokes: &str, chord: &str, expected: &str| {
        let entries = format!(r#"(chord: "{chord}", pattern: "p")"#);
        assert_eq!(told(&eighths(strokes, strokes, &entries)), expected, "{strokes} on {chord}");
    };
    check("D . . . . . . .", "G", "654321~17500");
    check("D . . . . . . .", "D", "4321~17500");
    check("D U . . . . . .", "G", "654321~17500 1234~17500");
    check("D U . . . . . .", "A", "54321~17500 1234~17500");
    check("D U . . . . . .", "D", "4321~17500 123~17500");
    check("B . . . . . . .", "A", "5");
    check("X XU . . . . . .", "D", "x4x3x2x1~17500 x1x2x3x4~17500");
    check("D . S . . . . .", "D", "4321~17500  !6!5!4!3!2!1");
    check("X . . . . . . .", "N.C.", "x6x5x4x3x2x1~17500");
    check("- . . . . . . .", "D", "");
}

#[test]
fn changing_hands_stop_the_strings_they_leave_and_let_the_others_ring() {
    let check = |p: &str, entries: &str, expected: &str| {
        assert_eq!(told(&eighths(p, ". . . . . . . .", entries)), expected);
    };
    // D to A: only string 3, at fret 2 in both, rings on. Looped, A to D stops what A leaves, string 5 with it.
    let bar = "B . . . . . . .";
    let there = r#"(chord: "D", pattern: "p"), (chord: "A", pattern: "p")"#;
    check(bar, there, "!5!4!2!14        !4!2!15");
    // To no chord: everything stops.
    let and_silence = r#"(chord: "D", pattern: "p"), (chord: "N.C.", pattern: "q")"#;
    check(bar, and_silence, "4        !4!3!2!1");
}

#[test]
fn a_sweep_is_seven_percent_of_the_slot_between_10_and_40_ms() {
    let check = |bpm, grid: &str, slots: usize, expected_us| {
        let strokes = format!("D{}", " .".repeat(slots - 1));
        let lesson = lesson("tempo: 120,", grid, &strokes, &strokes, r#"(chord: "G", pattern: "p")"#);
        let plan = compiled(&lesson, &request(bpm));
        let sweep = plan.timeline.cycle_events.iter().map(|event| event.delay_ns).max();
        assert_eq!(sweep.map(|ns| ns / 1000), Some(expected_us), "{grid} at {bpm}");
    };
    check(120.0, "eighths", 8, 17_500);
    check(126.0, "eighths", 8, 16_666);
    check(240.0, "sixteenths", 16, 10_000);
    check(40.0, "quarters", 4, 40_000);
    check(60.0, "swung eighths 2:1", 8, 40_000);
    // Never more than half the slot: a sixteenth at 400 half notes a minute lasts 18.75 ms.
    let strokes = "D . . . . . . . . . . . . . . .";
    let fast = lesson(r#"tempo: 120, beat: "half","#, "sixteenths", strokes, strokes, r#"(chord: "G", pattern: "p")"#);
    let sweep = compiled(&fast, &request(400.0)).timeline.cycle_events.iter().map(|event| event.delay_ns).max();
    assert_eq!(sweep, Some(9_375_000));
}

#[test]
fn accents_are_louder_soft_strokes_softer_and_upstrokes_two_to_three_db_below() {
    let strokes = "D U D> U> D, U, D U";
    let plan = eighths(strokes, strokes, r#"(chord: "G", pattern: "p", times: 8)"#);
    let mean = |slot: u32| {
        let velocity = |event: &Event| match event.kind {
            EventKind::Pluck { velocity, .. } if event.at.0 / 480 % 8 == slot => Some(f64::from(velocity)),
            _ => None,
        };
        let velocities: Vec<f64> = plan.timeline.cycle_events.iter().filter_map(velocity).collect();
        let mean = velocities.iter().sum::<f64>() / velocities.len() as f64;
        assert!(velocities.iter().all(|velocity| (velocity / mean - 1.0).abs() < 0.1), "varied by more than 5 %");
        assert!(velocities.iter().any(|velocity| (velocity / mean - 1.0).abs() > 0.02), "not varied at all");
        mean
    };
    for down in [0, 2, 4] {
        let decibels = 20.0 * (mean(down + 1) / mean(down)).log10();
        assert!((-3.0..=-2.0).contains(&decibels), "upstroke at {decibels} dB");
    }
    assert!(mean(4) < mean(0) && mean(0) < mean(2));
}

#[test]
fn the_unevenness_is_the_seeds_and_can_be_taken_away() {
    let strokes = "D D D D D D D D";
    let lesson = lesson("tempo: 120,", "eighths", strokes, strokes, r#"(chord: "G", pattern: "p")"#);
    let score = layout(&lesson, &Stretch::Whole, &Arrangement::default()).expect("a checked lesson can be laid out");
    let velocities = |feel: Feel| -> Vec<f32> {
        let plan = compile_with(&lesson, &score, &request(120.0), feel).expect("the request is in range");
        let velocity = |event: &Event| match event.kind {
            EventKind::Pluck { velocity, .. } => Some(velocity),
            _ => None,
        };
        plan.timeline.cycle_events.iter().filter_map(velocity).collect()
    };
    let even = velocities(Feel::EVEN);
    assert!(even.len() == 48 && even.iter().all(|velocity| *velocity == even[0]));
    let (one, other) = (Feel::default(), Feel { seed: 7, ..Feel::default() });
    assert_eq!(velocities(one), velocities(one));
    assert_ne!(velocities(one), velocities(other));
    assert!(velocities(other).iter().all(|velocity| (velocity / even[0] - 1.0).abs() <= 0.0501));
}

#[test]
fn compiling_twice_gives_the_same() {
    for lesson in demos() {
        assert_eq!(compiled(&lesson, &request(97.0)), compiled(&lesson, &request(97.0)));
    }
}

#[test]
fn a_final_stroke_rings_through_the_rest_and_stops_with_the_next_count_in() {
    let lantern = demos().next().expect("a demo");
    let rest = Request { count_in_bars: 1, between: Between::Rest { bars: 2 }, ..request(126.0) };
    let timeline = compiled(&lantern, &rest).timeline;
    let last_pluck = timeline.cycle_events.iter().rposition(|event| matches!(event.kind, EventKind::Pluck { .. }));
    let after = &timeline.cycle_events[last_pluck.expect("something sounds") + 1..];
    assert!(after.iter().all(|event| matches!(event.kind, EventKind::Click(_))));
    let damped_at_start = timeline.cycle_events.iter().take(6);
    assert!(damped_at_start.clone().all(|event| event.at.0 == 0 && matches!(event.kind, EventKind::Damp { .. })));
    assert_eq!(damped_at_start.count(), 6);
}

#[test]
fn with_capo_2_shape_g_sounds_a() {
    let pitches = |capo: u8| -> Vec<u8> {
        let more = format!("tempo: 120, capo: {capo},");
        let strokes = "D . . . . . . .";
        let lesson = lesson(&more, "eighths", strokes, strokes, r#"(chord: "G", pattern: "p")"#);
        let pitch = |event: &Event| match event.kind {
            EventKind::Pluck { pitch: Pitch(key), .. } => Some(key),
            _ => None,
        };
        compiled(&lesson, &request(120.0)).timeline.cycle_events.iter().filter_map(pitch).collect()
    };
    let open = pitches(0);
    assert_eq!(open, [43, 47, 50, 55, 62, 67]);
    assert_eq!(pitches(2), open.iter().map(|key| key + 2).collect::<Vec<_>>());
    // A, C sharp and E.
    assert!(pitches(2).iter().all(|key| [9, 1, 4].contains(&(key % 12))));
}

#[test]
fn events_come_in_order_and_never_reach_past_the_cycle() {
    for lesson in demos() {
        for bpm in [40.0, 126.0, 240.0, 400.0] {
            let plan = compiled(&lesson, &request(bpm));
            let times: Vec<u64> = plan.timeline.cycle_events.iter().map(|event| nanoseconds(&plan, event)).collect();
            assert!(times.is_sorted(), "{} at {bpm}", lesson.title);
            let end = plan.timeline.grid.nanoseconds(plan.timeline.cycle);
            assert!(times.last().is_some_and(|last| *last < end));
        }
    }
}
