//! Eight strings side by side.
//!
//! A string's filters are recursions that each wait for their last result; eight in step hide that wait. Everything is
//! laid out lane by lane, so that the compiler runs the lanes in vector registers.

use std::array;

use super::lanes::{LANES, Lanes};
use super::model::{ALLPASSES, Loop};
use crate::shelf::{Shelf, TableRef};

/// Most frames run at once.
pub(crate) const BLOCK: usize = 64;
/// Below this, held for a whole period, a string has fallen silent: 120 dB under full scale.
const SILENT: f32 = 1e-6;

/// An excitation on its way into a lane.
#[derive(Clone, Copy, Debug)]
struct Pick {
    table: TableRef,
    at: usize,
    gain: f32,
    /// One-pole lowpass: a softer stroke is a duller one.
    openness: f32,
    state: f32,
}

/// How a lane is struck.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Strike {
    /// The excitation.
    pub table: TableRef,
    /// Its level, 0 to 1.
    pub gain: f32,
    /// Coefficient of the lowpass it passes, above 0 (closed) to 1 (open).
    pub openness: f32,
}

/// Eight loops.
pub(crate) struct Bank {
    /// The delay lines, one row a frame; a power of two of them.
    rows: Box<[Lanes]>,
    write: usize,
    delay: [usize; LANES],
    input: Lanes,
    feedback: Lanes,
    allpass: [Lanes; ALLPASSES],
    /// Last outputs of the loss filter and of each allpass: each one's output is the next one's input.
    last: [Lanes; ALLPASSES + 1],
    gain: Lanes,
    decay: Lanes,
    picks: [Option<Pick>; LANES],
    feed: [Lanes; BLOCK],
    feeding: bool,
    peak: Lanes,
    quiet_frames: [usize; LANES],
    active: [bool; LANES],
}

impl Bank {
    /// A silent bank for strings with periods up to `longest` samples.
    pub(crate) fn new(longest: usize) -> Self {
        let length = (longest + 1).next_power_of_two();
        Self {
            rows: vec![Lanes::ZERO; length].into(),
            write: 0,
            delay: [1; LANES],
            input: Lanes::ZERO,
            feedback: Lanes::ZERO,
            allpass: [Lanes::ZERO; ALLPASSES],
            last: [Lanes::ZERO; ALLPASSES + 1],
            gain: Lanes::ZERO,
            decay: Lanes([1.0; LANES]),
            picks: [None; LANES],
            feed: [Lanes::ZERO; BLOCK],
            feeding: false,
            peak: Lanes::ZERO,
            quiet_frames: [0; LANES],
            active: [false; LANES],
        }
    }

    /// Whether lane `lane` sounds.
    ///
    /// # Real-time
    /// Reads a flag.
    pub(crate) fn sounds(&self, lane: usize) -> bool {
        self.active[lane]
    }

    /// Whether any lane sounds.
    ///
    /// # Real-time
    /// Reads flags.
    pub(crate) fn any_sounds(&self) -> bool {
        self.active != [false; LANES]
    }

    /// Whether a lane still reads from shelf place `place`.
    ///
    /// # Real-time
    /// Reads eight references.
    pub(crate) fn reads(&self, place: u8) -> bool {
        self.picks.iter().flatten().any(|pick| pick.table.place == place)
    }

    /// Clears lane `lane`, tunes it and strikes it. A loop longer than the delay lines is not struck at all.
    ///
    /// # Real-time
    /// Clears one period of a delay line and copies a few numbers.
    pub(crate) fn strike(&mut self, lane: usize, tuned: &Loop, strike: Strike) {
        self.clear(lane);
        if tuned.delay >= self.rows.len() {
            return;
        }
        let mask = self.rows.len() - 1;
        for back in 1..=tuned.delay {
            self.rows[self.write.wrapping_sub(back) & mask][lane] = 0.0;
        }
        self.delay[lane] = tuned.delay;
        self.input[lane] = tuned.input;
        self.feedback[lane] = tuned.feedback;
        for (lanes, coefficient) in self.allpass.iter_mut().zip(tuned.allpass) {
            lanes[lane] = coefficient;
        }
        self.gain[lane] = 1.0;
        self.decay[lane] = 1.0;
        let Strike { table, gain, openness } = strike;
        self.picks[lane] = Some(Pick { table, at: 0, gain, openness, state: 0.0 });
        self.active[lane] = true;
    }

