//! What a microphone beside a guitar hears: strokes on stopped strings, and all that is none. Made by nothing of ours.
#![allow(dead_code, reason = "each file that uses it is a crate of its own and uses a part")]

use std::f64::consts::TAU;

use crate::common::{Dice, add_noise, frames, strummed};

/// Frames a second.
pub(crate) const RATE: u32 = 16_000;
/// The open strings, in hertz.
const OPEN_HZ: [f64; 6] = [82.41, 110.0, 146.83, 196.0, 246.94, 329.63];

/// What is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Bystander {
    /// Chords that ring, evenly.
    Strums,
    /// One string after the other, left to ring.
    Tuning,
    /// One string at a time, stopped at once by the palm.
    PalmMuted,
    /// Syllables as they come.
    Talking,
    /// One word a beat, each as short as can be said.
    Counting,
    /// Long vowels.
    Singing,
    /// A metronome that goes on, of wood, bell or fingernail.
    Metronome,
    /// Four of its clicks, then a rest, again and again.
    FourClicks,
    /// A foot on the floor, evenly.
    Foot,
    /// Noise, steady or in bursts.
    Noise,
    /// The mains.
    Hum,
    /// Hands, many at once.
    Applause,
}

impl Bystander {
    pub(crate) const ALL: [Self; 12] = [
        Self::Strums,
        Self::Tuning,
        Self::PalmMuted,
        Self::Talking,
        Self::Counting,
        Self::Singing,
        Self::Metronome,
        Self::FourClicks,
        Self::Foot,
        Self::Noise,
        Self::Hum,
        Self::Applause,
    ];

    /// So many seconds of it.
    pub(crate) fn sound(self, length_s: f64, dice: &mut Dice) -> Vec<f32> {
        let mut sound = vec![0.0; frames(length_s * f64::from(RATE))];
        let gap_s = between(dice, 0.32, 1.1);
        let beats =
            || (0_u32..).map(move |beat| 0.5 + gap_s * f64::from(beat)).take_while(move |at_s| *at_s < length_s);
        match self {
            Self::Strums => sound = strummed(&beats().collect::<Vec<_>>(), RATE, length_s),
            Self::Tuning => beats().for_each(|at_s| pluck(&mut sound, at_s, gap_s, dice)),
            Self::PalmMuted => beats().for_each(|at_s| pluck(&mut sound, at_s, 0.09, dice)),
            Self::Talking => {
                let mut at_s = 0.5;
                while at_s < length_s {
                    let lasts_s = between(dice, 0.09, 0.35);
                    vowel(&mut sound, at_s, lasts_s, dice);
                    let pause_s = if dice.uniform() < 0.15 { 0.8 } else { 0.08 };
                    at_s += lasts_s + pause_s * dice.uniform();
                }
            }
            Self::Counting => {
                let lasts_s = between(dice, 0.07, 0.3);
                beats().for_each(|at_s| vowel(&mut sound, at_s, lasts_s, dice));
            }
            Self::Singing => beats().step_by(2).for_each(|at_s| vowel(&mut sound, at_s, 1.8 * gap_s, dice)),
            Self::Metronome | Self::FourClicks => {
                let (hertz, t60_s) =
                    [(1_110.0, 0.048), (1_568.0, 0.3), (2_400.0, 0.012)][frames(2.99 * dice.uniform()) % 3];
                for (beat, at_s) in beats().enumerate() {
                    if self == Self::Metronome || beat % 8 < 4 {
                        let mode = |time_s: f64| {
                            let fall = |share: f64| (-6.9 * time_s / (share * t60_s)).exp();
                            fall(1.0) * (TAU * hertz * time_s).sin()
                                + 0.35 * fall(0.5) * (TAU * 2.756 * hertz * time_s).sin()
                        };
                        add(&mut sound, at_s, 0.4, |time_s| 0.3 * mode(time_s));
                    }
                }
            }
            Self::Foot => {
                let hertz = between(dice, 50.0, 90.0);
                beats().for_each(|at_s| {
                    add(&mut sound, at_s, 0.3, |time_s| {
                        0.3 * (time_s / 0.004).min(1.0) * (-time_s / 0.025).exp() * (TAU * hertz * time_s).sin()
                    });
                });
            }
            Self::Noise => {
                let lasts_s = if dice.uniform() < 0.5 { length_s } else { between(dice, 0.15, 0.6) };
                let level = 0.1 * dice.uniform();
                beats().for_each(|at_s| add(&mut sound, at_s, lasts_s, |_| level * dice.normal()));
            }
            Self::Hum => add(&mut sound, 0.0, length_s, |time_s| {
                (1..6).map(f64::from).map(|k| 0.1 / k * (TAU * 50.0 * k * time_s).sin()).sum()
            }),
            Self::Applause => {
                let claps_s = between(dice, 8.0, 200.0);
                let mut at_s = 0.5;
                while at_s < length_s {
                    let loud = between(dice, 0.05, 0.2);
                    add(&mut sound, at_s, 0.05, |time_s| loud * (-time_s / 0.008).exp() * dice.normal());
                    at_s -= (1.0 - dice.uniform()).ln() / claps_s;
                }
            }
        }
        sound
    }
}

