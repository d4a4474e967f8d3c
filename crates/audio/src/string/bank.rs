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

/// What a string takes over from each of the others through the bridge, every frame: they ring with it, subtly. Too
/// little to feed itself: on a fretboard a loop loses at least 1.2 thousandths a round, and seven others give 0.7 (a
/// design choice of ours).
const BRIDGE: f32 = 1e-4;

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

    /// Adds the next frames, at most [`BLOCK`], to `out`: the lanes with even numbers together, and those with odd ones.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline(always)]
    pub(crate) fn add_into(&mut self, shelf: &Shelf, out: &mut [[f32; 2]]) {
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
    fn run(&mut self, done: usize, out: &mut [[f32; 2]]) -> usize {
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
        let bridge = Lanes([BRIDGE; LANES]);
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
            let heard = wave * gain;
            gain *= decay;
            let [even, odd] = heard.sums_in_turn();
            // Less its own, so that a string alone stays exactly as it is.
            *sent = wave + bridge * (Lanes([even + odd; LANES]) - heard);
            peak = peak.peak(heard);
            *out = [out[0] + even, out[1] + odd];
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

#[cfg(test)]
mod tests {
    use sixrung_timeline::Direction;

    use super::{BLOCK, Bank, LANES, Strike};
    use crate::prepared::Prepared;
    use crate::shelf::{Shelf, TableRef};
    use crate::string::excite::excitation;
    use crate::string::model::{Character, Loop};

    const STEEL: Character = Character {
        t60_s: 11.5,
        treble_t60_s: 4.0,
        inharmonicity: 3e-5,
        stages: 1,
        excitation_hz: 600.0,
        fall: 0.65,
        pick: 0.15,
    };

    /// The level of each lane, root mean square, over the last of `seconds`: lane 0 is struck, the others are free to
    /// ring, every one tuned to `hertz` and as long as a string of `open` hertz.
    fn levels(hertz: [f64; LANES], open: f64, struck: impl Fn(usize) -> f32, seconds: usize) -> [f64; LANES] {
        let loops = hertz.map(|hertz| Loop::design(48_000.0, hertz, open.min(hertz), &STEEL).expect("in range"));
        let mut shelf = Shelf::default();
        let pluck = excitation(48_000.0, loops[0].period, &STEEL, Direction::Down, 1);
        let place = shelf.put(Box::new(Prepared::recording(1, 48_000, pluck.into()))).expect("an empty shelf");
        let mut bank = Bank::new(2000);
        for (lane, tuned) in loops.iter().enumerate() {
            let table = TableRef { place, table: 0 };
            bank.strike(lane, tuned, Strike { table, gain: struck(lane), openness: 1.0 });
        }
        let mut power = [0.0; LANES];
        for block in 0..750 * seconds {
            bank.add_into(&shelf, &mut [[0.0; 2]; BLOCK]);
            if block >= 750 * (seconds - 1) {
                for back in 1..=BLOCK {
                    let row = bank.rows[bank.write.wrapping_sub(back) & (bank.rows.len() - 1)];
                    row.0.iter().zip(&mut power).for_each(|(sample, power)| *power += f64::from(*sample).powi(2));
                }
            }
        }
        power.map(|power| (power / 48_000.0).sqrt())
    }

    /// An open E4 has the fourth partial of E2 as its first; F4 has nothing in common with it.
    #[test]
    fn a_free_string_rings_along_subtly_with_what_it_has_in_common() {
        let hertz = [82.41, 329.63, 349.23, 110.0, 146.83, 196.0, 246.94, 440.0];
        let [struck, along, beside, ..] = levels(hertz, 60.0, |lane| if lane == 0 { 0.8 } else { 0.0 }, 2);
        let decibels = 20.0 * (along / struck).log10();
        assert!((-55.0..=-25.0).contains(&decibels), "{decibels:.1} dB");
        assert!(along > 2.0 * beside, "{along} and {beside}");
    }

    /// Eight unisons at the twenty-fourth fret give each other the most there is to give.
    #[test]
    fn strings_that_ring_along_never_feed_each_other() {
        let unison = [987.77; LANES];
        let (early, late) = (levels(unison, 246.94, |_| 0.8, 2), levels(unison, 246.94, |_| 0.8, 12));
        for (early, late) in early.into_iter().zip(late) {
            assert!(late < 0.05 * early, "from {early} to {late}");
        }
    }
}
