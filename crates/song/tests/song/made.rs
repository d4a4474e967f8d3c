//! Sounds made for the tests: click trains, drums, a sustained chord. Every random number comes from a seed.

use std::f64::consts::TAU;

/// Noise between −1 and 1 by a linear congruential generator (Knuth's MMIX constants).
#[derive(Clone)]
pub(crate) struct Noise(pub(crate) u64);

impl Noise {
    #[expect(clippy::cast_precision_loss, reason = "noise")]
    pub(crate) fn next(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) as f64 / f64::from(1_u32 << 30)) - 1.0
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of frames")]
pub(crate) fn frames(seconds: f64, rate: u32) -> usize {
    (seconds * f64::from(rate)).round().max(0.0) as usize
}

/// Adds `sound(t)`, `length_s` long, at `at_s`, to the sample.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "test samples")]
pub(crate) fn add(out: &mut [[f32; 2]], rate: u32, at_s: f64, length_s: f64, mut sound: impl FnMut(f64) -> f64) {
    let from = frames(at_s, rate);
    for (index, frame) in out.iter_mut().skip(from).take(frames(length_s, rate)).enumerate() {
        let at = (from + index) as f64 / f64::from(rate) - at_s;
        let sample = sound(at) as f32;
        *frame = frame.map(|old| old + sample);
    }
}

/// A click: a 2 kHz burst of 6 ms that dies away.
pub(crate) fn click(at: f64) -> f64 {
    0.8 * (TAU * 2_000.0 * at).cos() * (-at / 0.0015).exp()
}

pub(crate) fn silence(seconds: f64, rate: u32) -> Vec<[f32; 2]> {
    vec![[0.0; 2]; frames(seconds, rate)]
}

/// Clicks at these times.
pub(crate) fn clicks(at_s: &[f64], seconds: f64, rate: u32) -> Vec<[f32; 2]> {
    let mut out = silence(seconds, rate);
    for at in at_s {
        add(&mut out, rate, *at, 0.012, click);
    }
    out
}

/// Drums on beats: low drum on the first and third of four, noise on the others, a light one between beats.
pub(crate) fn drums(beats_s: &[f64], seconds: f64, rate: u32, seed: u64) -> Vec<[f32; 2]> {
    let mut out = silence(seconds, rate);
    let mut noise = Noise(seed);
    for (index, at) in beats_s.iter().enumerate() {
        if index % 2 == 0 {
            // From 120 Hz down to 50 within 40 ms.
            add(&mut out, rate, *at, 0.25, |t| {
                let phase = 50.0 * t + 70.0 * 0.04 * (1.0 - (-t / 0.04).exp());
                0.8 * (TAU * phase).sin() * (-t / 0.08).exp()
            });
        } else {
            add(&mut out, rate, *at, 0.2, |t| 0.4 * noise.next() * (-t / 0.05).exp());
        }
        if let Some(next) = beats_s.get(index + 1) {
            add(&mut out, rate, f64::midpoint(*at, *next), 0.05, |t| 0.12 * noise.next() * (-t / 0.012).exp());
        }
    }
    out
}

/// A chord that rings through, its three notes beating against each other.
pub(crate) fn chord(out: &mut [[f32; 2]], rate: u32) {
    #[expect(clippy::cast_precision_loss, reason = "a length")]
    let length = out.len() as f64 / f64::from(rate);
    add(out, rate, 0.0, length, |t| {
        let note = |hertz: f64| (TAU * hertz * t).sin() + 0.4 * (TAU * 2.0 * hertz * t).sin();
        0.08 * (note(146.83) + note(185.0) + note(220.0))
    });
}

/// Times of beats at a tempo from a time on.
pub(crate) fn even(bpm: f64, from_s: f64, to_s: f64) -> Vec<f64> {
    (0..).map(|beat| from_s + 60.0 * f64::from(beat) / bpm).take_while(|at| *at < to_s).collect()
}
