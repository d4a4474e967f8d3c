//! Which string sounds, and how far from its pitch.
//!
//! A pluck is found by its brightness ([`pluck`]) → how long one round lasts ([`period`]) → the frequencies of partials
//! 1 to 8 from the turn of their phases, in windows that grow while the string rings ([`partials`]) → the stiff string
//! that explains them ([`stiff`]) → the cents of its first partial against the string meant ([`strings`]). Period
//! measures alone read some 5 cents sharp, for a stiff string's partials are.

mod hum;
mod ladder;
mod octave;
mod partials;
mod period;
mod pluck;
mod stiff;
mod strings;

use sixrung_lesson::{Pitch, Tuning};

use crate::decimate::Decimator;
use crate::listener::RATES;
use ladder::Ladder;
use pluck::{Event, PluckFinder};
use strings::Strings;

/// So long without a clear pitch, in seconds, and what sounds is no string.
const UNPITCHED_S: f64 = 0.5;
/// What could be hum and has not fallen is taken for it after this many seconds.
const HUM_S: f64 = 1.5;
/// A reading holds through this much doubt, in seconds: the needle should not blink.
const HOLD_S: f64 = 0.1;
/// A pitch is steady when it is known to this many cents: real strings' partials disagree by more than the noise does.
const STEADY_CENTS: f64 = 1.5;
/// A reading worse than this does not replace a better one.
const UNSURE_CENTS: f64 = 3.0;
/// From one analysis to the next a ringing string moves less than this, in cents.
const SAME_CENTS: f64 = 100.0;

/// What the tuner hears.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Sounding {
    /// Nothing sounds, or nothing but the room.
    #[default]
    Nothing,
    /// Something sounds that is none of the strings, or not clear yet.
    Unclear,
    /// A string.
    String(Reading),
}

/// A string and its pitch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Index of the string in the tuning: 0 is the first written. Of strings of one pitch, the first.
    pub string: usize,
    /// What it should sound, capo included.
    pub target: Pitch,
    /// Frequency of its first partial, in hertz.
    pub hertz: f64,
    /// How far that lies above the target, in cents: negative is flat.
    pub cents: f64,
    /// How well that is known: one standard deviation, in cents.
    pub deviation_cents: f64,
    /// Whether it is known well and has been for a moment: what one can tune by.
    pub is_steady: bool,
}

/// Hears one string at a time.
///
/// ```
/// use sixrung_lesson::Tuning;
/// use sixrung_listen::{Sounding, Tuner};
///
/// let mut tuner = Tuner::new(48_000, &Tuning::standard_guitar(), 0).expect("a rate we take");
/// // A quiet moment, then an A string 10 cents flat.
/// let hertz = 110.0 * (-10.0_f64 / 1200.0).exp2();
/// let plucked = (0..24_000).map(|frame| {
///     let time = f64::from(frame) / 48_000.0;
///     let partials = (1..=6).map(f64::from).map(|k| (std::f64::consts::TAU * k * hertz * time).sin() / k);
///     (0.2 * (-3.0 * time).exp() * partials.sum::<f64>()) as f32
/// });
/// tuner.feed(&vec![0.0; 12_000]);
/// let Sounding::String(reading) = tuner.feed(&plucked.collect::<Vec<f32>>()) else { panic!("a string") };
/// assert_eq!(reading.string, 1);
/// assert!((reading.cents + 10.0).abs() < 0.5);
/// ```
#[derive(Debug)]
pub struct Tuner {
    strings: Strings,
    pinned: Option<usize>,
    decimator: Decimator,
    plucks: PluckFinder,
    ladder: Ladder,
    history: History,
    /// Samples since the last pluck was over; `None` when nothing rings.
    rung: Option<usize>,
    /// Seconds without a pitch, and since when it could be hum.
    unpitched_s: f64,
    hum_s: f64,
    frame_s: f64,
    sounding: Sounding,
    /// The last reading of the note that rings.
    held: Option<Reading>,
}

impl Tuner {
    /// A tuner for microphone sound of `rate` frames a second; `None` outside [`RATES`].
    #[must_use]
    pub fn new(rate: u32, tuning: &Tuning, capo: u8) -> Option<Self> {
        if !RATES.contains(&rate) {
            return None;
        }
        let decimator = Decimator::new(rate);
        #[expect(clippy::cast_precision_loss, reason = "a factor up to 24")]
        let working = f64::from(rate) / decimator.factor() as f64;
        let strings = Strings::new(tuning, capo);
        let ladder = Ladder::new(working, strings.lowest_hz());
        Some(Self {
            history: History::new(ladder.longest()),
            plucks: PluckFinder::new(working),
            strings,
            pinned: None,
            decimator,
            ladder,
            rung: None,
            unpitched_s: 0.0,
            hum_s: 0.0,
            frame_s: pluck::FRAME_S,
            sounding: Sounding::Nothing,
            held: None,
        })
    }

