//! Changes between two chords at the player's own pace: their times, and attempts that fail. The strings are sums of
//! decaying partials, made by nothing of ours.

mod common;
#[path = "common/guitar.rs"]
mod guitar;

use sixrung_lesson::Direction;
use sixrung_listen::{ChangeEar, ChangeEvent, DrillChord, HeardChord, Listener, PlannedShape, hear_changes};

use guitar::{Guitar, OPEN, SHAPES, shapes};

const RATE: u32 = 8_000;
/// x32010: neither of the two.
const C: [Option<u8>; 6] = [None, Some(48), Some(52), Some(55), Some(60), Some(64)];
/// A stroke is heard within this of its time, in seconds: the strings before it are touched, and fade, over 20 ms.
const NEAR_S: f64 = 0.022;

fn pair() -> [PlannedShape; 2] {
    let shapes = shapes();
    [shapes[0].clone(), shapes[1].clone()]
}

/// What a hand does: strokes with how long each is left to ring. `a` and `g` are the drill's chords, `c` another one, `x`
/// all strings of G deadened, `-` nothing.
fn played(deeds: &[(char, f64)]) -> (Vec<f32>, Vec<(f64, char)>) {
    let mut guitar = Guitar::new(RATE, 3);
    let mut strokes = Vec::new();
    for (deed, lasts_s) in deeds {
        if *deed != '-' {
            strokes.push((guitar.at_s, *deed));
        }
        match deed {
            'a' => guitar.strum(&SHAPES[0].1, Direction::Down, *lasts_s),
            'g' => guitar.strum(&SHAPES[1].1, Direction::Down, *lasts_s),
            'c' => guitar.strum(&C, Direction::Down, *lasts_s),
            'x' => {
                guitar.strum(&SHAPES[1].1, Direction::Down, 0.03);
                guitar.at_s += lasts_s - 0.03;
            }
            _ => guitar.at_s += lasts_s,
        }
    }
    (guitar.recorded(), strokes)
}

/// What is heard of it: every stroke as it is, and these changes: from, seconds, botched.
fn check(deeds: &[(char, f64)], expected: &[(DrillChord, f64, u32)]) {
    let (sound, strokes) = played(deeds);
    let events = hear_changes(&sound, RATE, pair(), None).expect("the rate is taken");
    let (mut heard, mut changes) = (Vec::new(), Vec::new());
    for event in events {
        match event {
            ChangeEvent::Stroke { at_s, chord } => heard.push((at_s, chord)),
            ChangeEvent::Changed { from, took_s, botched, .. } => changes.push((from, took_s, botched)),
        }
    }
    assert_eq!(heard.len(), strokes.len(), "{heard:?}");
    for ((at_s, chord), (played_s, deed)) in heard.iter().zip(&strokes) {
        let expected = match deed {
            'a' => HeardChord::First,
            'g' => HeardChord::Second,
            _ => HeardChord::Neither,
        };
        assert_eq!(*chord, expected, "at {at_s} s");
        assert!((at_s - played_s).abs() < NEAR_S, "{at_s} for {played_s}");
    }
    assert_eq!(changes.len(), expected.len(), "{changes:?}");
    for (heard, expected) in changes.iter().zip(expected) {
        assert_eq!((heard.0, heard.2), (expected.0, expected.2), "{changes:?}");
        assert!((heard.1 - expected.1).abs() < NEAR_S, "{heard:?} for {expected:?}");
    }
}

const FIRST: DrillChord = DrillChord::First;
const SECOND: DrillChord = DrillChord::Second;

#[test]
fn a_change_takes_from_the_last_old_stroke_to_the_first_new_one() {
    check(
        &[('a', 0.6), ('a', 0.9), ('g', 0.5), ('g', 0.6), ('g', 1.5), ('a', 0.6), ('-', 0.3), ('g', 1.0)],
        &[(FIRST, 0.9, 0), (SECOND, 1.5, 0), (FIRST, 0.9, 0)],
    );
}

