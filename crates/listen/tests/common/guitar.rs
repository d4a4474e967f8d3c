//! A guitarist for the tests and benches: sums of decaying partials, made by nothing of ours.
#![allow(dead_code, reason = "each file that uses it is a crate of its own and uses a part")]

use std::f64::consts::{PI, TAU};
use std::sync::Arc;

use sixrung_lesson::{Direction, Pitch};
use sixrung_listen::PlannedShape;

use crate::common::{Dice, add_noise, frames};

/// Standard guitar tuning as MIDI keys.
pub(crate) const OPEN: [u8; 6] = [40, 45, 50, 55, 59, 64];
/// x02220 and 320003.
pub(crate) const SHAPES: [(&str, [Option<u8>; 6]); 2] = [
    ("A", [None, Some(45), Some(52), Some(57), Some(61), Some(64)]),
    ("G", [Some(43), Some(47), Some(50), Some(55), Some(59), Some(67)]),
];

pub(crate) fn shapes() -> Arc<[PlannedShape]> {
    let shape = |(name, keys): &(&str, [Option<u8>; 6])| PlannedShape {
        name: (*name).to_owned(),
        strings: keys.iter().map(|key| key.map(Pitch)).collect(),
        open: OPEN.map(Pitch).to_vec(),
    };
    SHAPES.iter().map(shape).collect()
}

/// A guitarist whose strings and strokes vary a little.
pub(crate) struct Guitar {
    rate: u32,
    sound: Vec<f32>,
    dice: Dice,
    /// When each string was struck last, and its key: it is stopped when struck anew.
    pub(crate) at_s: f64,
}

impl Guitar {
    pub(crate) fn new(rate: u32, seed: u64) -> Self {
        Self { rate, sound: Vec::new(), dice: Dice(seed), at_s: 0.5 }
    }

    /// A stroke that rings for `lasts_s`, then the next may come.
    pub(crate) fn strum(&mut self, keys: &[Option<u8>; 6], direction: Direction, lasts_s: f64) {
        let struck: Vec<u8> = match direction {
            Direction::Down => keys.iter().flatten().copied().collect(),
            Direction::Up => keys.iter().rev().flatten().copied().take(4).collect(),
        };
        let loud = 0.10 * (1.0 + 0.1 * self.dice.normal());
        for (index, key) in (0_u32..).zip(struck) {
            let level = loud * (1.0 + 0.08 * self.dice.normal());
            self.pluck(key, self.at_s + 0.008 * f64::from(index), lasts_s, level);
        }
        self.at_s += lasts_s;
    }

    /// Eighteen partials of a string plucked a seventh of the way along, the higher the shorter, and the plectrum's tick.
    fn pluck(&mut self, key: u8, from_s: f64, lasts_s: f64, level: f64) {
        let rate = f64::from(self.rate);
        let (from, to) = (frames(from_s * rate), frames((from_s + lasts_s) * rate));
        self.sound.resize(self.sound.len().max(to + 1), 0.0);
        let hertz = Pitch(key).hertz();
        let partials: Vec<f64> = (1..=18).map(f64::from).filter(|k| k * hertz < rate / 2.3).collect();
        for (frame, sample) in self.sound[from..to].iter_mut().enumerate() {
            let time = f64::from(u32::try_from(frame).expect("seconds")) / rate;
            let partial =
                |k: &f64| (-(0.8 + 0.25 * k) * time).exp() * (k * PI / 7.0).sin() / k * (TAU * k * hertz * time).sin();
            let tick = if time < 0.003 { 0.3 * self.dice.normal() } else { 0.0 };
            // A string that is touched dies within some 20 ms: cut off, it would click like a stroke.
            let touched = ((lasts_s - time) / 0.02).min(1.0);
            #[expect(clippy::cast_possible_truncation, reason = "samples")]
            let value = (touched * level * (partials.iter().map(partial).sum::<f64>() + tick)) as f32;
            *sample += value;
        }
    }

    pub(crate) fn recorded(mut self) -> Vec<f32> {
        let end = self.sound.len() + self.rate as usize / 2;
        self.sound.resize(end, 0.0);
        add_noise(&mut self.sound, 0.0005, 11);
        self.sound
    }
}
