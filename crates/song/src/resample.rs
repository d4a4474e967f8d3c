//! From one sample rate to another, or another speed: a windowed sinc.

use std::f64::consts::PI;

/// Zero crossings of the sinc on each side.
const CROSSINGS: f64 = 24.0;
/// The band kept, as a share of the narrower one: the rest is the filter's slope.
const KEPT: f64 = 0.945;
/// Sharpness of the Kaiser window: stop band below −90 dB (Kaiser's formula, 0.1102 (A − 8.7) with A = 90).
const BETA: f64 = 8.96;
/// Steps between two entries of the filter's table; in between it is read along a line (error below −100 dB).
const STEPS: usize = 512;

/// `frames` at `from` frames a second, as frames at `to` a second; as long in seconds to within half a frame. Equal
/// rates give the same samples.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "positions in a recording; single precision is what samples have"
)]
pub fn resampled(frames: &[[f32; 2]], from: u32, to: u32) -> Vec<[f32; 2]> {
    if from == to || frames.is_empty() || from == 0 || to == 0 {
        return frames.to_vec();
    }
    let step = f64::from(from) / f64::from(to);
    let band = KEPT * (1.0 / step).min(1.0);
    let reach = CROSSINGS / band;
    let table = table(reach, band);
    let length = (frames.len() as f64 / step).round() as usize;
    let mut out = Vec::with_capacity(length);
    for index in 0..length {
        let at = index as f64 * step;
        let first = (at - reach).ceil().max(0.0) as usize;
        let last = ((at + reach).floor() as usize).min(frames.len() - 1);
        let mut sum = [0.0_f64; 2];
        for (place, frame) in frames.iter().enumerate().take(last + 1).skip(first) {
            let (steps, part) = whole_and_part((place as f64 - at).abs() * STEPS as f64);
            let (Some(a), Some(b)) = (table.get(steps), table.get(steps + 1)) else { continue };
            let weight = a + (b - a) * part;
            sum = [sum[0] + weight * f64::from(frame[0]), sum[1] + weight * f64::from(frame[1])];
        }
        out.push(sum.map(|sample| sample as f32));
    }
    out
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "never negative, and short")]
fn whole_and_part(at: f64) -> (usize, f64) {
    (at as usize, at.fract())
}

/// One side of the filter, [`STEPS`] entries a frame.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a table of some thousand entries"
)]
fn table(reach: f64, band: f64) -> Vec<f64> {
    let entries = (reach * STEPS as f64) as usize + 2;
    let entry = |index: usize| {
        let at = index as f64 / STEPS as f64;
        let inside = 1.0 - (at / reach).powi(2);
        if inside <= 0.0 {
            return 0.0;
        }
        let x = PI * band * at;
        let sinc = if x.abs() < 1e-9 { 1.0 } else { x.sin() / x };
        band * sinc * bessel(BETA * inside.sqrt()) / bessel(BETA)
    };
    (0..entries).map(entry).collect()
}

/// The modified Bessel function of the first kind, order 0, by its series (Abramowitz and Stegun 9.6.12).
fn bessel(x: f64) -> f64 {
    let mut term = 1.0;
    let mut sum = 1.0;
    for k in 1..40 {
        term *= (x / (2.0 * f64::from(k))).powi(2);
        sum += term;
    }
    sum
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use super::resampled;

    #[test]
    #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "test samples")]
    fn a_tone_is_the_same_tone_at_another_rate() {
        for (from, to, hertz) in
            [(44_100, 48_000, 1_000.0), (48_000, 44_100, 15_000.0), (22_050, 48_000, 9_000.0), (96_000, 48_000, 60.0)]
        {
            let tone = |rate: u32, length: usize| -> Vec<[f32; 2]> {
                let sample = |n: usize| (TAU * hertz * n as f64 / f64::from(rate)).sin() as f32;
                (0..length).map(|n| [sample(n), -sample(n)]).collect()
            };
            let heard = resampled(&tone(from, from as usize / 4), from, to);
            assert!(heard.len().abs_diff(to as usize / 4) <= 1, "{from} to {to}: {}", heard.len());
            let wanted = tone(to, heard.len());
            // The ends are where the tone was cut off.
            let inner = 400..heard.len() - 400;
            let off = inner.clone().map(|n| (heard[n][0] - wanted[n][0]).abs()).fold(0.0, f32::max);
            assert!(off < 5e-4, "{from} to {to}, {hertz} Hz: off by {off}");
            assert!(inner.into_iter().all(|n| heard[n][0] == -heard[n][1]));
        }
    }

    #[test]
    fn what_a_lower_rate_cannot_hold_is_left_out_and_equal_rates_change_nothing() {
        #[expect(clippy::cast_precision_loss, reason = "test samples")]
        let high: Vec<[f32; 2]> = (0..9_600).map(|n| [(2.9 * n as f32).sin(); 2]).collect();
        let heard = resampled(&high, 96_000, 48_000);
        let loudest = heard[100..heard.len() - 100].iter().fold(0.0_f32, |loudest, frame| loudest.max(frame[0].abs()));
        assert!(loudest < 1e-3, "{loudest}");
        assert_eq!(resampled(&high, 48_000, 48_000), high);
        assert!(resampled(&[], 44_100, 48_000).is_empty());
    }
}