#[test]
fn an_attempt_that_fails_is_counted_and_does_not_end_the_change() {
    check(&[('a', 0.8), ('c', 0.7), ('g', 0.8), ('a', 1.0)], &[(FIRST, 1.5, 1), (SECOND, 0.8, 0)]);
    check(&[('a', 0.8), ('a', 0.7), ('x', 0.6), ('g', 1.0)], &[(FIRST, 1.3, 1)]);
    check(&[('a', 0.8), ('x', 0.5), ('c', 0.6), ('g', 1.0)], &[(FIRST, 1.9, 2)]);
}

#[test]
fn who_stays_on_a_chord_has_not_changed() {
    check(&[('a', 0.6), ('a', 0.6), ('c', 0.7), ('a', 1.0)], &[]);
}

#[test]
fn silence_and_what_is_no_rate_say_nothing() {
    assert_eq!(hear_changes(&[0.0; 80_000], RATE, pair(), None), Some(Vec::new()));
    assert_eq!(hear_changes(&[0.0; 8_000], 4_000, pair(), None), None);
}

const DRILL: [(char, f64); 9] =
    [('a', 0.6), ('g', 0.5), ('g', 1.2), ('c', 0.5), ('a', 0.7), ('x', 0.6), ('g', 0.9), ('a', 0.45), ('g', 1.0)];

#[test]
fn blocks_of_any_length_are_heard_alike() {
    let (sound, _) = played(&DRILL);
    let whole = hear_changes(&sound, RATE, pair(), None).expect("the rate is taken");
    assert!(whole.len() > DRILL.len());
    for length in [64, 1000, 40_000] {
        let (mut listener, mut ear) = (Listener::new(RATE).expect("the rate is taken"), ChangeEar::new(pair(), None));
        let mut events = Vec::new();
        let silence = vec![0.0; RATE as usize];
        let padded: Vec<f32> = sound.iter().chain(&silence).copied().collect();
        for (frame, block) in (0..).step_by(length).zip(padded.chunks(length)) {
            events.extend_from_slice(ear.take_in(listener.feed(frame, block)));
        }
        assert_eq!(events, whole, "blocks of {length}");
    }
}

#[test]
fn a_change_in_which_sound_was_lost_is_not_counted() {
    let (sound, _) = played(&DRILL);
    let (mut listener, mut ear) = (Listener::new(RATE).expect("the rate is taken"), ChangeEar::new(pair(), None));
    let mut events = Vec::new();
    // The stretch lost lies between the first stroke and the second.
    let parts = [(0, &sound[..8_000]), (8_400, &sound[8_400..])];
    for (from, part) in parts {
        for (frame, block) in (from..).step_by(400).zip(part.chunks(400)) {
            events.extend_from_slice(ear.take_in(listener.feed(frame, block)));
        }
    }
    let changes = events.iter().filter(|event| matches!(event, ChangeEvent::Changed { .. })).count();
    let whole = hear_changes(&sound, RATE, pair(), None).expect("the rate is taken");
    let all = whole.iter().filter(|event| matches!(event, ChangeEvent::Changed { .. })).count();
    assert_eq!((changes, all), (4, 5));
}

#[test]
fn a_capo_is_heard_as_it_sounds() {
    let up = |shape: &PlannedShape| PlannedShape {
        name: shape.name.clone(),
        strings: shape.strings.iter().map(|pitch| pitch.map(|pitch| pitch.up(2))).collect(),
        open: OPEN.map(|key| sixrung_lesson::Pitch(key + 2)).to_vec(),
    };
    let mut guitar = Guitar::new(RATE, 8);
    for index in 0..6 {
        let keys = SHAPES[index % 2].1.map(|key| key.map(|key| key + 2));
        guitar.strum(&keys, Direction::Down, 0.8);
    }
    let [a, g] = pair();
    let events = hear_changes(&guitar.recorded(), RATE, [up(&a), up(&g)], None).expect("the rate is taken");
    let changes = events.iter().filter(|event| matches!(event, ChangeEvent::Changed { botched: 0, .. })).count();
    assert_eq!(changes, 5, "{events:?}");
}
