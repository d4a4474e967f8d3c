//! Some of the recording as it is, to mark it by ear, with clicks on its beats when they are wanted.

use std::f32::consts::TAU;

use sixrung_song::{BeatMap, resampled};

use super::Loaded;

/// So much is played at once, in seconds.
const PREVIEW_S: f64 = 40.0;
/// A click's pitch, in hertz, and how fast it dies away, in seconds: short and high, to be told from any drum.
const CLICK_HZ: f32 = 2_200.0;
const CLICK_S: f32 = 0.004;
const CLICK_LEVEL: f32 = 0.35;

/// Mono at `rate` frames a second, from `from_s` on; clicks on `beats` where there are any, the first of each bar (told
/// by `is_bar`) an octave lower.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "seconds of frames"
)]
pub(crate) fn preview(
    loaded: &Loaded,
    from_s: f64,
    rate: u32,
    beats: Option<(&BeatMap, &dyn Fn(i32) -> bool)>,
) -> Vec<f32> {
    let own = f64::from(loaded.rate);
    let from = ((from_s * own).round().max(0.0) as usize).min(loaded.frames.len());
    let to = (from + (PREVIEW_S * own) as usize).min(loaded.frames.len());
    let heard = resampled(&loaded.frames[from..to], loaded.rate, rate);
    let gain = loaded.gain();
    let mut mono: Vec<f32> = heard.iter().map(|frame| gain * f32::midpoint(frame[0], frame[1])).collect();
    let Some((map, is_bar)) = beats else { return mono };
    let starts_s = from as f64 / own;
    let ends_s = starts_s + mono.len() as f64 / f64::from(rate.max(1));
    let mut beat = map.beat_at(starts_s).ceil() as i32;
    while map.at(f64::from(beat)) < ends_s {
        let at = ((map.at(f64::from(beat)) - starts_s) * f64::from(rate)).round().max(0.0) as usize;
        let hertz = if is_bar(beat) { CLICK_HZ / 2.0 } else { CLICK_HZ };
        for (n, sample) in mono.iter_mut().skip(at).take((8.0 * CLICK_S * rate as f32) as usize).enumerate() {
            let t = n as f32 / rate as f32;
            *sample += CLICK_LEVEL * (TAU * hertz * t).sin() * (-t / CLICK_S).exp();
        }
        beat += 1;
    }
    mono
}