    /// Listens for one string only, by its index in the tuning, or for any. A number the tuning has not is any.
    pub fn pin(&mut self, string: Option<usize>) {
        self.pinned = string.filter(|string| *string < self.strings.count());
        (self.held, self.sounding) = (None, Sounding::Nothing);
    }

    /// Samples were lost before those that come next: what rings is measured afresh, and stays on show until then.
    pub fn gap(&mut self) {
        self.rung = self.rung.map(|_| 0);
    }

    /// The string listened for, if it is one only.
    #[must_use]
    pub fn pinned(&self) -> Option<usize> {
        self.pinned
    }

    /// What sounds now.
    #[must_use]
    pub fn sounding(&self) -> Sounding {
        self.sounding
    }

    /// Takes the next samples, any number of them, and says what sounds at their end. What is not a number is silence.
    ///
    /// Allocates nothing.
    pub fn feed(&mut self, samples: &[f32]) -> Sounding {
        for sample in samples {
            let sound = if sample.is_finite() { sample.clamp(-8.0, 8.0) } else { 0.0 };
            let Some(sample) = self.decimator.push(sound) else { continue };
            self.history.push(sample);
            if let Some(rung) = &mut self.rung {
                *rung += 1;
            }
            if let Some(event) = self.plucks.push(sample) {
                self.follow(event);
            }
        }
        self.sounding
    }

    fn follow(&mut self, event: Event) {
        match event {
            Event::Quiet => {
                (self.rung, self.held) = (None, None);
                self.sounding = Sounding::Nothing;
            }
            Event::Plucked => {
                (self.rung, self.held) = (Some(0), None);
                (self.unpitched_s, self.hum_s) = (0.0, 0.0);
                if self.sounding == Sounding::Nothing {
                    self.sounding = Sounding::Unclear;
                }
            }
            Event::Rings => self.read(),
        }
    }

    fn read(&mut self) {
        let Some(rung) = self.rung else { return };
        let held = self.held;
        let (strings, pinned) = (&self.strings, self.pinned);
        // A string that rings does not jump to its octave; one that begins is most likely one of ours.
        let expects = |hertz: f64| match held {
            Some(held) => strings::cents(hertz, held.hertz).abs() <= SAME_CENTS,
            None => strings.is_plain(hertz, pinned),
        };
        let Some(found) = self.ladder.climb(self.history.last(rung), expects) else {
            self.doubt();
            return;
        };
        let hertz = found.string.partial_hz(1.0);
        if held.is_some_and(|held| strings::cents(hertz, held.hertz).abs() > SAME_CENTS) {
            // A leap is a string's end in the noise, or another string: if it lasts it is believed.
            self.doubt();
            return;
        }
        let Some(meant) = self.strings.meant(hertz, self.pinned, held.map(|held| held.string)) else {
            self.doubt();
            return;
        };
        if hum::could_be_hum(hertz) && self.plucks.fallen_db() < hum::STRINGS_FALL_DB {
            self.hum_s += self.frame_s;
            if self.hum_s >= HUM_S {
                self.plucks.is_room();
            }
            self.sounding = Sounding::Unclear;
            return;
        }
        let deviation_cents = found.string.deviation_cents;
        if deviation_cents > UNSURE_CENTS && held.is_some() {
            self.doubt();
            return;
        }
        self.unpitched_s = 0.0;
        let reading = Reading {
            string: meant.string,
            target: self.strings.pitch(meant.string),
            hertz,
            cents: meant.cents,
            deviation_cents,
            is_steady: found.rung > 0 && deviation_cents <= STEADY_CENTS,
        };
        (self.held, self.sounding) = (Some(reading), Sounding::String(reading));
    }

    /// Something sounds, but no string of ours.
    fn doubt(&mut self) {
        if self.rung.is_some_and(|rung| rung < self.ladder.shortest()) {
            return;
        }
        self.unpitched_s += self.frame_s;
        if self.unpitched_s >= HOLD_S {
            (self.held, self.sounding) = (None, Sounding::Unclear);
        }
        if self.unpitched_s >= UNPITCHED_S {
            self.plucks.is_room();
        }
    }
}

/// The last samples, always in one piece.
#[derive(Debug)]
struct History {
    kept: usize,
    samples: Vec<f32>,
}

impl History {
    fn new(kept: usize) -> Self {
        let mut samples = Vec::with_capacity(4 * kept);
        samples.resize(kept, 0.0);
        Self { kept, samples }
    }

    fn push(&mut self, sample: f32) {
        if self.samples.len() == self.samples.capacity() {
            let from = self.samples.len() - self.kept;
            self.samples.copy_within(from.., 0);
            self.samples.truncate(self.kept);
        }
        self.samples.push(sample);
    }

    /// The newest `count` samples, or as many as are kept.
    fn last(&self, count: usize) -> &[f32] {
        &self.samples[self.samples.len() - count.min(self.kept)..]
    }
}
