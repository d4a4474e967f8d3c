//! A performer without a device.

use sixrung_audio::{Command, Controls, Decibels, Instrument, Part, Performer, Prepared, Report, handover};
use sixrung_timeline::Timeline;

/// A performer, its controls, and everything it has put out and reported.
pub(crate) struct Played {
    performer: Performer,
    pub(crate) controls: Controls,
    pub(crate) sound: Vec<f32>,
    pub(crate) reports: Vec<Report>,
}

impl Played {
    pub(crate) fn new(rate: u32) -> Self {
        let (controls, end) = handover::pair(64);
        Self { performer: Performer::new(rate, end), controls, sound: Vec::new(), reports: Vec::new() }
    }

    /// Only `part` is heard.
    pub(crate) fn only(rate: u32, part: Part) -> Self {
        let mut played = Self::new(rate);
        for other in Part::ALL.into_iter().filter(|other| *other != part) {
            played.send(Command::Gain(other, Decibels::SILENCE));
        }
        played
    }

    pub(crate) fn send(&mut self, command: Command) {
        self.controls.send(command).expect("the queue is read often enough");
    }

    pub(crate) fn play(&mut self, timeline: Timeline) {
        self.send(Command::Play(prepared(timeline)));
    }

    /// Lets it play on for `frames`, in blocks of `block`.
    pub(crate) fn run(&mut self, frames: usize, block: usize) {
        let from = self.sound.len();
        self.sound.resize(from + 2 * frames, f32::NAN);
        for out in self.sound[from..].chunks_mut(2 * block) {
            self.performer.process(out);
            self.reports.extend(std::iter::from_fn(|| self.controls.poll()));
        }
    }

    /// Where the timeline with this id was said to start.
    pub(crate) fn started(&self, id: u64) -> usize {
        let frame = self.reports.iter().find_map(|report| match report {
            Report::Started { id: found, frame, .. } if *found == id => Some(frame.0),
            _ => None,
        });
        usize::try_from(frame.expect("it started")).expect("fits")
    }

    /// The left channel.
    pub(crate) fn left(&self) -> Vec<f32> {
        self.sound.chunks_exact(2).map(|frame| frame[0]).collect()
    }
}

pub(crate) fn prepared(timeline: Timeline) -> Box<Prepared> {
    Box::new(Prepared::new(timeline, &Instrument::guitar()))
}

/// The largest step between neighbours.
pub(crate) fn largest_step(sound: &[f32]) -> f32 {
    sound.windows(2).fold(0.0, |largest, pair| largest.max((pair[1] - pair[0]).abs()))
}
