//! Linear paths: a small room, and a small loudspeaker across it.

use std::f64::consts::{PI, TAU};

use crate::dice::Dice;
use crate::level::{db, narrow};
use crate::synth::RATE;

/// Convolves with exponentially decaying velvet noise (sparse impulses of either sign: Karjalainen and Järveläinen
/// 2007), RT60 0.25 to 0.5 s, beginning 3 to 12 ms after the direct sound and 3 to 9 dB below it in energy.
pub(crate) fn reverberate(dry: &[f32], dice: &mut Dice) -> Vec<f32> {
    const IMPULSES_PER_S: f64 = 2000.0;
    let rate = f64::from(RATE);
    let (rt60_s, first_s) = (dice.between(0.25, 0.5), dice.between(0.003, 0.012));
    let mut impulses = Vec::new();
    let mut at_s = first_s;
    while at_s < rt60_s {
        let sign = if dice.chance(0.5) { 1.0 } else { -1.0 };
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below half a second of frames")]
        impulses.push(((at_s * rate) as usize, narrow(sign * 10.0_f64.powf(-3.0 * at_s / rt60_s))));
        at_s += dice.between(0.2, 1.8) / IMPULSES_PER_S;
    }
    let energy: f32 = impulses.iter().map(|impulse| impulse.1 * impulse.1).sum();
    let gain = db(-dice.between(3.0, 9.0)) / energy.max(1e-9).sqrt();
    let mut wet = dry.to_vec();
    for (delay, height) in impulses {
        let height = height * gain;
        for (late, early) in wet.iter_mut().skip(delay).zip(dry) {
            *late += height * early;
        }
    }
    wet
}

/// From our own samples to the microphone: a delay of 4 to 40 ms (air, and what is left of the devices' own), a small
/// loudspeaker (second-order high-pass at 120 to 250 Hz, low-pass at 5 to 12 kHz) and the room. Ranges of ours.
pub(crate) fn loudspeaker(own: &[f32], dice: &mut Dice) -> Vec<f32> {
    let (low_hz, high_hz) = (dice.between(120.0, 250.0), dice.between(5000.0, 12_000.0));
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below 40 ms of frames")]
    let delay = (dice.between(0.004, 0.040) * f64::from(RATE)) as usize;
    let mut there = vec![0.0; delay];
    there.extend_from_slice(&own[..own.len().saturating_sub(delay)]);
    Biquad::new(high_hz, false).run(&mut there);
    Biquad::new(low_hz, true).run(&mut there);
    reverberate(&there, dice)
}

/// A Butterworth pass filter by the bilinear transform (Bristow-Johnson, "Cookbook formulae for audio EQ").
struct Biquad {
    ahead: [f64; 3],
    back: [f64; 2],
}

impl Biquad {
    fn new(hertz: f64, high: bool) -> Self {
        let turn = TAU * hertz / f64::from(RATE);
        let (cos, alpha) = (turn.cos(), turn.sin() * (PI / 4.0).sin());
        let scale = 1.0 / (1.0 + alpha);
        let (edge, middle) = if high { (1.0 + cos, -(1.0 + cos)) } else { (1.0 - cos, 1.0 - cos) };
        Self {
            ahead: [edge / 2.0, middle, edge / 2.0].map(|factor| factor * scale),
            back: [-2.0 * cos * scale, (1.0 - alpha) * scale],
        }
    }

    fn run(&self, sound: &mut [f32]) {
        let (mut one, mut two) = (0.0, 0.0);
        for sample in sound {
            let dry = f64::from(*sample);
            let wet = self.ahead[0] * dry + one;
            one = self.ahead[1] * dry - self.back[0] * wet + two;
            two = self.ahead[2] * dry - self.back[1] * wet;
            *sample = narrow(wet);
        }
    }
}
