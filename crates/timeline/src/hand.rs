//! Strokes as a hand plays them: which strings, in which order, how far apart and how loud.

use sixrung_lesson::{Action, Direction, Dynamic, Pitch, Score, Slot, Tick, Tuning};

use crate::event::{Event, EventKind};
use crate::frames::TempoGrid;

/// The sweep from first to last string lasts 7 % of the slot, but not less than 10 nor more than 40 ms. In 12,619
/// strums of an open data set half the sweeps took less than 16.8 ms and nine in ten less than 40.7 (third-party
/// note); the rule itself is a design choice of ours.
const SWEEP_PERCENT: u64 = 7;
const SWEEP_MIN_NS: u64 = 10_000_000;
const SWEEP_MAX_NS: u64 = 40_000_000;

/// Velocities, upstrokes at 0.75 (2.5 dB softer): design choices of ours.
const PLAIN: f32 = 0.7;
const ACCENT: f32 = 0.9;
const SOFT: f32 = 0.5;
const UP: f32 = 0.75;

/// How even the hands are. Only how loud each string is varies: when it sounds is exact.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Feel {
    /// By which share of itself a string's loudness varies either way, 0 (not at all) to 0.5.
    pub unevenness: f32,
    /// Another number, another unevenness.
    pub seed: u64,
}

impl Feel {
    /// Every stroke as loud as the next.
    pub const EVEN: Self = Self { unevenness: 0.0, seed: 0 };
}

impl Default for Feel {
    /// ± 5 %, a design choice of ours.
    fn default() -> Self {
        Self { unevenness: 0.05, seed: 0 }
    }
}

/// The hands going through a score, `offset` ticks late.
pub(crate) struct Hands<'a> {
    tuning: &'a Tuning,
    /// What each string sounds under each of the score's shapes.
    shapes: Vec<Vec<Option<Pitch>>>,
    grid: TempoGrid,
    offset: Tick,
    feel: Feel,
    /// The shape held.
    held: Option<usize>,
}

impl<'a> Hands<'a> {
    /// Hands that hold no shape yet.
    pub(crate) fn new(score: &Score, tuning: &'a Tuning, grid: TempoGrid, offset: Tick, feel: Feel) -> Self {
        let shapes = score.shapes.iter().map(|shape| shape.pitches(tuning, score.capo)).collect();
        Self { tuning, shapes, grid, offset, feel, held: None }
    }

    /// The same hands, the shape `held` in the one.
    pub(crate) fn holding(self, held: Option<usize>) -> Self {
        Self { held, ..self }
    }

    /// Plays a slot.
    pub(crate) fn play(&mut self, slot: &Slot, events: &mut Vec<Event>) {
        self.change_to(slot.shape, slot.at, events);
        match slot.stroke.action {
            Action::Strum => {
                let sounding = self.sounding();
                let strings = swept(sounding, slot.stroke.direction);
                self.sweep(slot, &strings, events);
            }
            Action::Bass => {
                let lowest = self.sounding().into_iter().min_by_key(|(_, pitch)| *pitch);
                self.sweep(slot, lowest.as_slice(), events);
            }
            Action::Chuck => self.chuck(slot, events),
            Action::Stop => self.damp(0..self.tuning.strings(), slot.at, events),
            Action::Air | Action::Ring => {}
        }
    }

    /// A hand that leaves one shape for another stops the strings it lifts off or newly presses; what both shapes
    /// sound alike rings over. No chord stops them all.
    fn change_to(&mut self, shape: Option<usize>, at: Tick, events: &mut Vec<Event>) {
        if shape == self.held {
            return;
        }
        let silent = vec![None; self.tuning.strings()];
        let before = self.held.map_or(&silent, |held| &self.shapes[held]);
        let after = shape.map_or(&silent, |shape| &self.shapes[shape]);
        let stopped = (0..silent.len()).filter(|&string| before[string].is_some() && before[string] != after[string]);
        self.damp(stopped, at, events);
        self.held = shape;
    }

    fn damp(&self, strings: impl Iterator<Item = usize>, at: Tick, events: &mut Vec<Event>) {
        let at = self.offset + at;
        events.extend(strings.map(|string| Event { at, delay_ns: 0, kind: EventKind::Damp { string: index(string) } }));
    }

