//! The performer: plays a timeline from an exact frame clock.
//!
//! Live it is called by the output device; offline by [`crate::Render`]. Its clock is the number of frames it has put
//! out. Whatever the blocks it is asked for, the samples are the same, bit for bit: everything advances frame by frame,
//! and housekeeping happens at whole multiples of 64 frames of the clock.

mod obeying;
mod playing;

use sixrung_timeline::Frames;

use crate::guitar::Guitar;
use crate::handover::{PerformerEnd, Report};
use crate::mixer::{GATE_RAMP_S, Mixer, Sounds};
use crate::playhead::Playhead;
use crate::shelf::{PLACES, Shelf};
use crate::shots::Shots;
use crate::smooth::{decay, frames};
use crate::song::Songs;
use crate::string::bank::BLOCK;
use crate::units::Part;

/// Commands taken in one call: no sender can hold the audio thread up.
const COMMANDS_A_CALL: usize = 64;

/// The string a recording belongs to: none.
const RECORDING: u8 = u8::MAX;
/// The string of the bass, and the time its note takes to be stopped, in seconds to −60 dB.
const BASS: u8 = 0;
const BASS_STOP_T60_S: f64 = 0.120;
/// By so much a frame a recording fades when something else is played: gone within 30 ms at 48 kHz, without a click.
const RECORDING_FADE: f32 = 0.996;

/// Whether the sound is let through.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Gate {
    Closed,
    /// Open, or fully so from this frame on.
    OpenFrom(u64),
    Closing,
}

/// Plays timelines. Lives on the audio thread; make it and drop it elsewhere.
pub struct Performer {
    rate: u32,
    end: PerformerEnd,
    shelf: Shelf,
    playhead: Option<Playhead>,
    next: Option<u8>,
    gate: Gate,
    lead: u64,
    guitar: Guitar,
    clicks: Shots<8>,
    basses: Shots<4>,
    brushes: Shots<8>,
    recordings: Shots<2>,
    songs: Songs,
    bass_stop: f32,
    mixer: Mixer,
    /// The parts of the block being made, left and right.
    parts: Sounds,
    /// Where the frame made next is heard: the limiter's latency ahead of what has been put out.
    frame: u64,
    latency: u64,
    broken: bool,
}

impl Performer {
    /// A silent performer at `rate` frames a second.
    #[must_use]
    pub fn new(rate: u32, end: PerformerEnd) -> Self {
        let mixer = Mixer::new(rate);
        let latency = mixer.latency();
        Self {
            rate,
            end,
            shelf: Shelf::default(),
            playhead: None,
            next: None,
            gate: Gate::Closed,
            lead: u64::from(frames(rate, GATE_RAMP_S)),
            guitar: Guitar::new(rate),
            clicks: Shots::new(),
            basses: Shots::new(),
            brushes: Shots::new(),
            recordings: Shots::new(),
            songs: Songs::default(),
            bass_stop: decay(rate, BASS_STOP_T60_S),
            mixer,
            parts: [[[0.0; BLOCK]; 2]; Part::ALL.len()],
            frame: latency,
            latency,
            broken: false,
        }
    }

    /// Frames put out so far.
    ///
    /// # Real-time
    /// Reads a number.
    #[must_use]
    pub fn frames_out(&self) -> Frames {
        Frames(self.frame - self.latency)
    }

    /// Fills `out`, interleaved left and right, with the next frames. A sample too many is silence.
    ///
    /// # Real-time
    /// Never allocates, frees, locks, waits or panics. A frame costs the same whatever is played but for a few more
    /// numbers copied when a string is struck.
    pub fn process(&mut self, out: &mut [f32]) {
        self.take_commands();
        let (stereo, odd) = out.as_chunks_mut::<2>();
        odd.fill(0.0);
        let mut rest = stereo;
        while !rest.is_empty() {
            let (now, later) = rest.split_at_mut(rest.len().min(self.room()));
            self.fill(now);
            rest = later;
            if self.room() == BLOCK {
                self.settle();
            }
        }
    }

    /// Frames to the next whole block of the clock.
    ///
    /// # Real-time
    /// Arithmetic only.
    fn room(&self) -> usize {
        #[expect(clippy::cast_possible_truncation, reason = "below BLOCK")]
        let within = (self.frame % BLOCK as u64) as usize;
        BLOCK - within
    }

