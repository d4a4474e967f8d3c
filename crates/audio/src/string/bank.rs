//! Eight strings side by side.
//!
//! A string's filters are recursions that each wait for their last result; eight in step hide that wait. Everything is
//! laid out lane by lane, so that the compiler runs the lanes in vector registers. What comes back from the delay lines
//! is collected for a whole run of frames at once: as long as no run is longer than the shortest loop, nothing in it
//! depends on what the run itself puts in.

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
        let length = (longest + BLOCK).next_power_of_two();
        Self {
            rows: vec![Lanes::ZERO; length].into(),
            write: 0,
            delay: [BLOCK; LANES],
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
        if tuned.delay + BLOCK > self.rows.len() {
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
        self.delay[lane] = BLOCK;
        self.gain[lane] = 0.0;
        self.decay[lane] = 1.0;
        self.picks[lane] = None;
        self.peak[lane] = 0.0;
        self.quiet_frames[lane] = 0;
        self.active[lane] = false;
    }

    /// Adds the next frames of all lanes, at most [`BLOCK`], to `out`.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline(always)]
    pub(crate) fn add_into(&mut self, shelf: &Shelf, out: &mut [Lanes]) {
        if !self.any_sounds() {
            return;
        }
        let frames = out.len().min(BLOCK);
        self.pick_up(shelf, frames);
        let mut done = 0;
        while done < frames {
            done += self.run(done, &mut out[done..frames]);
        }
        if self.feeding {
            self.feed = [Lanes::ZERO; BLOCK];
            self.feeding = false;
        }
    }

    /// Runs every lane for as many frames of `out`, `done` frames into the block, as no loop comes round and nothing
    /// wraps around; says how many, at least one.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline(always)]
    fn run(&mut self, done: usize, out: &mut [Lanes]) -> usize {
        let length = self.rows.len();
        let from = self.delay.map(|delay| self.write.wrapping_sub(delay) & (length - 1));
        let shortest = self.delay.into_iter().fold(out.len(), usize::min);
        let count = from.into_iter().fold(shortest, |count, from| count.min(length - from)).min(length - self.write);
        let (before, rest) = self.rows.split_at_mut(self.write);
        let (sent, after) = rest.split_at_mut(count);
        // A slice a lane, all as long as each other, so that nothing needs to be checked within the loop.
        let lines: [&[Lanes]; LANES] = from.map(|from| match from.checked_sub(self.write + count) {
            Some(from) => &after[from..from + count],
            None => &before[from..from + count],
        });
        let Self { input, feedback, allpass, decay, .. } = *self;
        let (mut last, mut gain, mut peak) = (self.last, self.gain, self.peak);
        let feed = &self.feed[done..done + count];
        let [a, b, c, d, e, f, g, h] = lines.map(<[Lanes]>::iter);
        let returned = a.zip(b).zip(c.zip(d)).zip(e.zip(f).zip(g.zip(h)));
        for (((returned, feed), sent), out) in returned.zip(feed).zip(sent).zip(out) {
            let (((a, b), (c, d)), ((e, f), (g, h))) = returned;
            let returned = Lanes([a[0], b[1], c[2], d[3], e[4], f[5], g[6], h[7]]);
            let mut wave = input * returned + feedback * last[0];
            for stage in 0..ALLPASSES {
                let (a, before, after) = (allpass[stage], last[stage], last[stage + 1]);
                last[stage] = wave;
                // (a·x + x₁) first: only the last product has to wait for the frame before.
                wave = (a * wave + before) - a * after;
            }
            last[ALLPASSES] = wave;
            wave += *feed;
            *sent = wave;
            wave *= gain;
            gain *= decay;
            peak = peak.peak(wave);
            *out += wave;
        }
        (self.last, self.gain, self.peak) = (last, gain, peak);
        self.write = (self.write + count) & (length - 1);
        count
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
