//! A plain bass: one plucked string, drawn into a table.

use std::f64::consts::TAU;

use crate::click::normalised;
use crate::smooth::frames;

/// How long a note rings at most, in seconds: at slow tempi it dies away by itself.
const LENGTH_S: f64 = 2.4;
/// Decay of the lowest partial, and at 1 kHz, in seconds to −60 dB; in between they are blended by frequency, as losses
/// of strings are modelled (a design choice of ours: a short, round bass).
const T60_S: f64 = 4.5;
const T60_AT_1_KHZ_S: f64 = 0.7;
/// Where on the string it is plucked, as a share of its length; softened as by a fingertip above this, in hertz.
const PLUCKED_AT: f64 = 0.24;
const FINGERTIP_HZ: f64 = 650.0;
/// Partials above this add nothing to a plain bass.
const HIGHEST_HZ: f64 = 2500.0;
/// The string takes so long to move, in seconds; and so long to stop at the table's end.
const RISE_S: f64 = 0.004;
const CLOSING_S: f64 = 0.1;
/// Peak at full velocity, so that bass and guitar together sound in balance (a design choice of ours).
const PEAK: f64 = 0.22;

/// The samples of a bass note of `hertz`, at full velocity.
pub(crate) fn table(rate: u32, hertz: f64) -> Box<[f32]> {
    let rate_hz = f64::from(rate);
    let length = frames(rate, LENGTH_S) as usize;
    let mut wave = vec![0.0; length];
    for number in (1_u32..).map(f64::from).take_while(|number| number * hertz < HIGHEST_HZ.min(0.45 * rate_hz)) {
        let at_hz = number * hertz;
        let share = ((at_hz - hertz) / 1000.0).min(1.0);
        let t60_s = T60_S + (T60_AT_1_KHZ_S - T60_S) * share.sqrt();
        // A string plucked at a share of its length (Fletcher & Rossing), its corner rounded by a fingertip.
        let level = (number * TAU / 2.0 * PLUCKED_AT).sin() / (number * (1.0 + (at_hz / FINGERTIP_HZ).powi(2)));
        add_partial(&mut wave, TAU * at_hz / rate_hz, 10.0_f64.powf(-3.0 / (t60_s * rate_hz)), level);
    }
    let (rise, closing) = (RISE_S * rate_hz, CLOSING_S * rate_hz);
    let last = f64::from(frames(rate, LENGTH_S));
    for (at, sample) in (1_u32..).map(f64::from).zip(&mut wave) {
        *sample *= (at / rise).min(1.0) * ((last - at) / closing).min(1.0);
    }
    normalised(&wave, PEAK)
}

/// Adds a sine that begins at zero, by turning a phasor: one rotation a sample.
fn add_partial(wave: &mut [f64], step: f64, decay: f64, level: f64) {
    let (turn_sin, turn_cos) = (decay * step.sin(), decay * step.cos());
    let (mut sin, mut cos) = (0.0, level);
    for sample in wave {
        (sin, cos) = (sin * turn_cos + cos * turn_sin, cos * turn_cos - sin * turn_sin);
        *sample += sin;
    }
}

#[cfg(test)]
mod tests {
    use super::table;

    /// The share of a sound's power within a semitone of a pitch's first six partials, by Goertzel's sums.
    fn power_at(sound: &[f32], rate: f64, hertz: f64) -> f64 {
        let step = std::f64::consts::TAU * hertz / rate;
        let sum = sound.iter().enumerate().fold((0.0, 0.0), |(re, im), (index, sample)| {
            #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
            let turn = step * index as f64;
            (re + f64::from(*sample) * turn.cos(), im + f64::from(*sample) * turn.sin())
        });
        sum.0 * sum.0 + sum.1 * sum.1
    }

    #[test]
    fn it_sounds_the_pitch_asked_for_at_every_rate() {
        for rate in [8_000_u32, 44_100, 96_000] {
            for hertz in [55.0, 82.41, 103.83] {
                let sound = table(rate, hertz);
                let second = &sound[..rate as usize];
                let there = power_at(second, f64::from(rate), hertz);
                for beside in [0.94, 1.06] {
                    let beside = power_at(second, f64::from(rate), beside * hertz);
                    assert!(there > 30.0 * beside, "{hertz} Hz at {rate}: {there} against {beside}");
                }
            }
        }
    }

    #[test]
    fn it_begins_and_ends_without_a_step() {
        let sound = table(48_000, 55.0);
        assert!(sound[0].abs() < 0.01 && sound.last().is_some_and(|last| last.abs() < 1e-4));
    }
}
