//! Chords of plucked strings, heard: right, wrong, unsure. The strings are additive, built here.

mod common;

use std::f64::consts::TAU;

use common::{Dice, add_noise, frames, plan};
use sixrung_lesson::Pitch;
use sixrung_listen::{ChordFinding, PassPlan, PassVerdict, PlannedShape, TakeOptions, Verdict, judge_take};

use ChordFinding::{Right, Unsure, Wrong};

const RATE: u32 = 16_000;
const OPEN: [u8; 6] = [40, 45, 50, 55, 59, 64];
/// Stroke to stroke, in seconds.
const EVERY_S: f64 = 0.4;
const STROKES: u32 = 5;

fn shape(name: &str, frets: &str) -> PlannedShape {
    let open = OPEN.map(Pitch);
    let string = |(fret, open): (u8, Pitch)| (fret != b'x').then(|| open.up(fret - b'0'));
    PlannedShape { name: name.to_owned(), strings: frets.bytes().zip(open).map(string).collect(), open: open.to_vec() }
}

/// One stiff string (partials at k f √(1 + B k²), Fletcher 1964) from `from_s` until `to_s`, each partial dying away the
/// faster the higher, plucked at a seventh of its length.
fn pluck(sound: &mut [f32], hertz: f64, from_s: f64, to_s: f64, dice: &mut Dice) {
    let rate = f64::from(RATE);
    let (from, to) = (frames(from_s * rate), frames(to_s * rate).min(sound.len()));
    for k in (1..=8).map(f64::from) {
        let partial_hz = k * hertz * (1.0 + 1.5e-4 * k * k).sqrt();
        let height = 0.06 * (std::f64::consts::PI * k / 7.0).sin().abs() / (k * k) * (0.6 + 0.8 * dice.uniform());
        let phase = TAU * dice.uniform();
        for (frame, sample) in (0_u32..).zip(&mut sound[from..to]) {
            let time_s = f64::from(frame) / rate;
            let swell = (time_s / 0.003).min(1.0) * (-1.1 * k.sqrt() * time_s).exp();
            #[expect(clippy::cast_possible_truncation, reason = "samples")]
            let value = (7.0 * height * swell * (TAU * partial_hz * time_s + phase).sin()) as f32;
            *sample += value;
        }
    }
}

/// Strokes of `played`, the whole guitar off by `cents`.
fn strummed(played: &PlannedShape, cents: f64, seed: u64) -> Vec<f32> {
    let mut dice = Dice(seed);
    let length_s = EVERY_S * f64::from(STROKES) + 2.0;
    let mut sound = vec![0.0; frames(length_s * f64::from(RATE))];
    for stroke in (0..STROKES).map(f64::from) {
        let at_s = 1.0 + stroke * EVERY_S;
        for (string, pitch) in (0_u8..).zip(&played.strings) {
            let Some(pitch) = pitch else { continue };
            let sweep_s = 0.006 * f64::from(string);
            let hertz = pitch.hertz() * (cents / 1200.0).exp2();
            pluck(&mut sound, hertz, at_s + sweep_s, at_s + EVERY_S + sweep_s, &mut dice);
        }
    }
    add_noise(&mut sound, 0.0005, seed);
    sound
}

fn asked(shapes: &[PlannedShape]) -> PassPlan {
    let mut plan = plan(STROKES, EVERY_S, EVERY_S);
    plan.strokes.iter_mut().for_each(|stroke| stroke.shape = Some(0));
    plan.with_shapes(shapes.into())
}

fn judged(sound: &[f32], shapes: &[PlannedShape]) -> PassVerdict {
    let options = TakeOptions { starts_at_s: Some(1.0), ..TakeOptions::default() };
    let take = judge_take(sound, RATE, &[asked(shapes)], &options).expect("a rate we take");
    take.passes.into_iter().next().expect("one pass")
}

#[test]
fn a_chord_played_as_asked_is_right_and_another_is_wrong_and_named() {
    let check = |(name, frets): (&str, &str), (played, played_frets): (&str, &str), finding| {
        let sound = strummed(&shape(played, played_frets), 0.0, 7);
        let pass = judged(&sound, &[shape(name, frets)]);
        assert_eq!(pass.strokes[0].chord, finding, "asked {name}, played {played}");
        assert!(pass.strokes.iter().all(|stroke| stroke.chord == finding), "told of the whole span");
        let verdict = if finding == Wrong { Verdict::NotClean } else { Verdict::Clean };
        assert_eq!(pass.verdict, verdict, "asked {name}, played {played}");
        let heard = pass.strokes[0].sounded_like.as_deref();
        assert_eq!(heard, (finding == Wrong).then_some(played), "asked {name}, played {played}");
    };
    let (c, g, e, a) = (("C", "x32010"), ("G", "320003"), ("E", "022100"), ("A", "x02220"));
    check(c, c, Right);
    check(g, g, Right);
    check(e, e, Right);
    check(a, a, Right);
    check(c, ("Am7", "x02010"), Wrong);
    check(g, ("G7", "320001"), Wrong);
    check(e, ("Em", "022000"), Wrong);
    check(e, ("E7", "020100"), Wrong);
    check(a, ("Am", "x02210"), Wrong);
}

#[test]
fn another_shape_of_the_same_chord_is_no_wrong_chord() {
    for (asked, played) in [("320003", "320033"), ("133211", "xx3211"), ("x32010", "032010")] {
        let sound = strummed(&shape("it", played), 0.0, 3);
        let pass = judged(&sound, &[shape("G", asked)]);
        assert_ne!(pass.strokes[0].chord, Wrong, "{asked} played as {played}");
    }
}

#[test]
fn a_guitar_that_is_off_as_a_whole_is_measured_and_forgiven() {
    for cents in [-30.0, -12.0, 0.0, 30.0] {
        let sound = strummed(&shape("A", "x02220"), cents, 5);
        let pass = judged(&sound, &[shape("A", "x02220")]);
        let measured = pass.tuning_cents.expect("it can be told");
        assert!((measured - cents).abs() < 6.0, "{measured} for {cents}");
        assert_eq!(pass.strokes[0].chord, Right, "off by {cents}");
    }
}

#[test]
fn a_chord_of_the_lesson_is_named_before_any_other() {
    let shapes = [shape("D", "xx0232"), shape("the low one", "x24432")];
    let pass = judged(&strummed(&shapes[1], 0.0, 11), &shapes);
    assert_eq!((pass.strokes[0].chord, pass.strokes[0].sounded_like.as_deref()), (Wrong, Some("the low one")));
}

#[test]
fn what_is_no_chord_is_never_a_wrong_one() {
    // Six strings, all deadened: what is left is the pick.
    let mut sound = vec![0.0_f32; frames(4.2 * f64::from(RATE))];
    let mut dice = Dice(2);
    for stroke in (0..STROKES).map(f64::from) {
        let from = frames((1.0 + stroke * EVERY_S) * f64::from(RATE));
        for (frame, sample) in (0_u32..1600).zip(&mut sound[from..]) {
            #[expect(clippy::cast_possible_truncation, reason = "samples")]
            let value = (0.2 * dice.normal() * (-f64::from(frame) / 160.0).exp()) as f32;
            *sample = value;
        }
    }
    add_noise(&mut sound, 0.0005, 4);
    let pass = judged(&sound, &[shape("G", "320003")]);
    assert!(pass.strokes.iter().all(|stroke| stroke.chord == Unsure));
}