/// Four muted strokes `gap_s` apart, more or less, the first after `from_s`; and when the fourth was.
pub(crate) fn muted(from_s: f64, gap_s: f64, dice: &mut Dice) -> (Vec<f32>, f64) {
    let mut sound = vec![0.0; frames((from_s + 4.0 * gap_s + 1.0) * f64::from(RATE))];
    // From string to string: sweeps of real strums take 17 ms in all, nine of ten below 41 ms.
    let (step_s, dies_s) = (between(dice, 0.002, 0.010), between(dice, 0.04, 0.10));
    let mut at_s = from_s;
    let mut fourth_s = at_s;
    for _ in 0..4 {
        fourth_s = at_s;
        let loud = 0.1 * (0.2 * dice.normal()).exp();
        for (string, hertz) in (0_u32..).zip(OPEN_HZ) {
            let (struck_s, loud) = (at_s + step_s * f64::from(string), loud * (0.1 * dice.normal()).exp());
            let detuned: Vec<(f64, f64)> =
                (1..=10).map(f64::from).map(|k| (k, k * hertz * (1.0 + 0.015 * dice.normal()))).collect();
            add(&mut sound, struck_s, 2.0 * dies_s, |time_s| {
                let partial = |(k, hertz): &(f64, f64)| {
                    (-6.9 * time_s * k.sqrt() / dies_s).exp() * (TAU * hertz * time_s).sin() / k
                };
                let scrape = if time_s < 0.006 { 0.5 * dice.normal() } else { 0.0 };
                loud * ((time_s / 0.001).min(1.0) * detuned.iter().map(partial).sum::<f64>() + scrape)
            });
        }
        // Untrained tapping spreads 4 to 6 % of a beat.
        at_s += gap_s * (1.0 + 0.04 * dice.normal().clamp(-2.0, 2.0));
    }
    (sound, fourth_s)
}

/// A room's noise under it, 40 to 70 dB under full scale.
pub(crate) fn noisy(mut sound: Vec<f32>, dice: &mut Dice) -> Vec<f32> {
    let deviation = 10.0_f64.powf(-between(dice, 40.0, 70.0) / 20.0);
    add_noise(&mut sound, deviation, (1e9 * dice.uniform()) as u64);
    sound
}

pub(crate) fn between(dice: &mut Dice, from: f64, to: f64) -> f64 {
    from + (to - from) * dice.uniform()
}

fn add(sound: &mut [f32], at_s: f64, lasts_s: f64, mut wave: impl FnMut(f64) -> f64) {
    let (from, length) = (frames(at_s * f64::from(RATE)), frames(lasts_s * f64::from(RATE)));
    for (index, sample) in (0_u32..).zip(sound.iter_mut().skip(from).take(length)) {
        #[expect(clippy::cast_possible_truncation, reason = "samples")]
        let value = wave(f64::from(index) / f64::from(RATE)) as f32;
        *sample += value;
    }
}

/// One string, any, stopped after so long.
fn pluck(sound: &mut [f32], at_s: f64, lasts_s: f64, dice: &mut Dice) {
    let hertz = OPEN_HZ[frames(5.99 * dice.uniform()) % 6];
    add(sound, at_s, lasts_s + 0.03, |time_s| {
        let stopped = ((lasts_s + 0.03 - time_s) / 0.03).min(1.0);
        let partial = |k: f64| (-(0.8 + 0.25 * k) * time_s).exp() / k * (TAU * k * hertz * time_s).sin();
        0.2 * stopped * (time_s / 0.001).min(1.0) * (1..=12).map(f64::from).map(partial).sum::<f64>()
    });
}

/// A vowel of a low or a high voice, a burst of breath before half of them: pulses of the folds through three resonances.
fn vowel(sound: &mut [f32], at_s: f64, lasts_s: f64, dice: &mut Dice) {
    const VOWELS: [[f64; 3]; 5] = [
        [270.0, 2290.0, 3010.0],
        [530.0, 1840.0, 2480.0],
        [730.0, 1090.0, 2440.0],
        [570.0, 840.0, 2410.0],
        [300.0, 870.0, 2240.0],
    ];
    if dice.uniform() < 0.5 {
        let loud = 0.1 * dice.uniform();
        add(sound, at_s - 0.03, 0.03, |time_s| loud * (-time_s / 0.006).exp() * dice.normal());
    }
    let rate = f64::from(RATE);
    let hertz = between(dice, 85.0, 260.0);
    let formants = VOWELS[frames(4.99 * dice.uniform()) % 5];
    let (rises_s, glide) = (between(dice, 0.008, 0.04), between(dice, -0.15, 0.15));
    let (mut phase, mut held) = (0.0, [[0.0; 2]; 3]);
    add(sound, at_s, lasts_s, |time_s| {
        phase += hertz * (1.0 + glide * time_s / lasts_s) / rate;
        let mut value: f64 = if phase >= 1.0 { 1.0 } else { 0.0 };
        phase %= 1.0;
        for (held, formant) in held.iter_mut().zip(formants) {
            let radius = (-TAU / 2.0 * 90.0 / rate).exp();
            let back = [2.0 * radius * (TAU * formant / rate).cos(), -radius * radius];
            value = (1.0 - back[0] - back[1]) * value + back[0] * held[0] + back[1] * held[1];
            *held = [value, held[0]];
        }
        let loud = (time_s / rises_s).min((lasts_s - time_s) / 0.03).clamp(0.0, 1.0);
        2.0 * loud * value
    });
}
