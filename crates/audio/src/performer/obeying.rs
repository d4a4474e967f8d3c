//! What each command does.

use sixrung_timeline::{FineFrames, Frames};

use super::{BASS, Gate, Performer, RECORDING, RECORDING_FADE};
use crate::handover::{Command, Report};
use crate::playhead::Playhead;
use crate::prepared::Prepared;

impl Performer {
    /// # Real-time
    /// Moves pointers and sets numbers.
    pub(super) fn obey(&mut self, command: Command) {
        match command {
            Command::Play(prepared) => {
                if let Some(place) = self.shelve(prepared) {
                    self.next = None;
                    self.play(place);
                }
            }
            Command::PlayNext(prepared) => {
                if let Some(place) = self.shelve(prepared) {
                    if self.playhead.is_some() {
                        self.next = Some(place);
                    } else {
                        self.play(place);
                    }
                }
            }
            Command::Stop => self.stop(),
            Command::Gain(part, gain) => self.mixer.set_gain(part, gain),
            Command::Master(gain) => self.mixer.set_master(gain),
            Command::Mute => self.mixer.mute(),
            Command::Unmute => self.mixer.unmute(),
        }
    }

    /// Puts a timeline on the shelf, unless it was made for another rate: then it stands there only until it is sent
    /// home.
    ///
    /// # Real-time
    /// Moves a pointer.
    fn shelve(&mut self, prepared: Box<Prepared>) -> Option<u8> {
        let (id, rate) = (prepared.timeline().id, prepared.timeline().grid.rate());
        let place = match self.shelf.put(prepared) {
            Ok(place) => place,
            Err(prepared) => {
                // Commands are only taken while there is room, so this is never reached; a leak is better than a free.
                std::mem::forget(prepared);
                return None;
            }
        };
        if rate == self.rate {
            return Some(place);
        }
        self.end.report(Report::Refused { id });
        None
    }

    /// Plays the timeline at `place` from now on, or from when the sound has closed and opened again.
    ///
    /// # Real-time
    /// Sets a few numbers.
    pub(super) fn play(&mut self, place: u8) {
        match self.gate {
            Gate::Closing => self.next = Some(place),
            Gate::Closed => {
                self.mixer.open();
                let open_from = self.frame + self.lead;
                self.gate = Gate::OpenFrom(open_from);
                self.start(place, FineFrames::from_frames(Frames(open_from)));
            }
            Gate::OpenFrom(open_from) => {
                if self.playhead.is_some() {
                    self.guitar.damp_all();
                    self.basses.fade(BASS, self.bass_stop);
                    self.recordings.fade(RECORDING, RECORDING_FADE);
                    self.songs.fade();
                }
                self.start(place, FineFrames::from_frames(Frames(self.frame.max(open_from))));
            }
        }
    }

    /// # Real-time
    /// Integer arithmetic.
    pub(super) fn start(&mut self, place: u8, start: FineFrames) {
        let Some(prepared) = self.shelf.get(place) else { return };
        self.playhead = Some(Playhead::new(place, start, prepared));
        self.mixer.set_level(prepared.level());
        let id = prepared.timeline().id;
        self.end.report(Report::Started { id, frame: start.round(), fine: start });
    }

    /// # Real-time
    /// Sets a few numbers.
    fn stop(&mut self) {
        self.playhead = None;
        self.next = None;
        if self.gate == Gate::Closed {
            self.end.report(Report::Stopped { frame: Frames(self.frame) });
        } else {
            self.gate = Gate::Closing;
            self.mixer.close();
        }
    }
}
