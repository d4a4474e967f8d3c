//! What a frame of sound costs: six-string strums in eighths at 120 bpm with the click, and a block of 64 frames.

use std::hint::black_box;

use criterion::{BatchSize, Criterion, Throughput, criterion_group, criterion_main};
use sixrung_audio::{Command, Controls, Instrument, Performer, Prepared, handover};
use sixrung_timeline::{ClickKind, Direction, Event, EventKind, Pitch, Tempo, TempoGrid, Tick, Timeline};

const RATE: u32 = 48_000;
/// E major, the heaviest string first.
const CHORD: [u8; 6] = [40, 47, 52, 56, 59, 64];

fn strums() -> Timeline {
    let strum = |slot: u32| {
        (0_u8..).zip(CHORD).map(move |(string, key)| Event {
            at: Tick(slot * 480),
            delay_ns: u32::from(string) * 3_500_000,
            kind: EventKind::Pluck { string, pitch: Pitch(key), velocity: 0.8, direction: Direction::Down },
        })
    };
    let click = |beat: u32| Event { at: Tick(beat * 960), delay_ns: 0, kind: EventKind::Click(ClickKind::Beat) };
    Timeline {
        id: 1,
        grid: TempoGrid::new(RATE, Tempo::from_bpm(120.0).expect("in range"), Tick(960)),
        intro: Tick::ZERO,
        intro_events: Box::new([]),
        cycle: Tick(3840),
        cycle_events: (0..8).flat_map(strum).chain((0..4).map(click)).collect(),
        pass_at: Tick::ZERO,
        pass: Tick(3840),
        passes: None,
    }
}

/// A performer with two seconds of strums behind it.
fn playing() -> (Controls, Performer) {
    let (mut controls, end) = handover::pair(64);
    let mut performer = Performer::new(RATE, end);
    let prepared = Box::new(Prepared::new(strums(), &Instrument::guitar()));
    controls.send(Command::Play(prepared)).expect("the queue is empty");
    performer.process(&mut vec![0.0; 4 * RATE as usize]);
    (controls, performer)
}

fn frames(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("six strings, eighths at 120");
    for (name, frames) in [("second", RATE as usize), ("block of 64", 64)] {
        let (mut controls, mut performer) = playing();
        let mut out = vec![0.0; 2 * frames];
        group.throughput(Throughput::Elements(frames as u64));
        group.bench_function(name, |bencher| {
            bencher.iter(|| {
                performer.process(black_box(&mut out));
                while controls.poll().is_some() {}
            });
        });
    }
    group.finish();
}

fn silence(criterion: &mut Criterion) {
    let (_controls, end) = handover::pair(64);
    let mut performer = Performer::new(RATE, end);
    let mut out = vec![0.0; 2 * RATE as usize];
    let mut group = criterion.benchmark_group("silence");
    group.throughput(Throughput::Elements(u64::from(RATE)));
    group.bench_function("second", |bencher| bencher.iter(|| performer.process(black_box(&mut out))));
    group.finish();
}

fn preparing(criterion: &mut Criterion) {
    criterion.bench_function("preparing six strings", |bencher| {
        bencher.iter_batched(strums, |timeline| Prepared::new(timeline, &Instrument::guitar()), BatchSize::SmallInput);
    });
}

criterion_group!(benches, frames, silence, preparing);
criterion_main!(benches);
