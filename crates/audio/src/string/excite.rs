//! What a pick gives a string: one period of its vibration, faded in and handed over to the loop.
//!
//! A burst of white noise leaves every note a different set of weak partials. Here each partial has its due level and
//! a seeded phase: the two one-pole lowpasses and the pick-position comb `1 − z^−βN` of Jaffe & Smith 1983 are applied
//! to the partials themselves. The fade-out of the table is the complement of its fade-in one period earlier, so that
//! the loop takes over a full, even period.

use std::f64::consts::{PI, TAU};

use sixrung_timeline::Direction;

use super::model::Character;
use crate::noise::Noise;

/// Length of the fade-in: within the 2 to 5 ms a pick takes to let go (a design choice of ours).
const RAMP_S: f64 = 0.003;
/// Partials above this are lost on a steel guitar (a design choice of ours).
const HIGHEST_HZ: f64 = 9000.0;
/// A pick is not a point: partials with a node under it keep this share of their power (fitted, see `tests/sound`).
const PICK_WIDTH: f64 = 0.02;
/// Root mean square of the string's first periods at full velocity: six of them stay below full scale.
const LEVEL: f64 = 0.07;

/// The excitation of a string of `character` whose period is `period` samples, struck in `direction` at full velocity.
pub(crate) fn excitation(rate: f64, period: f64, character: &Character, direction: Direction, seed: u32) -> Box<[f32]> {
    let levels = levels(rate / period, rate, character, direction);
    let power: f64 = levels.iter().map(|level| level * level / 2.0).sum();
    let ramp = RAMP_S * rate;
    let mut wave = vec![0.0_f64; samples(period + ramp)];
    let mut phases = Noise::new(seed);
    for (index, level) in levels.iter().enumerate() {
        add_partial(&mut wave, TAU * whole(index + 1) / period, phases.next() * PI, level * LEVEL / power.sqrt());
    }
    let fade = |at: f64| 0.5 - 0.5 * (PI * (at / ramp).clamp(0.0, 1.0)).cos();
    #[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
    wave.iter()
        .enumerate()
        .map(|(index, sample)| {
            let at = whole(index + 1);
            (sample * (fade(at) - fade(at - period))) as f32
        })
        .collect()
}

/// The level of each partial, from the first.
fn levels(f0: f64, rate: f64, character: &Character, direction: Direction) -> Vec<f64> {
    let highest = HIGHEST_HZ.min(0.45 * rate);
    // An up-stroke is the softer edge: one more pole (the direction lowpass of Jaffe & Smith 1983).
    let soft_edge = match direction {
        Direction::Down => f64::INFINITY,
        Direction::Up => 3.0 * character.excitation_hz,
    };
    (1..)
        .map(whole)
        .take_while(|k| k * f0 < highest || *k < 2.0)
        .map(|k| {
            let ratio = k * f0 / character.excitation_hz;
            let edge = k * f0 / soft_edge;
            ((PI * character.pick * k).sin().powi(2) + PICK_WIDTH).sqrt()
                / (1.0 + ratio * ratio).powf(character.fall)
                / (1.0 + edge * edge).sqrt()
        })
        .collect()
}

/// Adds `level · sin(omega·n + phase)`, by turning a phasor.
fn add_partial(wave: &mut [f64], omega: f64, phase: f64, level: f64) {
    let (turn_im, turn_re) = omega.sin_cos();
    let (mut im, mut re) = phase.sin_cos();
    for sample in wave {
        *sample += level * im;
        (re, im) = (re * turn_re - im * turn_im, re * turn_im + im * turn_re);
    }
}

#[expect(clippy::cast_precision_loss, reason = "table lengths are far below 2^52")]
fn whole(count: usize) -> f64 {
    count as f64
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a table's length")]
fn samples(length: f64) -> usize {
    length.ceil() as usize
}
