//! Scripts: what the supervisor is told, when, and what it asks for.

use std::time::Duration;

use super::supervisor::{Effect, Input, Supervisor};
use crate::callback::Pulse;
use crate::event::Why;

fn counted(blocks: u64, errors: u64) -> Input {
    Input::Counted(Pulse { blocks, errors, ..Pulse::default() })
}

/// Each line: milliseconds, what is told, what is asked for.
fn check(script: &[(u64, Input, Effect)]) {
    let mut supervisor = Supervisor::new();
    for (line, (ms, input, expected)) in script.iter().enumerate() {
        let effect = supervisor.update(input, Duration::from_millis(*ms));
        assert_eq!(effect, *expected, "line {line}, {ms} ms, {input:?}");
    }
}

#[test]
fn a_steady_stream_is_left_alone() {
    check(&[
        (0, counted(0, 0), Effect::Open),
        (10, Input::Opened, Effect::Nothing),
        (30, counted(1, 0), Effect::Nothing),
        (500, counted(20, 0), Effect::Nothing),
        (1400, counted(60, 0), Effect::Nothing),
    ]);
}

#[test]
fn a_flood_of_errors_without_a_block_closes() {
    check(&[
        (0, counted(0, 0), Effect::Open),
        (0, Input::Opened, Effect::Nothing),
        (100, counted(5, 0), Effect::Nothing),
        (200, counted(5, 25_000), Effect::Nothing),
        (399, counted(5, 70_000), Effect::Nothing),
        (400, counted(5, 71_000), Effect::Close(Why::Failing)),
    ]);
}

#[test]
fn errors_while_blocks_come_do_not() {
    // As measured: some hundred failures in a stream's first 50 ms, then it runs.
    check(&[
        (0, counted(0, 0), Effect::Open),
        (0, Input::Opened, Effect::Nothing),
        (20, counted(0, 90), Effect::Nothing),
        (40, counted(0, 211), Effect::Nothing),
        (60, counted(1, 211), Effect::Nothing),
        (400, counted(20, 300), Effect::Nothing),
        (800, counted(40, 400), Effect::Nothing),
    ]);
}

#[test]
fn silence_for_a_second_closes() {
    check(&[
        (0, counted(0, 0), Effect::Open),
        (0, Input::Opened, Effect::Nothing),
        (900, counted(50, 0), Effect::Nothing),
        (1899, counted(50, 0), Effect::Nothing),
        (1900, counted(50, 0), Effect::Close(Why::Stalled)),
        // A stream that never begins to run, too.
        (2000, counted(0, 0), Effect::Open),
        (2010, Input::Opened, Effect::Nothing),
        (3010, counted(0, 0), Effect::Close(Why::Stalled)),
    ]);
}

#[test]
fn a_device_that_says_it_is_gone_closes_at_once() {
    let gone = Input::Counted(Pulse { blocks: 9, gone: true, ..Pulse::default() });
    check(&[
        (0, counted(0, 0), Effect::Open),
        (0, Input::Opened, Effect::Nothing),
        (20, gone, Effect::Close(Why::Gone)),
        (40, counted(0, 0), Effect::Nothing),
        (120, counted(0, 0), Effect::Open),
    ]);
}

#[test]
fn each_refusal_is_followed_by_a_longer_wait_up_to_five_seconds() {
    let mut supervisor = Supervisor::new();
    let (mut now, mut waits) = (0, Vec::new());
    let mut refused_at = 0;
    while waits.len() < 9 {
        if supervisor.update(&counted(0, 0), Duration::from_millis(now)) == Effect::Open {
            waits.push(now - refused_at);
            refused_at = now;
            supervisor.update(&Input::Refused, Duration::from_millis(now));
        }
        now += 20;
    }
    assert_eq!(waits, [0, 100, 200, 400, 800, 1600, 3200, 5000, 5000]);
}

#[test]
fn a_stream_that_keeps_dying_young_is_tried_ever_more_rarely_and_one_that_lasted_at_once() {
    let short = |from: u64, wait: u64| {
        [
            (from, counted(0, 0), Effect::Open),
            (from, Input::Opened, Effect::Nothing),
            (from + 1000, counted(0, 0), Effect::Close(Why::Stalled)),
            (from + 1000 + wait - 1, counted(0, 0), Effect::Nothing),
        ]
    };
    let mut script: Vec<_> = short(0, 100).into_iter().chain(short(1100, 200)).collect();
    script.extend([
        (2300, counted(0, 0), Effect::Open),
        (2300, Input::Opened, Effect::Nothing),
        (7300, counted(200, 0), Effect::Nothing),
        (8300, counted(200, 0), Effect::Close(Why::Stalled)),
        (8400, counted(0, 0), Effect::Open),
    ]);
    check(&script);
}

#[test]
fn a_wish_is_tried_at_once() {
    check(&[
        (0, counted(0, 0), Effect::Open),
        (0, Input::Refused, Effect::Nothing),
        (100, counted(0, 0), Effect::Open),
        (100, Input::Refused, Effect::Nothing),
        (120, Input::Wanted, Effect::Nothing),
        (120, counted(0, 0), Effect::Open),
    ]);
}
