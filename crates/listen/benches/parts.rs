//! What each part of the ear costs beside the listening itself: our own sound taken off, chords, what was learned of a
//! player, the tuner. Times are for a stretch of sound or one block of 480 frames at 48 kHz, of which 10 ms would be
//! the whole of a core; the slowest block of a minute is printed too.

#[path = "../tests/common/mod.rs"]
mod common;
#[path = "../tests/common/guitar.rs"]
mod guitar;

use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};

use common::add_noise;
use criterion::{Criterion, criterion_group, criterion_main};
use guitar::{Guitar, SHAPES, shapes};
use sixrung_lesson::{Action, Direction, Tuning};
use sixrung_listen::{
    Caught, LearnPlan, LearnedPath, Learning, Listener, PassPlan, PlannedStroke, Sounding, TakeOptions, Tuner, Way,
    judge_take, learn_take,
};

const RATE: u32 = 48_000;
const BLOCK: usize = 480;
const EVERY_S: f64 = 0.25;
const STROKES: usize = 240;
/// What else the machine does falls on other blocks in another round.
const ROUNDS: usize = 5;

/// A minute of strokes, four a second, a bar of A and a bar of G in turn.
fn minute(seed: u64, shaped: bool) -> (Vec<f32>, PassPlan) {
    let mut guitar = Guitar::new(RATE, seed);
    let mut strokes = Vec::new();
    for index in 0..STROKES {
        let shape = index / 8 % 2;
        let direction = if index % 2 == 0 { Direction::Down } else { Direction::Up };
        strokes.push(PlannedStroke {
            at_s: guitar.at_s,
            slot_s: EVERY_S,
            bar: index / 8,
            slot: u32::try_from(index % 8).expect("few"),
            action: Action::Strum,
            direction,
            shape: shaped.then_some(shape),
        });
        guitar.strum(&SHAPES[shape].1, direction, EVERY_S);
    }
    let plan = PassPlan { starts_s: 0.0, length_s: guitar.at_s, strokes, shapes: shapes(), ..PassPlan::default() };
    (guitar.recorded(), plan)
}

fn learning_take(plan: &LearnPlan) -> Vec<f32> {
    let mut guitar = Guitar::new(RATE, 5);
    for task in &plan.tasks {
        for index in 0..usize::try_from(task.strokes).expect("few") {
            let lasts_s = if task.way == Way::Slow { 1.0 } else { 0.4 };
            guitar.strum(&SHAPES[task.shape].1, task.direction(index), lasts_s);
        }
        guitar.at_s += 0.7;
    }
    guitar.recorded()
}

/// Each pass judged whole, from the first sample to the verdict.
fn passes(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("a pass of one minute");
    group.sample_size(10);
    let (sound, timed) = minute(7, false);
    let (_, shaped) = minute(7, true);
    let learn = LearnPlan::new(shapes());
    let learned = learn_take(&learning_take(&learn), RATE, &learn).expect("the rate is taken").expect("all is heard");
    let played: Arc<[f32]> = minute(8, false).0.into();
    let plain = TakeOptions { starts_at_s: Some(0.0), ..TakeOptions::default() };
    let knowing = TakeOptions { learned: Some(Arc::new(learned)), ..plain.clone() };
    let beside = TakeOptions { played: Some(played), ..plain.clone() };
    for (name, plan, options) in [
        ("strokes alone", &timed, &plain),
        ("and chords", &shaped, &plain),
        ("and strings and directions, learned", &shaped, &knowing),
        ("and chords, beside our own sound", &shaped, &beside),
    ] {
        group.bench_function(name, |bench| {
            bench.iter(|| judge_take(black_box(&sound), RATE, std::slice::from_ref(plan), options));
        });
    }
    group.bench_function("learning two shapes from their take", |bench| {
        let take = learning_take(&learn);
        bench.iter(|| learn_take(black_box(&take), RATE, &learn));
    });
    group.finish();
}

/// One block after the other, as they come from a microphone.
fn blocks(criterion: &mut Criterion) {
    let (sound, _) = minute(7, false);
    let (ours, _) = minute(8, false);
    let mut group = criterion.benchmark_group("a block of 480");
    let mut plain = Listener::new(RATE).expect("a rate we take");
    let mut removing = removing();
    let mut tuner = Tuner::new(RATE, &Tuning::standard_guitar(), 0).expect("a rate we take");
    let mut kept = Learning::new();
    let mut parts: [(&str, Feed<'_>); 4] = [
        ("listening", Box::new(|at, block| plain.feed(at, block).onsets.len())),
        ("listening, our own sound taken off", {
            let ours = &ours;
            let listener = &mut removing;
            Box::new(move |at, block| heard(listener, at, block, ours).onsets.len())
        }),
        ("listening, the way of our own sound kept in mind", {
            let ours = &ours;
            let mut listener = Listener::new(RATE).expect("a rate we take");
            Box::new(move |at, block| {
                let caught = heard(&mut listener, at, block, ours);
                kept.take_in(caught);
                caught.onsets.len()
            })
        }),
        ("tuning", Box::new(|_, block| usize::from(matches!(tuner.feed(block), Sounding::String(_))))),
    ];
    for (name, feed) in &mut parts {
        let mut frame = 0;
        let mut fastest = vec![Duration::MAX; sound.len() / BLOCK];
        for _ in 0..ROUNDS {
            for (block, fastest) in sound.chunks_exact(BLOCK).zip(&mut fastest) {
                let begun = Instant::now();
                black_box(feed(frame, block));
                *fastest = begun.elapsed().min(*fastest);
                frame += BLOCK as u64;
            }
        }
        let slowest = fastest.iter().max().expect("a minute of blocks");
        println!("{name}: slowest block of a minute {} µs, each the fastest of {ROUNDS} rounds", slowest.as_micros());
        let mut turn = sound.chunks_exact(BLOCK).cycle();
        group.bench_function(*name, |bench| {
            bench.iter(|| {
                frame += BLOCK as u64;
                feed(frame, black_box(turn.next().expect("endless")))
            });
        });
    }
    group.finish();
}

type Feed<'a> = Box<dyn FnMut(u64, &[f32]) -> usize + 'a>;

/// A block heard, told what we play two blocks ahead: what is told later than 10 ms ahead is not known in time.
#[expect(clippy::cast_precision_loss, reason = "seconds")]
fn heard<'a>(listener: &'a mut Listener, at: u64, block: &[f32], ours: &[f32]) -> Caught<'a> {
    let ahead = at + 2 * BLOCK as u64;
    let from = usize::try_from(ahead).expect("minutes") % (ours.len() - BLOCK);
    listener.played(ahead as f64 / f64::from(RATE), RATE, &ours[from..from + BLOCK]);
    listener.feed(at, block)
}

/// A listener that has learned the way our sound takes, from eight seconds of noise that came 20 ms late: strums alike
/// would not show how late.
fn removing() -> Listener {
    let mut noise = vec![0.0; 8 * RATE as usize];
    add_noise(&mut noise, 0.1, 3);
    let mut listener = Listener::new(RATE).expect("a rate we take");
    let mut learning = Learning::new();
    for (index, block) in (2..800).zip(noise.chunks_exact(BLOCK)) {
        learning.take_in(heard(&mut listener, index * BLOCK as u64, block, &noise));
    }
    let LearnedPath::Path(path) = learning.learn(1.0, 7.5, None) else { panic!("our own sound was not found") };
    listener.remove_own(Some(path));
    listener
}

criterion_group!(benches, passes, blocks);
criterion_main!(benches);
