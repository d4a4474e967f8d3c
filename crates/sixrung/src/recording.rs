//! The sound of the last pass, to be heard again: in memory only, bounded, and gone with the next pass.
//!
//! Nothing here can be written to a file: there is no form for it, and nothing outside the session gets hold of it.

use std::fmt;

/// No pass with more samples is kept: three minutes at 48,000 a second, 17 MB.
const MOST_SAMPLES: usize = 180 * 48_000;
/// The loudest 16-bit sample. A microphone's own noise lies above the last bit.
const FULL: f32 = 32_767.0;

/// One channel of a pass, at the microphone's own rate.
#[derive(Clone, PartialEq)]
pub struct Recording {
    rate: u32,
    /// Where on the pass's clock the first sample was played: seconds from bar 1 beat 1, the round trip taken off.
    starts_s: f64,
    /// The first sample's frame on the ear's clock.
    first: u64,
    room: usize,
    samples: Vec<i16>,
}

/// Samples are nobody's business in a log.
impl fmt::Debug for Recording {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Recording").field("rate", &self.rate).field("samples", &self.samples.len()).finish()
    }
}

impl Recording {
    /// Room for what is heard from one time to another on the ear's clock, of a pass whose bar 1 beat 1 arrives at
    /// `zero_s`. `None` for a pass too long to be kept.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "frames from zero up, minutes at most")]
    #[expect(clippy::cast_precision_loss, reason = "2^53 frames are six thousand years")]
    pub fn new(rate: u32, (from_s, to_s): (f64, f64), zero_s: f64) -> Option<Self> {
        let first = (from_s.max(0.0) * f64::from(rate)) as u64;
        let room = ((to_s * f64::from(rate)) as u64).checked_sub(first)? as usize;
        let starts_s = first as f64 / f64::from(rate) - zero_s;
        (room <= MOST_SAMPLES).then(|| Self { rate, starts_s, first, room, samples: Vec::with_capacity(room) })
    }

    /// Takes what was heard from `frame` of the ear's clock on; what does not belong to the pass is left out, what was
    /// lost is silence.
    pub fn take_in(&mut self, frame: u64, samples: &[f32]) {
        let next = self.first + self.samples.len() as u64;
        let known = usize::try_from(next.saturating_sub(frame)).unwrap_or(usize::MAX).min(samples.len());
        if known == samples.len() {
            return;
        }
        let lost = usize::try_from(frame.saturating_sub(next)).unwrap_or(usize::MAX);
        let room = self.room - self.samples.len();
        self.samples.extend(std::iter::repeat_n(0, lost.min(room)));
        let room = self.room - self.samples.len();
        self.samples.extend(samples[known..].iter().take(room).map(|sample| packed(*sample)));
    }

    /// What was played from `from_s` of the pass's clock on: `length` samples at `rate` frames a second, silence where
    /// nothing was kept. Between two samples a cubic lies (Catmull and Rom 1974).
    #[must_use]
    pub fn cut(&self, from_s: f64, rate: u32, length: usize) -> Vec<f32> {
        let at = |index: i64| usize::try_from(index).ok().and_then(|index| self.samples.get(index)).copied();
        let sample = |index: i64| at(index).map_or(0.0, |sample| f32::from(sample) / FULL);
        let cut = |n: usize| {
            #[expect(clippy::cast_precision_loss, reason = "seconds of frames")]
            let place = (from_s - self.starts_s + n as f64 / f64::from(rate)) * f64::from(self.rate);
            #[expect(clippy::cast_possible_truncation, reason = "minutes of frames, and a share of one")]
            let (whole, share) = (place.floor() as i64, (place - place.floor()) as f32);
            let [a, b, c, d] = [-1, 0, 1, 2].map(|near| sample(whole + near));
            let slope = (c - a) / 2.0;
            let (bend, twist) = (a - 2.5 * b + 2.0 * c - 0.5 * d, 1.5 * (b - c) + 0.5 * (d - a));
            b + share * (slope + share * (bend + share * twist))
        };
        (0..length).map(cut).collect()
    }
}

#[expect(clippy::cast_possible_truncation, reason = "clamped to 16 bits")]
fn packed(sample: f32) -> i16 {
    if sample.is_finite() { (sample.clamp(-1.0, 1.0) * FULL).round() as i16 } else { 0 }
}

#[cfg(test)]
mod tests {
    use super::{MOST_SAMPLES, Recording};

    const RATE: u32 = 48_000;

    /// A recording of clicks at these frames of the ear's clock, fed in odd blocks.
    fn clicks(recording: &mut Recording, at: &[u64], until: u64) {
        let sound: Vec<f32> = (0..until).map(|frame| if at.contains(&frame) { 0.5 } else { 0.0 }).collect();
        let mut frame = 0;
        for block in sound.chunks(701) {
            recording.take_in(frame, block);
            frame += block.len() as u64;
        }
    }

    #[test]
    fn what_was_played_on_the_beat_lies_on_the_beat_to_the_sample_the_round_trip_taken_off() {
        // Bar 1 beat 1 leaves the speakers at 1.5 s of the ear's clock; a stroke on it arrives 43.25 ms later.
        let (starts_s, latency_s) = (1.5, 0.043_25);
        let zero_s = starts_s + latency_s;
        let mut recording = Recording::new(RATE, (zero_s - 0.3, zero_s + 2.0), zero_s).expect("short");
        clicks(&mut recording, &[74_076, 74_076 + 24_000], 200_000);
        for (beat_s, rate, length) in [(0.0, RATE, 100), (0.5, RATE, 100), (0.5, 96_000, 100)] {
            let cut = recording.cut(beat_s - 0.000_5, rate, length);
            let loudest = (0..length).max_by(|a, b| cut[*a].total_cmp(&cut[*b])).expect("some");
            assert_eq!(loudest, if rate == RATE { 24 } else { 48 }, "{beat_s} s at {rate}");
            assert!((cut[loudest] - 0.5).abs() < 1e-3);
        }
        assert!(recording.cut(-5.0, RATE, 50).iter().chain(&recording.cut(60.0, RATE, 50)).all(|s| *s == 0.0));
    }

    #[test]
    fn what_was_lost_is_silence_and_moves_nothing() {
        let mut recording = Recording::new(RATE, (0.0, 1.0), 0.0).expect("short");
        recording.take_in(0, &[0.1; 100]);
        recording.take_in(300, &[0.3; 100]);
        let cut = recording.cut(0.0, RATE, 400);
        assert!((cut[50] - 0.1).abs() < 1e-3 && cut[200] == 0.0 && (cut[350] - 0.3).abs() < 1e-3);
    }

    #[test]
    fn it_never_grows_and_a_pass_too_long_is_not_kept() {
        let mut recording = Recording::new(RATE, (0.0, 0.01), 0.0).expect("short");
        let room = recording.samples.capacity();
        recording.take_in(0, &[0.2; 4_000]);
        assert_eq!((recording.samples.len(), recording.samples.capacity()), (480, room));
        #[expect(clippy::cast_precision_loss, reason = "minutes")]
        let too_long_s = MOST_SAMPLES as f64 / f64::from(RATE) + 1.0;
        assert_eq!(Recording::new(RATE, (0.0, too_long_s), 0.0), None);
    }
}
