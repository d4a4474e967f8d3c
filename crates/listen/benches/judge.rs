//! How much of a core listening and judging cost: time for one minute of sound; 0.6 s would be .01 of a core.

use std::f64::consts::TAU;
use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use sixrung_lesson::{Action, Direction};
use sixrung_listen::{Listener, PassPlan, PlannedStroke, TakeOptions, judge_take};

const RATE: u32 = 48_000;
const SECONDS: u32 = 60;

/// Strokes four a second: six decaying tones each, and a little hash for noise.
fn minute() -> Vec<f32> {
    (0..RATE * SECONDS)
        .map(|frame| {
            let since = f64::from(frame % (RATE / 4)) / f64::from(RATE);
            let tones = [82.4, 123.5, 164.8, 207.7, 246.9, 329.6];
            let chord: f64 = tones.iter().map(|hertz| (TAU * hertz * since).sin()).sum();
            let noise = f64::from(frame.wrapping_mul(2_654_435_761) >> 16) / 65_536.0 - 0.5;
            #[expect(clippy::cast_possible_truncation, reason = "samples")]
            let sample = (0.1 * chord * (-4.0 * since).exp() + 0.002 * noise) as f32;
            sample
        })
        .collect()
}

fn plan() -> PassPlan {
    let strokes = (0..SECONDS * 4).map(|index| PlannedStroke {
        at_s: f64::from(index) * 0.25,
        slot_s: 0.25,
        bar: 0,
        slot: index,
        action: Action::Strum,
        direction: Direction::Down,
        shape: None,
    });
    PassPlan { starts_s: 0.0, length_s: f64::from(SECONDS), strokes: strokes.collect(), ..PassPlan::default() }
}

fn judging(criterion: &mut Criterion) {
    let (sound, plan) = (minute(), plan());
    let mut group = criterion.benchmark_group("listen");
    group.sample_size(10).throughput(Throughput::Elements(u64::from(RATE * SECONDS)));
    let options = TakeOptions { starts_at_s: Some(0.0), ..TakeOptions::default() };
    group.bench_function("judge one minute", |bench| {
        bench.iter(|| judge_take(black_box(&sound), RATE, std::slice::from_ref(&plan), &options));
    });
    group.bench_function("judge one minute, start unknown", |bench| {
        bench.iter(|| judge_take(black_box(&sound), RATE, std::slice::from_ref(&plan), &TakeOptions::default()));
    });
    group.bench_function("listen to a block of 480", |bench| {
        let mut listener = Listener::new(RATE).expect("a rate we take");
        let mut blocks = (0..).step_by(480).zip(sound.chunks_exact(480).cycle());
        bench.iter(|| {
            let (frame, block) = blocks.next().expect("endless");
            listener.feed(frame, black_box(block)).onsets.len()
        });
    });
    group.finish();
}

criterion_group!(benches, judging);
criterion_main!(benches);
