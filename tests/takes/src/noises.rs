//! What a microphone hears beside the music.

use std::f64::consts::TAU;

use crate::dice::Dice;
use crate::level::{db, narrow, rms};
use crate::synth::RATE;

/// Adds `noise` at an RMS of `level`.
pub(crate) fn add_noise(sound: &mut [f32], noise: &[f32], level: f32) {
    let gain = level / rms(noise).max(1e-9);
    for (sample, noise) in sound.iter_mut().zip(noise) {
        *sample += gain * noise;
    }
}

/// White noise, as of a preamplifier: the sum of four even draws is near enough to normal.
pub(crate) fn hiss(frames: usize, dice: &mut Dice) -> Vec<f32> {
    (0..frames).map(|_| narrow((0..4).map(|_| dice.unit()).sum::<f64>() - 2.0)).collect()
}

/// Pink noise, as of a room, whose background falls with frequency as noise criteria curves do: white noise through
/// three one-pole filters (Kellet's economy coefficients, within 0.5 dB of 3 dB an octave).
pub(crate) fn rumble(frames: usize, dice: &mut Dice) -> Vec<f32> {
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
pub(crate) fn add_hum(sound: &mut [f32], level: f32, dice: &mut Dice) {
    let phase = dice.between(0.0, TAU);
    for (index, sample) in (0_u32..).zip(sound) {
        let turn = TAU * 50.0 * f64::from(index) / f64::from(RATE) + phase;
        *sample += level * narrow(1.2 * turn.sin() + 0.5 * (2.0 * turn).sin() + 0.3 * (3.0 * turn).sin());
    }
}

/// A foot on the floor every few seconds: 50 to 80 Hz dying away within a tenth of a second, no louder than the guitar.
pub(crate) fn add_thumps(sound: &mut [f32], loud: f32, dice: &mut Dice) {
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
