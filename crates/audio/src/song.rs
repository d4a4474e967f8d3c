//! A passage of the learner's own recording, made ready elsewhere: here it is only copied.

use std::fmt;

use crate::shelf::Shelf;

/// By so much a frame a passage fades when something else is played: gone within 30 ms at 48 kHz, without a click.
const FADE: f32 = 0.996;

/// A passage in stereo, at its timeline's rate. Shared between the timelines that play it; the last of them to come
/// home frees it there.
pub struct Song {
    lead: usize,
    frames: Box<[[f32; 2]]>,
}

impl Song {
    /// `frames`, of which `lead` are heard before the pass begins. Samples that are no numbers are silence.
    #[must_use]
    pub fn new(lead: usize, mut frames: Box<[[f32; 2]]>) -> Self {
        for frame in &mut frames {
            *frame = frame.map(|sample| if sample.is_finite() { sample } else { 0.0 });
        }
        Self { lead: lead.min(frames.len()), frames }
    }

    /// Frames before the pass begins.
    pub(crate) fn lead(&self) -> usize {
        self.lead
    }

    /// The memory it takes, in bytes.
    #[must_use]
    pub fn bytes(&self) -> usize {
        size_of_val(&*self.frames)
    }
}

impl fmt::Debug for Song {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Song").field("lead", &self.lead).field("frames", &self.frames.len()).finish()
    }
}

/// One passage, sounding.
#[derive(Clone, Copy, Debug)]
struct Sounding {
    /// Its timeline's place on the shelf.
    place: u8,
    at: usize,
    gain: f32,
    decay: f32,
}

/// The passage that sounds, and the last one's end.
#[derive(Default)]
pub(crate) struct Songs {
    slots: [Option<Sounding>; 2],
}

impl Songs {
    /// Begins the passage of the timeline at `place`, `from` frames into it. One that still sounds fades when there is
    /// no place left.
    ///
    /// # Real-time
    /// Looks through two places.
    pub(crate) fn start(&mut self, place: u8, from: usize) {
        let begun = Some(Sounding { place, at: from, gain: 1.0, decay: 1.0 });
        match self.slots.iter_mut().find(|slot| slot.is_none()) {
            Some(slot) => *slot = begun,
            // Two still sounding can only be where timelines follow each other within a tail's length.
            None => self.slots[0] = begun,
        }
    }

    /// Lets what sounds fade.
    ///
    /// # Real-time
    /// Looks through two places.
    pub(crate) fn fade(&mut self) {
        self.slots.iter_mut().flatten().for_each(|sounding| sounding.decay = FADE);
    }

    /// Silences all at once.
    ///
    /// # Real-time
    /// Clears two places.
    pub(crate) fn clear(&mut self) {
        self.slots = [None; 2];
    }

    /// Whether the timeline at `place` is still read.
    ///
    /// # Real-time
    /// Looks through two places.
    pub(crate) fn reads(&self, place: u8) -> bool {
        self.slots.iter().flatten().any(|sounding| sounding.place == place)
    }

    /// Writes the next frames to `left` and `right`. Does nothing and says so when none sounds.
    ///
    /// # Real-time
    /// Reads prepared frames.
    pub(crate) fn fill(&mut self, shelf: &Shelf, left: &mut [f32], right: &mut [f32]) -> bool {
        if self.slots.iter().all(Option::is_none) {
            return false;
        }
        left.fill(0.0);
        right.fill(0.0);
        for slot in &mut self.slots {
            let Some(sounding) = slot else { continue };
            let song = shelf.get(sounding.place).and_then(|prepared| prepared.song());
            let frames = song.map_or(&[][..], |song| &song.frames);
            let rest = frames.get(sounding.at..).unwrap_or(&[]);
            for ((left, right), frame) in left.iter_mut().zip(right.iter_mut()).zip(rest) {
                *left += sounding.gain * frame[0];
                *right += sounding.gain * frame[1];
                sounding.gain *= sounding.decay;
            }
            sounding.at += left.len();
            if sounding.at >= frames.len() || sounding.gain < 1e-6 {
                *slot = None;
            }
        }
        true
    }
}
