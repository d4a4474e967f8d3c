//! What happens to sound devices, and how things stand with them.

use sixrung_audio::{Performer, handover};
use sixrung_devices::{Event, Status, Which};
use sixrung_journal::{DevicePair, Measured as How};
use sixrung_practice::Moment;

use super::desk::Told;
use super::{Studio, WAITING};
use crate::session::{Input, SoundState};
use crate::stand::Note;

impl Studio {
    pub(super) fn sound_event(&mut self, event: Event, now: Moment) {
        match event {
            Event::Opened { which, opened } => {
                if which == Which::Output {
                    self.calibration.running = None;
                    self.tell(Told::Measure(None));
                    self.seat_performer(opened.rate);
                }
                if let Some(note) = opened.note {
                    self.take(Input::Note(Note { text: note, hint: String::new() }), now);
                }
            }
            Event::Lost { which, why } => {
                let (text, hint) = match which {
                    Which::Output => (format!("no sound goes out: {why}"), "practice waits; nothing is lost"),
                    Which::Input => {
                        (format!("no microphone: {why}"), "you can mark each pass yourself: clean M, not N")
                    }
                };
                self.take(Input::Note(Note { text, hint: hint.to_owned() }), now);
            }
            Event::Xrun(_) => {}
            Event::Gap(_) => self.tell(Told::Gap),
        }
        self.take(Input::Sound(self.sound_state()), now);
    }

    /// A performer for the rate that was opened, if the one that plays is for another.
    pub(super) fn seat_performer(&mut self, rate: u32) {
        if self.controls.as_ref().is_some_and(|(_, made_for)| *made_for == rate) {
            return;
        }
        let (controls, end) = handover::pair(WAITING);
        self.sound.play(Box::new(Performer::new(rate, end)));
        self.controls = Some((controls, rate));
    }

    pub(super) fn sound_state(&self) -> SoundState {
        let Status { output, input, .. } = self.sound.status();
        let trip = self.pair().and_then(|pair| self.keeper.round_trip(pair));
        SoundState {
            rate: self.controls.as_ref().map_or(0, |(_, rate)| *rate),
            output: output.opened().is_some(),
            input: input.opened().is_some() && self.seat.is_some(),
            round_trip_ms: trip.as_ref().map(|trip| trip.ms),
            own_way_ms: trip.filter(|trip| trip.how == How::Loopback).map(|trip| trip.ms),
            objection: self.objection(),
        }
    }

    /// The devices now open, as a measured round trip belongs to them.
    pub(super) fn pair(&self) -> Option<DevicePair> {
        let status = self.sound.status();
        let (output, input) = (status.output.opened()?, status.input.opened()?);
        Some(DevicePair {
            output: output.id.clone(),
            input: input.id.clone(),
            rate_hz: output.rate,
            buffer_frames: output.buffer,
        })
    }

    pub(super) fn sound_in_words(&self) -> String {
        let status = self.sound.status();
        let name = |port: &sixrung_devices::Port| port.opened().map_or("none".to_owned(), |opened| opened.name.clone());
        let trip = self.session.sound().round_trip_ms.map_or("unknown".to_owned(), |ms| format!("{ms:.1} ms"));
        format!("out {}, in {}, round trip {trip}", name(&status.output), name(&status.input))
    }
}
