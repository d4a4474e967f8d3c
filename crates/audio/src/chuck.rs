//! A deadened string struck: a short burst of pick noise over the thud of strings that can't ring.

use std::f64::consts::TAU;

use crate::band::Band;
use crate::click::{decay, normalised};
use crate::noise::Noise;
use crate::smooth::frames;

/// How long the thud lasts, within the 60 to 100 ms of a palm on the strings (a design choice of ours).
const THUD_T60_S: f64 = 0.080;
/// How long the scrape lasts, 5 to 8 ms (a design choice of ours).
const SCRAPE_S: f64 = 0.007;
/// The scrape's band in hertz (a design choice of ours).
const SCRAPE_BAND: (f64, f64) = (1500.0, 5000.0);
/// Peak at full velocity: a chuck is six of them in a row.
const PEAK: f64 = 0.16;

/// The samples of one deadened string whose open pitch is `open` hertz, at full velocity.
pub(crate) fn table(rate: u32, open: f64, seed: u32) -> Box<[f32]> {
    let rate_hz = f64::from(rate);
    let length = frames(rate, 1.2 * THUD_T60_S);
    let mut noise = Noise::new(seed);
    let mut scrape = Band::<2>::new(rate_hz, SCRAPE_BAND);
    let phases: Vec<f64> = (0..8).map(|_| noise.next() * TAU / 2.0).collect();
    let wave: Vec<f64> = (1..=length)
        .map(|frame| {
            let at = f64::from(frame) / rate_hz;
            let burst = (TAU / 2.0 * (at / SCRAPE_S).min(1.0)).sin().max(0.0);
            let rise = (at / 0.0015).min(1.0);
            let closing = (f64::from(length - frame) / (0.1 * f64::from(length))).min(1.0);
            let thud = thud(at, open, rate_hz, &phases);
            (1.6 * burst * scrape.filter(noise.next()) + rise * thud) * closing
        })
        .collect();
    normalised(&wave, PEAK)
}

/// Partials of the deadened string, the higher the shorter, slightly out of tune as under a hand.
fn thud(at: f64, open: f64, rate_hz: f64, phases: &[f64]) -> f64 {
    (1_u32..)
        .zip(phases)
        .map(|(number, phase)| (f64::from(number), phase))
        .filter(|(number, _)| number * open < 0.4 * rate_hz)
        .map(|(number, phase)| {
            let hertz = number * open * (1.0 + 0.02 * phase / TAU);
            (TAU * hertz * at + phase).sin() * decay(at, THUD_T60_S / number.sqrt()) / number
        })
        .sum::<f64>()
        * 0.4
}

#[cfg(test)]
mod tests {
    use super::table;

    #[test]
    fn a_deadened_string_dies_within_60_to_100_ms() {
        for open in [82.41, 110.0, 146.83, 196.0, 246.94, 329.63] {
            let sound = table(48_000, open, 1);
            let level = |from: usize| 10.0 * sound[from..from + 960].iter().map(|s| s * s).sum::<f32>().log10();
            // From 20 to 40 ms against 50 to 70 ms.
            let t60_ms = 60.0 * 30.0 / (level(960) - level(2400));
            assert!((60.0..=100.0).contains(&t60_ms), "{open} Hz: {t60_ms} ms");
        }
    }
}
