//! The strummed guitar: strings, chucks and the box they are strung on.

use crate::body::Body;
use crate::prepared::Voice;
use crate::registers::{Registers, Work};
use crate::shelf::{Shelf, TableRef};
use crate::shots::{Shot, Shots};
use crate::smooth::decay;
use crate::string::bank::{BLOCK, Bank, Strike};
use crate::string::lanes::LANES;

/// The pick stops the string it is about to strike, in seconds to −60 dB.
const PICK_T60_S: f64 = 0.025;
/// A hand stops a string, in seconds to −60 dB.
const HAND_T60_S: f64 = 0.080;
/// The lowest string ever strung is a little above this, in hertz: B0 of an eight-string with a low tuning.
const LOWEST_HZ: f64 = 25.0;
/// The strings lean to the left and to the right in turn by so much: subtle (a design choice of ours).
const LEAN: f32 = 0.1;

/// Eight strings. Each has a loop in two banks: one sounds while the note before fades out in the other.
pub(crate) struct Guitar {
    banks: [Bank; 2],
    /// The bank of each string's latest note.
    latest: [usize; LANES],
    shots: Shots<32>,
    body: Body,
    registers: Registers,
    rate: f32,
    pick: f32,
    hand: f32,
}

impl Guitar {
    /// A silent guitar at `rate` frames a second.
    pub(crate) fn new(rate: u32) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few thousand samples")]
        let longest = (f64::from(rate) / LOWEST_HZ) as usize + 1;
        #[expect(clippy::cast_precision_loss, reason = "rates are far below 2^24")]
        Self {
            banks: [Bank::new(longest), Bank::new(longest)],
            latest: [0; LANES],
            shots: Shots::new(),
            body: Body::new(rate),
            registers: Registers::widest(),
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
        let gains = leaning(lane).map(|gain| gain * bright);
        self.shots.start(Shot::new(TableRef { place, table: voice.attack }, string, gains));
    }

    /// Strikes a deadened string.
    ///
    /// # Real-time
    /// Copies a few numbers.
    pub(crate) fn chuck(&mut self, table: TableRef, string: u8, velocity: f32) {
        self.touch(string, self.pick);
        let gains = leaning(usize::from(string)).map(|gain| gain * velocity);
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

    /// Whether anything of it can be heard.
    ///
    /// # Real-time
    /// Looks through what may sound.
    fn sounds(&self) -> bool {
        self.banks.iter().any(Bank::any_sounds) || self.shots.any() || !self.body.is_still()
    }

    /// Writes the next frames, at most [`BLOCK`], to `left` and `right`. Does nothing and says so when nothing sounds.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn fill(&mut self, shelf: &Shelf, left: &mut [f32], right: &mut [f32]) -> bool {
        debug_assert!(left.len() <= BLOCK && left.len() == right.len());
        let sounds = self.sounds();
        if sounds {
            self.registers.run(Filling { guitar: self, shelf, left, right });
        }
        sounds
    }

    /// Lets go of what has fallen silent. Called at every whole block of the clock.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn settle(&mut self, shelf: &Shelf) {
        self.shots.settle(shelf);
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

/// What the left and the right hear of a string.
///
/// # Real-time
/// Arithmetic only.
fn leaning(string: usize) -> [f32; 2] {
    if string.is_multiple_of(2) { [1.0 + LEAN, 1.0 - LEAN] } else { [1.0 - LEAN, 1.0 + LEAN] }
}

/// The next frames being made.
struct Filling<'a> {
    guitar: &'a mut Guitar,
    shelf: &'a Shelf,
    left: &'a mut [f32],
    right: &'a mut [f32],
}

impl Work for Filling<'_> {
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline(always)]
    fn run(self) {
        let Self { guitar, shelf, left, right } = self;
        let mut strings = [[0.0; 2]; BLOCK];
        let strings = &mut strings[..left.len().min(BLOCK)];
        for bank in &mut guitar.banks {
            bank.add_into(shelf, strings);
        }
        for (([even, odd], left), right) in strings.iter().zip(left.iter_mut()).zip(right.iter_mut()) {
            *left = (1.0 + LEAN) * even + (1.0 - LEAN) * odd;
            *right = (1.0 - LEAN) * even + (1.0 + LEAN) * odd;
        }
        guitar.shots.add_into(shelf, left, right);
        let mut body = guitar.body;
        for (left, right) in left.iter_mut().zip(right) {
            body.ring(0.5 * (*left + *right));
            let [body_left, body_right] = body.heard();
            *left += body_left;
            *right += body_right;
        }
        guitar.body = body;
    }
}

#[cfg(test)]
mod tests {
    use sixrung_timeline::{Direction, Event, EventKind, Pitch, Tempo, TempoGrid, Tick, Timeline};

    use super::{BLOCK, Guitar};
    use crate::instrument::Instrument;
    use crate::prepared::Prepared;
    use crate::registers::Registers;
    use crate::shelf::Shelf;

    fn strum() -> Prepared {
        let pluck =
            |(string, key)| EventKind::Pluck { string, pitch: Pitch(key), velocity: 0.8, direction: Direction::Down };
        let events = (0_u8..).zip([40, 47, 52, 56, 59, 64]).map(pluck);
        let timeline = Timeline {
            id: 1,
            grid: TempoGrid::new(48_000, Tempo::from_bpm(120.0).expect("in range"), Tick(960)),
            intro: Tick::ZERO,
            intro_events: Box::new([]),
            cycle: Tick(960),
            cycle_events: events.map(|kind| Event { at: Tick::ZERO, delay_ns: 0, kind }).collect(),
            pass_at: Tick::ZERO,
            pass: Tick(960),
            passes: None,
        };
        Prepared::new(timeline, &Instrument::guitar())
    }

    /// Two strums, the second over the first.
    fn sound(registers: Registers) -> Vec<u32> {
        let mut shelf = Shelf::default();
        let place = shelf.put(Box::new(strum())).expect("an empty shelf");
        let mut guitar = Guitar { registers, ..Guitar::new(48_000) };
        let mut sound = Vec::new();
        for block in 0..800 {
            if block % 400 == 0 {
                for string in 0..6 {
                    let voice = *shelf.get(place).and_then(|strum| strum.voice(string)).expect("six voices");
                    guitar.pluck(place, u8::try_from(string).expect("small"), &voice, 0.8);
                }
            }
            let (mut left, mut right) = ([0.0; BLOCK], [0.0; BLOCK]);
            guitar.fill(&shelf, &mut left, &mut right);
            guitar.settle(&shelf);
            sound.extend(left.into_iter().chain(right).map(f32::to_bits));
        }
        sound
    }

    #[test]
    fn registers_of_every_width_make_the_same_samples() {
        let (common, widest) = (sound(Registers::Common), sound(Registers::widest()));
        assert!(common.iter().any(|bits| *bits != 0));
        assert!(common == widest);
    }
}
