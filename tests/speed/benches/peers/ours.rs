//! Our performer, live as the audio callback runs it.

use sixrung_audio::{Command, Controls, Instrument, Performer, Prepared, flush_denormals, handover};
use sixrung_timeline::Timeline;

use crate::cost::{BLOCK, Player, middle, thread_ns};
use crate::score::{RATE, Stroke, timeline};

/// What a block of 64 frames may take: 1333 µs.
const DEADLINE_NS: f64 = BLOCK as f64 / RATE as f64 * 1e9;

/// A performer and its controls.
pub(crate) struct Ours {
    controls: Controls,
    performer: Performer,
    out: [f32; 2 * BLOCK],
}

impl Ours {
    pub(crate) fn new() -> Self {
        flush_denormals();
        Self::playing(timeline(None))
    }

    fn playing(timeline: Timeline) -> Self {
        let (mut controls, end) = handover::pair(64);
        let performer = Performer::new(RATE, end);
        let prepared = Box::new(Prepared::new(timeline, &Instrument::guitar()));
        controls.send(Command::Play(prepared)).expect("the queue is empty");
        Self { controls, performer, out: [0.0; 2 * BLOCK] }
    }

    /// Makes a block.
    fn make(&mut self) {
        self.performer.process(&mut self.out);
        while self.controls.poll().is_some() {}
    }

    /// What each of `count` blocks cost, in nanoseconds, the clock's own share taken off.
    fn block_by_block(&mut self, count: usize) -> Vec<f64> {
        let clock = middle(&mut (0..1000).map(|_| -(thread_ns() - thread_ns())).collect::<Vec<_>>());
        let timed = |ours: &mut Self| {
            let began = thread_ns();
            ours.performer.process(&mut ours.out);
            let ns = thread_ns() - began - clock;
            while ours.controls.poll().is_some() {}
            ns
        };
        (0..count).map(|_| timed(self)).collect()
    }

    /// What a block costs over so many seconds, in nanoseconds: the middle of seconds timed whole.
    fn over(&mut self, seconds: u32) -> f64 {
        let blocks = RATE as usize / BLOCK;
        let second = |ours: &mut Self| {
            let began = thread_ns();
            (0..blocks).for_each(|_| ours.make());
            (thread_ns() - began) / blocks as f64
        };
        middle(&mut (0..seconds).map(|_| second(self)).collect::<Vec<_>>())
    }
}

impl Player for Ours {
    fn name(&self) -> &'static str {
        "ours: strings, box, limiter"
    }

    fn strike(&mut self, _: &Stroke) {}

    fn block(&mut self, left: &mut [f32; BLOCK], right: &mut [f32; BLOCK]) {
        self.make();
        for ((frame, left), right) in self.out.as_chunks::<2>().0.iter().zip(left).zip(right) {
            [*left, *right] = *frame;
        }
    }
}

/// The blocks in which all six strings are struck at once, and what is left to do two minutes after the last stroke.
pub(crate) fn block_and_ring_out(seconds: u32) {
    let mut at_once = timeline(None);
    for event in &mut at_once.cycle_events {
        event.delay_ns = 0;
    }
    let mut ours = Ours::playing(at_once);
    let costs = ours.block_by_block((seconds * RATE) as usize / BLOCK);
    // A strum every 187.5 blocks: the dearest block of each such stretch is the one with the strum in it.
    let mut strums: Vec<f64> =
        costs.chunks(188).skip(1).map(|costs| costs.iter().copied().fold(0.0, f64::max)).collect();
    let (block, strum) = (middle(&mut costs.clone()), middle(&mut strums));
    let share = |ns: f64| 100.0 * ns / DEADLINE_NS;
    println!("\na block of 64: {:.2} µs, {:.2} % of its deadline", block / 1e3, share(block));
    println!("with a six-string strum in it: {:.2} µs, {:.2} %", strum / 1e3, share(strum));

    let mut ours = Ours::playing(timeline(Some(seconds.div_ceil(2))));
    let active = ours.over(2 * seconds.div_ceil(2));
    let fading = ours.over(120);
    let after = ours.over(seconds);
    let (fading, after) = (fading / active, after / active);
    println!("ringing out for 120 s: {fading:.2} times a block while strumming; after that: {after:.2} times");
}
