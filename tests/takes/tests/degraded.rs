//! What systems and rooms do to a guitar ends as "not judged" with its reason, or is heard through, and the sound check
//! names it before. The strings are sums of partials, so that nothing has to be installed. Echo cancelling is not here:
//! most of it is not told yet.

#[path = "../../../crates/listen/tests/common/mod.rs"]
mod common;
#[path = "../../../crates/listen/tests/common/guitar.rs"]
mod guitar;

use common::add_noise;
use guitar::{Guitar, SHAPES, shapes};
use sixrung_lesson::{Action, Direction};
use sixrung_listen::{PassPlan, PlannedStroke, Processing, Reason, SoundCheck, TakeOptions, Verdict, judge_take};
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
    let plan =
        PassPlan { starts_s: 0.0, length_s: guitar.at_s - STARTS_S, strokes, shapes: shapes(), ..PassPlan::default() };
    let mut sound = guitar.recorded();
    sound.extend(vec![0.0; RATE as usize]);
    add_noise(&mut sound, 0.000_5, 9);
    (sound, plan)
}

fn check(degradation: Option<Degradation>, seeds: std::ops::Range<u64>, allowed: &[Verdict]) {
    for seed in seeds {
        let (sound, plan) = take();
        let playing = (STARTS_S * f64::from(RATE)) as usize..sound.len() - RATE as usize;
        let dice = &mut Dice::new(seed);
        let sound = match degradation {
            Some(kind) => kind.apply(&sound, None, &playing, dice).expect("it applies"),
            None => sound,
        };
        let options = TakeOptions { starts_at_s: Some(STARTS_S), ..TakeOptions::default() };
        let judged = judge_take(&sound, RATE, &[plan], &options).expect("a rate we take");
        let verdict = judged.passes[0].verdict;
        assert!(allowed.contains(&verdict), "{degradation:?}, seed {seed}: {verdict:?}");
    }
}

const fn processed(processing: Processing) -> Verdict {
    Verdict::NotJudged(Reason::Processed(processing))
}

const UNCLEAR: Verdict = Verdict::NotJudged(Reason::Unclear);

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
fn a_telephone_is_heard_through_or_named() {
    check(Degradation::Narrow.into(), 0..1, &[Verdict::Clean, processed(Processing::NarrowBand), UNCLEAR]);
}

/// What the sound check says of four strums after some quiet, the last left ringing.
fn checked(degradation: Option<Degradation>, seed: u64) -> Vec<Reason> {
    let mut guitar = Guitar::new(RATE, 4);
    guitar.at_s = 2.5;
    for lasts_s in [1.0, 1.0, 1.0, 5.5] {
        guitar.strum(&SHAPES[1].1, Direction::Down, lasts_s);
    }
    let mut sound = guitar.recorded();
    sound.resize(12 * RATE as usize, 0.0);
    add_noise(&mut sound, 0.000_5, 9);
    let playing = 5 * RATE as usize / 2..7 * RATE as usize;
    let sound = degradation.map_or_else(
        || sound.clone(),
        |kind| kind.apply(&sound, None, &playing, &mut Dice::new(seed)).expect("it applies"),
    );
    let mut check = SoundCheck::new(RATE).expect("a rate we take");
    sound.chunks(480).for_each(|block| check.take_in(block));
    check.findings()
}

#[test]
fn the_sound_check_passes_what_is_good_and_names_what_is_cut_off_overdriven_or_far() {
    assert_eq!(checked(None, 0), []);
    for seed in 0..3 {
        let names = |kind: Degradation, reasons: &[Reason]| {
            let found = checked(Some(kind), seed);
            assert!(found.iter().any(|found| reasons.contains(found)), "{kind:?}, seed {seed}: {found:?}");
        };
        names(Degradation::Suppression, &[Reason::Processed(Processing::NoiseSuppression)]);
        names(Degradation::Clipped, &[Reason::Clipped]);
        // So far away that no strum stands out is as good a reason to come nearer.
        names(Degradation::Far, &[Reason::TooFaint, Reason::Silence]);
    }
}
