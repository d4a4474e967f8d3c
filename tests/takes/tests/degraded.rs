//! What systems and rooms do to a guitar ends as "not judged" with its reason, or is heard through; it never becomes the
//! player's fault. The strings are sums of partials, so that nothing has to be installed.

#[path = "../../../crates/listen/tests/common/mod.rs"]
mod common;
#[path = "../../../crates/listen/tests/common/guitar.rs"]
mod guitar;

use std::sync::Arc;

use common::add_noise;
use guitar::{Guitar, SHAPES, shapes};
use sixrung_lesson::{Action, Direction};
use sixrung_listen::{PassPlan, PlannedStroke, Processing, Reason, TakeOptions, Verdict, judge_take};
use sixrung_takes::{Degradation, Dice, RATE};

const STROKES: u32 = 16;
const EVERY_S: f64 = 0.6;
const STARTS_S: f64 = 3.0;

/// Sixteen strokes played well, four on A and four on G in turn, as a microphone in a room hears them, and their plan.
fn take() -> (Vec<f32>, PassPlan) {
    let mut guitar = Guitar::new(RATE, 3);
    guitar.at_s = STARTS_S;
    let mut strokes = Vec::new();
    for index in 0..STROKES {
        let shape = index as usize / 4 % 2;
        let direction = Direction::Down;
        strokes.push(PlannedStroke {
            at_s: guitar.at_s - STARTS_S,
            slot_s: EVERY_S,
            bar: index as usize / 4,
            slot: index % 4,
            action: Action::Strum,
            direction,
            shape: Some(shape),
        });
        guitar.strum(&SHAPES[shape].1, direction, EVERY_S);
    }
    let plan = PassPlan { starts_s: 0.0, length_s: guitar.at_s - STARTS_S, strokes, shapes: shapes() };
    let mut sound = guitar.recorded();
    sound.extend(vec![0.0; RATE as usize]);
    add_noise(&mut sound, 0.000_5, 9);
    (sound, plan)
}

/// Our own strums on the same beats, from a count-in on, 12 ms late and some 8 dB under in the microphone.
fn beside_ours(take: &mut [f32]) -> Vec<f32> {
    let mut ours = Guitar::new(RATE, 8);
    while ours.at_s + EVERY_S < take.len() as f64 / f64::from(RATE) {
        ours.strum(&SHAPES[1].1, Direction::Down, EVERY_S);
    }
    let mut played = ours.recorded();
    played.resize(take.len(), 0.0);
    let late = RATE as usize * 12 / 1000;
    take[late..].iter_mut().zip(&played).for_each(|(sample, ours)| *sample += 0.4 * ours);
    played
}

fn check(degradation: Option<Degradation>, seeds: std::ops::Range<u64>, allowed: &[Verdict]) {
    for seed in seeds {
        let (mut sound, plan) = take();
        let played = (degradation == Some(Degradation::Echo)).then(|| beside_ours(&mut sound));
        let playing = (STARTS_S * f64::from(RATE)) as usize..sound.len() - RATE as usize;
        let dice = &mut Dice::new(seed);
        let sound = match degradation {
            Some(kind) => kind.apply(&sound, played.as_deref(), &playing, dice).expect("it applies"),
            None => sound,
        };
        let options =
            TakeOptions { starts_at_s: Some(STARTS_S), played: played.map(Arc::from), ..TakeOptions::default() };
        let judged = judge_take(&sound, RATE, &[plan], &options).expect("a rate we take");
        let verdict = judged.passes[0].verdict;
        assert!(allowed.contains(&verdict), "{degradation:?}, seed {seed}: {verdict:?}");
    }
}

const fn processed(processing: Processing) -> Verdict {
    Verdict::NotJudged(Reason::Processed(processing))
}

const UNCLEAR: Verdict = Verdict::NotJudged(Reason::Unclear);
const FAINT: Verdict = Verdict::NotJudged(Reason::TooFaint);

#[test]
fn as_recorded_it_is_clean() {
    check(None, 0..1, &[Verdict::Clean]);
}

#[test]
fn noise_suppression_and_an_overdriven_input_are_named() {
    check(Degradation::Suppression.into(), 0..3, &[processed(Processing::NoiseSuppression)]);
    check(Degradation::Clipped.into(), 0..3, &[Verdict::NotJudged(Reason::Clipped)]);
}

#[test]
fn automatic_gain_is_named_or_heard_through() {
    check(Degradation::Gain.into(), 0..3, &[processed(Processing::AutoGain), Verdict::Clean, UNCLEAR]);
}

#[test]
fn echo_cancelling_is_named_or_nothing_is_judged() {
    let reasons = [processed(Processing::EchoCancelling), processed(Processing::NoiseSuppression), UNCLEAR];
    check(Degradation::Echo.into(), 0..3, &reasons);
}

#[test]
fn a_far_microphone_and_a_telephone_are_heard_through_or_nothing_is_judged() {
    check(Degradation::Far.into(), 0..3, &[Verdict::Clean, FAINT, UNCLEAR]);
    check(Degradation::Narrow.into(), 0..1, &[Verdict::Clean, processed(Processing::NarrowBand), UNCLEAR]);
}