    /// Lets lane `lane` fade by `decay` a frame from now on; it never fades more slowly than before.
    ///
    /// # Real-time
    /// Sets a number.
    pub(crate) fn fade(&mut self, lane: usize, decay: f32) {
        self.decay[lane] = self.decay[lane].min(decay);
    }

    /// Silences lane `lane` at once. What its delay line holds is heard no more: with no gain in the loop it only
    /// takes zeros from here on, and the next strike clears the rest.
    ///
    /// # Real-time
    /// Sets a few numbers.
    pub(crate) fn clear(&mut self, lane: usize) {
        self.input[lane] = 0.0;
        self.feedback[lane] = 0.0;
        for lanes in &mut self.last {
            lanes[lane] = 0.0;
        }
        self.gain[lane] = 0.0;
        self.decay[lane] = 1.0;
        self.picks[lane] = None;
        self.peak[lane] = 0.0;
        self.quiet_frames[lane] = 0;
        self.active[lane] = false;
    }

    /// Adds the next frames of all lanes, at most [`BLOCK`], to `left` and `right`, each lane weighted as given.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn add_into(&mut self, shelf: &Shelf, weights: &[Lanes; 2], left: &mut [f32], right: &mut [f32]) {
        if !self.any_sounds() {
            return;
        }
        let frames = left.len().min(BLOCK);
        self.pick_up(shelf, frames);
        for index in 0..frames {
            let sound = self.step(index);
            left[index] += (sound * weights[0]).sum();
            right[index] += (sound * weights[1]).sum();
        }
        if self.feeding {
            self.feed = [Lanes::ZERO; BLOCK];
            self.feeding = false;
        }
    }

    /// Runs every lane for one frame.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline]
    fn step(&mut self, index: usize) -> Lanes {
        let mask = self.rows.len() - 1;
        let mut wave =
            Lanes(array::from_fn(|lane| self.rows[self.write.wrapping_sub(self.delay[lane]) & mask].0[lane]));
        wave = self.input * wave + self.feedback * self.last[0];
        for stage in 0..ALLPASSES {
            let (a, before, after) = (self.allpass[stage], self.last[stage], self.last[stage + 1]);
            self.last[stage] = wave;
            // (a·x + x₁) first: only the last product has to wait for the frame before.
            wave = (a * wave + before) - a * after;
        }
        self.last[ALLPASSES] = wave;
        wave += self.feed[index];
        self.rows[self.write & mask] = wave;
        self.write = self.write.wrapping_add(1);
        wave *= self.gain;
        self.gain *= self.decay;
        self.peak = self.peak.peak(wave);
        wave
    }

    /// Lays the next `frames` of every excitation ready.
    ///
    /// # Real-time
    /// Reads prepared tables.
    fn pick_up(&mut self, shelf: &Shelf, frames: usize) {
        for (lane, slot) in self.picks.iter_mut().enumerate() {
            let Some(pick) = slot else { continue };
            let table = shelf.table(pick.table);
            let rest = table.get(pick.at..).unwrap_or(&[]);
            for (row, sample) in self.feed.iter_mut().take(frames).zip(rest) {
                pick.state += pick.openness * (sample * pick.gain - pick.state);
                row[lane] = pick.state;
            }
            self.feeding = true;
            pick.at += frames;
            if pick.at >= table.len() {
                *slot = None;
            }
        }
    }

    /// Silences the lanes that have been quiet for a period. Called at every whole block of the clock.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn settle(&mut self) {
        for lane in 0..LANES {
            if !self.active[lane] {
                continue;
            }
            let quiet = self.peak[lane] < SILENT && self.picks[lane].is_none();
            self.quiet_frames[lane] = if quiet { self.quiet_frames[lane] + BLOCK } else { 0 };
            self.peak[lane] = 0.0;
            if self.quiet_frames[lane] > self.delay[lane] + 2 * BLOCK {
                self.clear(lane);
            }
        }
    }
}
