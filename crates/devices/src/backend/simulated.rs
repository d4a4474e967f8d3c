//! Sound that moves only when told to: the whole program's loop in a test, without devices, threads or waiting.

use std::collections::VecDeque;
use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};

use crossbeam_channel::Sender;

use crate::callback::{InputEnds, InputSide, OutputSide, PlayedEnds, input_side, output_side};
use crate::clock::{Clock, Times};
use crate::config::Pick;
use crate::desk::OutputDesk;
use crate::event::{Event, Opened, Port, Which, Why};
use crate::shared::Shared;
use crate::source::Inbox;

/// What is between the speakers and the microphone: a player, an echo, nothing.
pub trait Room: Send {
    /// One block: what comes out of the speakers (stereo by turns) from the output frame `first` on, counted from the
    /// simulation's start; what the microphone hears meanwhile is to be added to `microphone`, which comes zeroed.
    fn sound(&mut self, first: u64, speakers: &[f32], microphone: &mut [f32]);
}

impl<F: FnMut(u64, &[f32], &mut [f32]) + Send> Room for F {
    fn sound(&mut self, first: u64, speakers: &[f32], microphone: &mut [f32]) {
        self(first, speakers, microphone);
    }
}

/// The devices simulated.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SimulatedConfig {
    /// Frames a second.
    pub rate: u32,
    /// Frames a block.
    pub buffer: u32,
    /// Whether there is a microphone.
    pub microphone: bool,
    /// The round trip no driver tells of: how many frames late the microphone's sound comes.
    pub round_trip: u32,
}

impl Default for SimulatedConfig {
    fn default() -> Self {
        Self { rate: 48_000, buffer: 512, microphone: true, round_trip: 0 }
    }
}

/// Moves simulated sound. Everything happens in whole blocks.
pub struct Simulation {
    config: SimulatedConfig,
    now: Arc<AtomicI64>,
    output: Box<OutputSide>,
    input: Box<InputSide>,
    desk: OutputDesk,
    shared: Arc<Shared>,
    events: Sender<Event>,
    room: Box<dyn Room>,
    /// Frames advanced by and not yet run.
    owed: u64,
    /// Frames since the start or the last change of rate, and when that was.
    since: (u64, i64),
    /// The block that sounds while the next is rendered, and its first frame.
    sounding: Vec<f32>,
    first: u64,
    rendered: u64,
    late: VecDeque<f32>,
    deaf_blocks: u32,
    stuck_blocks: u32,
}

impl Simulation {
    pub(crate) fn new(
        config: SimulatedConfig,
        shared: Arc<Shared>,
        events: Sender<Event>,
    ) -> (Self, Clock, Inbox, (InputEnds, PlayedEnds)) {
        let now = Arc::new(AtomicI64::new(0));
        let clock = Clock::Simulated(Arc::clone(&now));
        let (output, inbox, desk, played) = output_side(clock.clone());
        let (input, input_ends) = input_side(clock.clone());
        let mut simulation = Self {
            sounding: vec![0.0; 2 * config.buffer as usize],
            late: vec![0.0; config.round_trip as usize].into(),
            config,
            now,
            output,
            input,
            desk,
            shared,
            events,
            room: Box::new(|_: u64, _: &[f32], _: &mut [f32]| {}),
            owed: 0,
            since: (0, 0),
            first: 0,
            rendered: 0,
            deaf_blocks: 0,
            stuck_blocks: 0,
        };
        simulation.bring_back(Which::Output, simulation.config.rate);
        if simulation.config.microphone {
            simulation.bring_back(Which::Input, simulation.config.rate);
        }
        (simulation, clock, inbox, (input_ends, played))
    }

    /// Puts this between speakers and microphone.
    pub fn enter(&mut self, room: impl Room + 'static) {
        self.room = Box::new(room);
    }

    /// Lets time pass, in whole blocks; what is left over is added to the next call.
    pub fn advance(&mut self, frames: u64) {
        self.owed += frames;
        while self.owed >= u64::from(self.config.buffer) {
            self.owed -= u64::from(self.config.buffer);
            self.block();
        }
    }

    /// The microphone's next `blocks` blocks vanish without a word.
    pub const fn lose_input_blocks(&mut self, blocks: u32) {
        self.deaf_blocks += blocks;
    }

    /// The output stands still for its next `blocks` blocks.
    pub const fn hold_output_blocks(&mut self, blocks: u32) {
        self.stuck_blocks += blocks;
    }

    /// A device is pulled out.
    pub fn pull_out(&mut self, which: Which) {
        *self.shared.status().port_mut(which) = Port::Missing(Why::Gone);
        self.tell(Event::Lost { which, why: Why::Gone });
    }

    /// A device comes back (after both have, both run at the last rate given).
    pub fn bring_back(&mut self, which: Which, rate: u32) {
        self.since = (0, self.now.load(Ordering::Acquire));
        self.config.rate = rate;
        match which {
            Which::Output => self.output.opened(rate),
            Which::Input => self.input.opened(rate, Pick::Mean),
        }
        let name = if which == Which::Output { "simulated output" } else { "simulated input" };
        let opened = Opened {
            id: name.replace(' ', ":"),
            name: name.to_owned(),
            rate,
            buffer: self.config.buffer,
            channels: 2,
            note: None,
        };
        *self.shared.status().port_mut(which) = Port::Open(opened.clone());
        self.tell(Event::Opened { which, opened });
    }

    /// One block's time: the last block sounds and is heard while the next is rendered.
    fn block(&mut self) {
        let began = self.now.load(Ordering::Acquire);
        let length = self.config.buffer as usize;
        let (speaking, hearing) = {
            let status = self.shared.status();
            (status.output.opened().is_some() && self.stuck_blocks == 0, status.input.opened().is_some())
        };
        let ended = self.after(u64::from(self.config.buffer));

        let mut heard = vec![0.0; length];
        self.room.sound(self.first, &self.sounding, &mut heard);
        self.sounding.fill(0.0);
        if speaking {
            let times = Times { callback_ns: began, device_ns: ended };
            self.output.render(&mut self.sounding, 2, times);
            self.first = self.rendered;
            self.rendered += length as u64;
        }
        self.stuck_blocks = self.stuck_blocks.saturating_sub(1);

        self.now.store(ended, Ordering::Release);
        self.since.0 += u64::from(self.config.buffer);
        self.late.extend(&heard);
        let late: Vec<f32> = self.late.drain(..length).collect();
        if hearing && self.deaf_blocks == 0 {
            self.input.take(&late, 1, Times { callback_ns: ended, device_ns: began });
        }
        self.deaf_blocks = self.deaf_blocks.saturating_sub(1);
        if let Some(gap) = self.desk.look(&self.shared) {
            self.tell(Event::Gap(gap));
        }
    }

    /// When `frames` more will have passed.
    fn after(&self, frames: u64) -> i64 {
        let ns = u128::from(self.since.0 + frames) * 1_000_000_000 / u128::from(self.config.rate.max(1));
        self.since.1 + i64::try_from(ns).unwrap_or(i64::MAX)
    }

    /// As on the devices thread: dropped when nobody fetches.
    fn tell(&self, event: Event) {
        let _ = self.events.try_send(event);
    }
}