    /// The strings the held shape sounds, heaviest first.
    fn sounding(&self) -> Vec<(usize, Pitch)> {
        let pitches = self.held.map_or(&[][..], |held| &self.shapes[held]);
        pitches.iter().enumerate().filter_map(|(string, pitch)| pitch.map(|pitch| (string, pitch))).collect()
    }

    /// Plucks strings in their order. The first sounds exactly at the slot's tick.
    fn sweep(&self, slot: &Slot, strings: &[(usize, Pitch)], events: &mut Vec<Event>) {
        let direction = slot.stroke.direction;
        for (place, &(string, pitch)) in strings.iter().enumerate() {
            let velocity = self.velocity(slot, string);
            let kind = EventKind::Pluck { string: index(string), pitch, velocity, direction };
            events.push(self.swept_event(slot, place, strings.len(), kind));
        }
    }

    /// Strikes the shape's strings deadened; without a chord the hand lies across them all.
    fn chuck(&self, slot: &Slot, events: &mut Vec<Event>) {
        let direction = slot.stroke.direction;
        let mut strings: Vec<usize> = match self.held {
            Some(_) => self.sounding().into_iter().map(|(string, _)| string).collect(),
            None => (0..self.tuning.strings()).collect(),
        };
        if direction == Direction::Up {
            strings.reverse();
        }
        for (place, &string) in strings.iter().enumerate() {
            let kind = EventKind::Chuck { string: index(string), velocity: self.velocity(slot, string), direction };
            events.push(self.swept_event(slot, place, strings.len(), kind));
        }
    }

    fn swept_event(&self, slot: &Slot, place: usize, strings: usize, kind: EventKind) -> Event {
        let sweep = sweep_ns(self.grid.nanoseconds(slot.length));
        let delay = sweep * place as u64 / (strings.max(2) - 1) as u64;
        let delay_ns = u32::try_from(delay).expect("a sweep is at most 40 ms");
        Event { at: self.offset + slot.at, delay_ns, kind }
    }

    fn velocity(&self, slot: &Slot, string: usize) -> f32 {
        let loud = match slot.stroke.dynamic {
            Dynamic::Soft => SOFT,
            Dynamic::Plain => PLAIN,
            Dynamic::Accent => ACCENT,
        };
        let direction = match slot.stroke.direction {
            Direction::Down => 1.0,
            Direction::Up => UP,
        };
        loud * direction * (1.0 + self.feel.unevenness.clamp(0.0, 0.5) * unevenness(self.feel.seed, slot.at, string))
    }
}

/// How long a sweep lasts in a slot. Never more than half of it, so that a stroke is over before the next.
fn sweep_ns(slot_ns: u64) -> u64 {
    (slot_ns * SWEEP_PERCENT / 100).clamp(SWEEP_MIN_NS, SWEEP_MAX_NS).min(slot_ns / 2)
}

/// The strings a strum meets, in their order: down over all from the heaviest; up from the lightest over the top
/// four, of a shape with fewer than five over the top three.
fn swept(mut sounding: Vec<(usize, Pitch)>, direction: Direction) -> Vec<(usize, Pitch)> {
    if direction == Direction::Up {
        let reach = if sounding.len() < 5 { 3 } else { 4 };
        sounding.reverse();
        sounding.truncate(reach);
    }
    sounding
}

/// From −1 to 1, the same for the same seed, place and string: the bits of their SplitMix64 hash (Steele, Lea & Flood
/// 2014).
fn unevenness(seed: u64, at: Tick, string: usize) -> f32 {
    let mut bits = (u64::from(at.0) << 8 | string as u64).wrapping_mul(0x9E37_79B9_7F4A_7C15) ^ seed;
    bits = (bits ^ (bits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
    bits = (bits ^ (bits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
    let upper = ((bits ^ (bits >> 31)) >> 48) as u16;
    f32::from(upper) / f32::from(u16::MAX) * 2.0 - 1.0
}

fn index(string: usize) -> u8 {
    u8::try_from(string).expect("an instrument has at most eight strings")
}