    /// Makes up to a block of frames.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    fn fill(&mut self, out: &mut [[f32; 2]]) {
        let mut rest = out;
        while !rest.is_empty() {
            self.act_on_what_is_due();
            let ahead = self.playhead.map_or(u64::MAX, |playhead| playhead.due().saturating_sub(self.frame).max(1));
            let frames = rest.len().min(usize::try_from(ahead).unwrap_or(usize::MAX));
            let (now, later) = rest.split_at_mut(frames);
            self.sound(now);
            self.frame += frames as u64;
            rest = later;
        }
    }

    /// Makes frames in which nothing new begins.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    fn sound(&mut self, out: &mut [[f32; 2]]) {
        let frames = out.len().min(BLOCK);
        let mut heard = [false; Part::ALL.len()];
        for ((part, [left, right]), heard) in Part::ALL.into_iter().zip(&mut self.parts).zip(&mut heard) {
            let (left, right) = (&mut left[..frames], &mut right[..frames]);
            *heard = match part {
                Part::Click => self.clicks.fill(&self.shelf, left, right),
                Part::Guitar => self.guitar.fill(&self.shelf, left, right),
                Part::Recording => self.recordings.fill(&self.shelf, left, right),
                Part::Song => self.songs.fill(&self.shelf, left, right),
                Part::Bass => self.basses.fill(&self.shelf, left, right),
                Part::Brushes => self.brushes.fill(&self.shelf, left, right),
            };
            let sound = left.iter().chain(right.iter());
            if *heard && sound.fold(false, |found, sample| found | !sample.is_finite()) {
                // Silence is a valid answer to anything that goes wrong.
                self.broken = true;
                *heard = false;
            }
        }
        self.mixer.mix(&self.parts, heard, &mut out[..frames]);
    }

    /// # Real-time
    /// Takes no lock and waits for nobody.
    fn take_commands(&mut self) {
        for _ in 0..COMMANDS_A_CALL {
            // The controls never have more timelines out than the shelf has places; should they, commands wait.
            if !self.shelf.has_room() {
                break;
            }
            let Some(command) = self.end.command() else { break };
            self.obey(command);
        }
        self.end.report_lost();
    }

    /// Housekeeping at every whole block of the clock.
    ///
    /// # Real-time
    /// Arithmetic; takes no lock, frees nothing.
    fn settle(&mut self) {
        self.guitar.settle(&self.shelf);
        self.clicks.settle(&self.shelf);
        self.recordings.settle(&self.shelf);
        self.basses.settle(&self.shelf);
        self.brushes.settle(&self.shelf);
        if self.broken {
            self.broken = false;
            self.fall_silent();
        }
        if self.gate == Gate::Closing && self.mixer.is_closed() {
            self.gate = Gate::Closed;
            self.fall_silent();
            self.end.report(Report::Stopped { frame: Frames(self.frame) });
            if let Some(place) = self.next.take() {
                self.play(place);
            }
        }
        self.send_timelines_home();
    }

    /// # Real-time
    /// Clears what sounds.
    fn fall_silent(&mut self) {
        self.guitar.silence();
        self.clicks.clear();
        self.basses.clear();
        self.brushes.clear();
        self.recordings.clear();
        self.songs.clear();
    }

    /// Sends every timeline home that neither plays nor waits nor is heard any more. One that can't be sent now stays
    /// and is tried again a block later.
    ///
    /// # Real-time
    /// Takes no lock, frees nothing.
    fn send_timelines_home(&mut self) {
        for place in (0_u8..).take(PLACES) {
            if self.shelf.get(place).is_none() {
                continue;
            }
            let plays = self.playhead.is_some_and(|playhead| playhead.place == place);
            let shots = self.clicks.reads(place) || self.recordings.reads(place);
            let backing = self.basses.reads(place) || self.brushes.reads(place) || self.songs.reads(place);
            let idle = !plays && self.next != Some(place) && !shots && !backing && !self.guitar.reads(place);
            if !idle {
                continue;
            }
            let Some(prepared) = self.shelf.take(place) else { continue };
            if let Err(prepared) = self.end.send_home(prepared)
                && let Err(prepared) = self.shelf.put(prepared)
            {
                // Its own place was just left free, so this is never reached; a leak is better than a free.
                std::mem::forget(prepared);
            }
        }
    }
}
