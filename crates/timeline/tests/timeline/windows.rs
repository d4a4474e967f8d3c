//! A stroke's window is at most 0.4 of the shorter slot beside it, so windows never overlap: a design choice of ours.

use sixrung_timeline::Plan;

use crate::support::{compiled, demos, lesson, request};

fn check(plan: &Plan, title: &str) {
    let strokes = &plan.expected;
    let mut following = strokes[1..].to_vec();
    let mut again = strokes[0].clone();
    again.at += plan.timeline.pass;
    following.push(again);
    for (stroke, next) in strokes.iter().zip(&following) {
        let windows = (stroke.slot_length.0 + next.slot_length.0) * 4;
        assert!(windows < (next.at - stroke.at).0 * 10, "{title}: {stroke:?} then {next:?}");
    }
}

#[test]
fn windows_never_overlap_not_even_where_a_loop_turns() {
    for lesson in demos() {
        check(&compiled(&lesson, &request(100.0)), &lesson.title);
    }
    let grids = [
        ("quarters", 4),
        ("eighths", 8),
        ("swung eighths 2:1", 8),
        ("swung eighths 16:1", 8),
        ("triplets", 12),
        ("sixteenths", 16),
    ];
    for (grid, slots) in grids {
        let strokes = vec!["D"; slots].join(" ");
        let lesson = lesson("tempo: 120,", grid, &strokes, &strokes, r#"(chord: "G", pattern: "p", times: 2)"#);
        check(&compiled(&lesson, &request(120.0)), grid);
    }
}

#[test]
fn a_swung_stroke_has_the_window_of_its_shorter_neighbour() {
    let lesson = lesson(
        "tempo: 120,",
        "swung eighths 2:1",
        "D U D U D U D U",
        "D U D U D U D U",
        r#"(chord: "G", pattern: "p")"#,
    );
    let plan = compiled(&lesson, &request(120.0));
    assert!(plan.expected.iter().all(|stroke| stroke.slot_length.0 == 320));
}

#[test]
fn only_strokes_that_sound_are_expected() {
    let expected = |strokes: &str, chord: &str| {
        let entries = format!(r#"(chord: "{chord}", pattern: "p")"#);
        let plan = compiled(&lesson("tempo: 120,", "eighths", strokes, strokes, &entries), &request(120.0));
        plan.expected.iter().map(|stroke| stroke.slot).collect::<Vec<_>>()
    };
    assert_eq!(expected("D - X . B S D U", "G"), [0, 2, 4, 6, 7]);
    // Without a chord a strum is silent, a chuck is not.
    assert_eq!(expected("X - - - X - - -", "N.C."), [0, 4]);
}
