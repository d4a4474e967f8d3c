//! The strummed guitar: strings, chucks and the box they are strung on.

use crate::body::Body;
use crate::prepared::Voice;
use crate::shelf::{Shelf, TableRef};
use crate::shots::{Shot, Shots};
use crate::smooth::decay;
use crate::string::bank::{BLOCK, Bank, Strike};
use crate::string::lanes::{LANES, Lanes};

/// The pick stops the string it is about to strike, in seconds to −60 dB.
const PICK_T60_S: f64 = 0.025;
/// A hand stops a string, in seconds to −60 dB.
const HAND_T60_S: f64 = 0.080;
/// The lowest string ever strung is a little above this, in hertz: B0 of an eight-string with a low tuning.
const LOWEST_HZ: f64 = 25.0;
/// How far the outer strings stand from the middle: subtle (a design choice of ours).
const WIDTH: f32 = 0.14;

/// Eight strings. Each has a loop in two banks: one sounds while the note before fades out in the other.
pub(crate) struct Guitar {
    banks: [Bank; 2],
    /// The bank of each string's latest note.
    latest: [usize; LANES],
    weights: [Lanes; 2],
    shots: Shots<32>,
    body: Body,
    rate: f32,
    pick: f32,
    hand: f32,
}

impl Guitar {
    /// A silent guitar at `rate` frames a second.
    pub(crate) fn new(rate: u32) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few thousand samples")]
        let longest = (f64::from(rate) / LOWEST_HZ) as usize + 1;
        let lean: [f32; LANES] = [-1.0, -0.6, -0.2, 0.2, 0.6, 1.0, 1.0, 1.0];
        #[expect(clippy::cast_precision_loss, reason = "rates are far below 2^24")]
        Self {
            banks: [Bank::new(longest), Bank::new(longest)],
            latest: [0; LANES],
            weights: [-WIDTH, WIDTH].map(|width| Lanes(lean.map(|lean| 1.0 + width * lean))),
            shots: Shots::new(),
            body: Body::new(rate),
            rate: rate as f32,
            pick: decay(rate, PICK_T60_S),
            hand: decay(rate, HAND_T60_S),
        }
    }

    /// Strikes a string of the timeline at shelf place `place`.
    ///
    /// # Real-time
    /// Clears one period of a delay line, copies a few numbers, two exponentials.
    pub(crate) fn pluck(&mut self, place: u8, string: u8, voice: &Voice, velocity: f32) {
        let lane = usize::from(string) % LANES;
        self.touch(string, self.pick);
        let bank = 1 - self.latest[lane];
        self.latest[lane] = bank;
        let table = TableRef { place, table: voice.excitation };
        self.banks[bank].strike(
            lane,
            &voice.tuned,
            Strike { table, gain: velocity, openness: self.openness(velocity) },
        );
        // The bright beginning grows with the square: a harder stroke is a brighter one.
        let bright = velocity * velocity;
        let gains = self.weights.map(|weights| weights[lane] * bright);
        self.shots.start(Shot::new(TableRef { place, table: voice.attack }, string, gains));
    }

    /// Strikes a deadened string.
    ///
    /// # Real-time
    /// Copies a few numbers.
    pub(crate) fn chuck(&mut self, table: TableRef, string: u8, velocity: f32) {
        self.touch(string, self.pick);
        let gains = self.weights.map(|weights| weights[usize::from(string) % LANES] * velocity);
        self.shots.start(Shot::new(table, string, gains));
    }

    /// Stops a string as a hand would.
    ///
    /// # Real-time
    /// Sets a few numbers.
    pub(crate) fn damp(&mut self, string: u8) {
        self.touch(string, self.hand);
    }

    /// Stops every string as a hand would.
    ///
    /// # Real-time
    /// Sets a few numbers.
    pub(crate) fn damp_all(&mut self) {
        for string in (0_u8..).take(LANES) {
            self.damp(string);
        }
    }

    /// Silences everything at once.
    ///
    /// # Real-time
    /// Sets a few numbers.
    pub(crate) fn silence(&mut self) {
        for bank in &mut self.banks {
            for lane in 0..LANES {
                if bank.sounds(lane) {
                    bank.clear(lane);
                }
            }
        }
        self.shots.clear();
        self.body.silence();
    }

    /// Whether a sound still comes from shelf place `place`.
    ///
    /// # Real-time
    /// Looks through what sounds.
    pub(crate) fn reads(&self, place: u8) -> bool {
        self.shots.reads(place) || self.banks.iter().any(|bank| bank.reads(place))
    }

    /// Writes the next frames, at most [`BLOCK`], to `left` and `right`.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn fill(&mut self, shelf: &Shelf, left: &mut [f32], right: &mut [f32]) {
        debug_assert!(left.len() <= BLOCK && left.len() == right.len());
        left.fill(0.0);
        right.fill(0.0);
        for bank in &mut self.banks {
            bank.add_into(shelf, &self.weights, left, right);
        }
        self.shots.add_into(shelf, left, right);
        for (left, right) in left.iter_mut().zip(right) {
            let (body_left, body_right) = self.body.ring(0.5 * (*left + *right));
            *left += body_left;
            *right += body_right;
        }
    }

    /// Lets go of what has fallen silent. Called at every whole block of the clock.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn settle(&mut self) {
        for bank in &mut self.banks {
            bank.settle();
        }
        self.body.settle();
    }

    /// # Real-time
    /// Sets a few numbers.
    fn touch(&mut self, string: u8, decay: f32) {
        for bank in &mut self.banks {
            bank.fade(usize::from(string) % LANES, decay);
        }
        self.shots.fade(string, decay);
    }

    /// How open the pick's lowpass is: 1.2 kHz for the softest stroke, out of the way for the hardest (the dynamics
    /// filter of Jaffe & Smith 1983; the range is a design choice of ours).
    ///
    /// # Real-time
    /// Two exponentials.
    fn openness(&self, velocity: f32) -> f32 {
        let hertz = 1200.0 * (3.3 * velocity).exp2();
        1.0 - (-std::f32::consts::TAU * hertz / self.rate).exp()
    }
}
