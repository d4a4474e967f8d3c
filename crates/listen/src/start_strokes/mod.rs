//! Four muted strokes that start a pass: both hands stay on the guitar.
//!
//! Phases: [`Levels`] cuts the listener's sound into ticks of 5 ms → [`Burst`] says of a tick that rises suddenly, 0.22 s
//! later, whether a stroke on stopped strings begins there → [`are_four`] asks of the last four whether they are even,
//! alike and alone. Blocks may have any length: the outcome is the same. Memory is never asked for.

mod burst;
mod four;
mod levels;

use crate::listener::Caught;
use burst::{Burst, KNOWN_AFTER};
use four::{ALONE_DB, are_four};
use levels::{Levels, ticks};

/// What we play ourselves may arrive for so long after it left, in seconds: the largest lag looked for, and an echo.
const OWN_LASTS_S: f64 = 0.8;
/// What is louder than this in our own sound may be heard, as an amplitude: −80 dB re full scale.
const OWN_HEARD: f32 = 1e-4;
/// At a stream's start its noise sets in, which is no stroke: so much is not listened to, in seconds.
const START_S: f64 = 0.25;
/// Strokes remembered: four, and some noises between them.
const KEPT: usize = 8;

/// Listens for four muted strokes. Feed it all that a listener catches, from any moment on.
#[derive(Debug)]
pub struct StartEar {
    levels: Levels,
    /// The last strokes, the newest last.
    last: [Option<Burst>; KEPT],
    /// The next tick at which one may begin.
    next: u64,
}

impl Default for StartEar {
    fn default() -> Self {
        Self::new()
    }
}

impl StartEar {
    /// An ear that has heard nothing.
    #[must_use]
    pub fn new() -> Self {
        Self { levels: Levels::new(), last: [None; KEPT], next: 0 }
    }

    /// Takes what the listener caught next. Gives when the fourth stroke of four began, in seconds on the listener's
    /// clock, 0.22 s after it did; the four are used up then. While the program itself sounds, as far as the listener was
    /// told of it, nothing is taken for a stroke.
    ///
    /// Allocates nothing.
    pub fn take_in(&mut self, caught: Caught<'_>) -> Option<f64> {
        let sound = caught.sound;
        if !self.levels.goes_on(sound.at_s, sound.rate) {
            self.levels.begin(sound.at_s, sound.rate);
            (self.last, self.next) = ([None; KEPT], ticks(START_S));
        }
        let mut started = None;
        for (index, sample) in sound.samples.iter().enumerate() {
            if caught.played.get(index).is_some_and(|played| played.abs() > OWN_HEARD) {
                self.last = [None; KEPT];
                self.next = self.levels.count() + ticks(OWN_LASTS_S);
            }
            if self.levels.push(*sample) {
                started = self.look().or(started);
            }
        }
        started
    }

    /// A tick is full: looks at what began so long before it that it is known.
    fn look(&mut self) -> Option<f64> {
        let at = self.levels.count().checked_sub(KNOWN_AFTER).filter(|at| *at >= self.next)?;
        let stroke = Burst::at(&self.levels, at)?;
        self.next = at + KNOWN_AFTER;
        self.last.rotate_left(1);
        self.last[KEPT - 1] = Some(stroke);
        if !are_four(&self.levels, &self.last_four(stroke)?) {
            return None;
        }
        self.last = [None; KEPT];
        Some(self.levels.time_s(stroke.at))
    }

    /// This one and the three before it; what is too faint to be one of them is passed over.
    fn last_four(&self, newest: Burst) -> Option<[Burst; 4]> {
        let mut like = self.last.iter().rev().flatten().filter(|one| one.peak_db > newest.peak_db - ALONE_DB);
        let mut four = [newest; 4];
        for place in four.iter_mut().rev() {
            *place = *like.next()?;
        }
        Some(four)
    }
}
