//! What lies between the guitar and the recording.

use std::f64::consts::TAU;

use crate::dice::Dice;
use crate::synth::RATE;

/// Where a take was recorded.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, clap::ValueEnum)]
pub enum Condition {
    /// Close, dry, with no more than a preamplifier's hiss.
    Quiet,
    /// Across a small room: reverberation, mains hum, thumps on the floor, noise 25 dB under the guitar.
    Room,
}

impl Condition {
    /// Its name in truths.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Quiet => "quiet",
            Self::Room => "room",
        }
    }
}

/// Records `guitar`: colours it, adds noise, sets its level to a peak of −12 to −3 dB full scale. The guitar's own
/// loudness is measured over `playing`, in frames.
#[must_use]
pub fn record(guitar: &[f32], playing: std::ops::Range<usize>, condition: Condition, dice: &mut Dice) -> Vec<f32> {
    let mut sound = match condition {
        Condition::Quiet => guitar.to_vec(),
        Condition::Room => reverberate(guitar, dice),
    };
    let end = playing.end.min(sound.len());
    let frames = sound.len();
    let loud = rms(sound.get(playing.start..end).unwrap_or(&[]));
    match condition {
        Condition::Quiet => add_noise(&mut sound, &hiss(frames, dice), loud * db(-60.0)),
        Condition::Room => {
            add_noise(&mut sound, &rumble(frames, dice), loud * db(-25.0));
            add_hum(&mut sound, loud * db(dice.between(-38.0, -30.0)), dice);
            add_thumps(&mut sound, loud, dice);
        }
    }
    let peak = sound.iter().fold(1e-9_f32, |peak, sample| peak.max(sample.abs()));
    let gain = db(dice.between(-12.0, -3.0)) / peak;
    for sample in &mut sound {
        *sample *= gain;
    }
    sound
}

fn db(decibels: f64) -> f32 {
    narrow(10.0_f64.powf(decibels / 20.0))
}

#[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
const fn narrow(value: f64) -> f32 {
    value as f32
}

#[expect(clippy::cast_precision_loss, reason = "counts of frames")]
fn rms(samples: &[f32]) -> f32 {
    (samples.iter().map(|sample| sample * sample).sum::<f32>() / samples.len().max(1) as f32).sqrt()
}

/// Convolves with exponentially decaying velvet noise (sparse impulses of either sign: Karjalainen and Järveläinen
/// 2007), RT60 0.25 to 0.5 s, beginning 3 to 12 ms after the direct sound and 3 to 9 dB below it in energy.
fn reverberate(dry: &[f32], dice: &mut Dice) -> Vec<f32> {
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

fn add_noise(sound: &mut [f32], noise: &[f32], level: f32) {
    let gain = level / rms(noise).max(1e-9);
    for (sample, noise) in sound.iter_mut().zip(noise) {
        *sample += gain * noise;
    }
}

/// White noise, as of a preamplifier: the sum of four even draws is near enough to normal.
fn hiss(frames: usize, dice: &mut Dice) -> Vec<f32> {
    (0..frames).map(|_| narrow((0..4).map(|_| dice.unit()).sum::<f64>() - 2.0)).collect()
}

/// Pink noise, as of a room, whose background falls with frequency as noise criteria curves do: white noise through
/// three one-pole filters (Kellet's economy coefficients, within 0.5 dB of 3 dB an octave).
fn rumble(frames: usize, dice: &mut Dice) -> Vec<f32> {
    let mut poles = [0.0_f32; 3];
    let mut noise = hiss(frames, dice);
    for sample in &mut noise {
        poles[0] = 0.997_65 * poles[0] + 0.099_046 * *sample;
        poles[1] = 0.963 * poles[1] + 0.296_516 * *sample;
        poles[2] = 0.57 * poles[2] + 1.052_691 * *sample;
        *sample = poles.iter().sum::<f32>() + 0.1848 * *sample;
    }
    noise
}

/// Mains hum: 50 Hz and two of its harmonics.
fn add_hum(sound: &mut [f32], level: f32, dice: &mut Dice) {
    let phase = dice.between(0.0, TAU);
    for (index, sample) in (0_u32..).zip(sound) {
        let turn = TAU * 50.0 * f64::from(index) / f64::from(RATE) + phase;
        *sample += level * narrow(1.2 * turn.sin() + 0.5 * (2.0 * turn).sin() + 0.3 * (3.0 * turn).sin());
    }
}

/// A foot on the floor every few seconds: 50 to 80 Hz dying away within a tenth of a second, no louder than the guitar.
fn add_thumps(sound: &mut [f32], loud: f32, dice: &mut Dice) {
    let rate = f64::from(RATE);
    let mut at_s = dice.between(0.5, 4.0);
    loop {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes")]
        let from = (at_s * rate) as usize;
        if from >= sound.len() {
            break;
        }
        let (hertz, height) = (dice.between(50.0, 80.0), loud * db(dice.between(-12.0, 0.0)));
        for (index, sample) in (0..RATE / 3).zip(&mut sound[from..]) {
            let time_s = f64::from(index) / rate;
            let swell = (time_s / 0.004).min(1.0) * (-time_s / 0.03).exp();
            *sample += height * narrow(swell * (TAU * hertz * time_s).sin());
        }
        at_s += dice.between(2.0, 6.0);
    }
}
