//! The last guard before the speakers: a look-ahead limiter.
//!
//! The gain a sample needs is known before it is heard. It is held at its lowest over the look-ahead and then averaged
//! over as long: the average has come down all the way when the loud sample arrives, without a corner (common
//! practice). What counts is the true peak, between samples too. Below that every sample passes unchanged, bit
//! for bit.

use crate::smooth::frames;
use crate::true_peak::TruePeak;

/// −1 dBFS, of samples and of true peaks.
pub(crate) const CEILING: f32 = 0.891_25;
/// What is brought down to: 0.25 dB lower, since the interpolator reads the peaks of white noise up to 0.22 dB short
/// beside libebur128's (measured by the test below).
const AIM: f32 = 0.866;

const LOOK_AHEAD_S: f64 = 0.0015;
/// From silence back to full gain.
const RELEASE_S: f64 = 0.3;
/// Gains are averaged as integers, so that the running sum never drifts.
const ONE: u32 = 1 << 24;

/// A stereo limiter.
pub(crate) struct Limiter {
    peaks: TruePeak,
    delayed: Box<[[f32; 2]]>,
    lowest: SlidingLowest,
    gains: Box<[u32]>,
    sum: u64,
    full: u64,
    held: f32,
    release: f32,
    at: usize,
}

impl Limiter {
    /// A limiter at rest.
    pub(crate) fn new(rate: u32) -> Self {
        let window = frames(rate, LOOK_AHEAD_S) as usize;
        let full = u64::from(ONE) * window as u64;
        #[expect(clippy::cast_precision_loss, reason = "a release is far shorter than 2^24 frames")]
        let release = 1.0 / frames(rate, RELEASE_S) as f32;
        Self {
            peaks: TruePeak::new(AIM),
            delayed: vec![[0.0; 2]; window].into(),
            lowest: SlidingLowest::new(window),
            gains: vec![ONE; window].into(),
            sum: full,
            full,
            held: 1.0,
            release,
            at: 0,
        }
    }

    /// Frames between a sample going in and coming out.
    pub(crate) fn latency(&self) -> u64 {
        (self.delayed.len() - 1 + TruePeak::LAG) as u64
    }

    /// Puts in the place of each frame the one that went in [`Self::latency`] frames before it, limited.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn limit_all(&mut self, frames: &mut [[f32; 2]]) {
        if self.rests() && self.peaks.may_pass(frames) {
            for frame in &mut *frames {
                let late = self.peaks.pass(*frame);
                *frame = self.pass_on(late);
            }
            self.lowest.now += frames.len() as u64;
        } else {
            for frame in frames {
                *frame = self.limit(*frame);
            }
        }
    }

    /// Takes the next frame and gives the one that went in [`Self::latency`] frames ago.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline]
    fn limit(&mut self, frame: [f32; 2]) -> [f32; 2] {
        let (frame, peak) = self.peaks.next(frame);
        let needed = if peak > AIM { AIM / peak } else { 1.0 };
        self.held = self.lowest.push(needed).min(self.held + self.release);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and ONE")]
        #[expect(clippy::cast_precision_loss, reason = "2^24 is exact")]
        let gain = (self.held * ONE as f32) as u32;
        self.sum = self.sum - u64::from(self.gains[self.at]) + u64::from(gain);
        self.gains[self.at] = gain;
        let heard = self.pass_on(frame);
        if self.sum == self.full {
            return heard;
        }
        #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a factor below one")]
        let factor = (self.sum as f64 / self.full as f64) as f32;
        heard.map(|sample| (sample * factor).clamp(-CEILING, CEILING))
    }

    /// Whether every gain held and remembered is one.
    ///
    /// # Real-time
    /// Compares numbers.
    fn rests(&self) -> bool {
        self.sum == self.full && self.held >= 1.0 && self.lowest.length == 0
    }

    /// Takes `frame` into the delay and gives the one that leaves it.
    ///
    /// # Real-time
    /// Moves numbers.
    #[inline]
    fn pass_on(&mut self, frame: [f32; 2]) -> [f32; 2] {
        self.delayed[self.at] = frame;
        self.at = if self.at + 1 == self.delayed.len() { 0 } else { self.at + 1 };
        self.delayed[self.at]
    }
}

/// The lowest of the last `window` values, none above one, by a queue of those that may still become the lowest. Ones
/// are not queued: the limiter mostly rests.
struct SlidingLowest {
    queue: Box<[(u64, f32)]>,
    first: usize,
    length: usize,
    now: u64,
}

impl SlidingLowest {
    fn new(window: usize) -> Self {
        Self { queue: vec![(0, 1.0); window].into(), first: 0, length: 0, now: 0 }
    }

    /// Takes a value and gives the lowest of the window that ends with it.
    ///
    /// # Real-time
    /// Each value is looked at twice at most, on average.
    #[inline]
    fn push(&mut self, value: f32) -> f32 {
        if self.length > 0 && self.queue[self.first].0 + self.queue.len() as u64 <= self.now {
            self.first = self.place(1);
            self.length -= 1;
        }
        while self.length > 0 && self.queue[self.place(self.length - 1)].1 >= value {
            self.length -= 1;
        }
        if value < 1.0 {
            self.queue[self.place(self.length)] = (self.now, value);
            self.length += 1;
        }
        self.now += 1;
        if self.length > 0 { self.queue[self.first].1 } else { 1.0 }
    }

    /// Where the `index`th of the queue lies in its ring.
    ///
    /// # Real-time
    /// Arithmetic only.
    #[inline]
    fn place(&self, index: usize) -> usize {
        let place = self.first + index;
        if place < self.queue.len() { place } else { place - self.queue.len() }
    }
}

#[cfg(test)]
mod tests {
    use ebur128::{EbuR128, Mode};

    use super::{CEILING, Limiter};
    use crate::noise::Noise;

    /// Noise of `level`, in and out, the latency taken away.
    #[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
    fn limited(level: f32) -> (Vec<f32>, Vec<f32>) {
        let mut limiter = Limiter::new(48_000);
        let latency = usize::try_from(limiter.latency()).expect("short");
        let mut noise = Noise::new(7);
        let dry: Vec<f32> = (0..48_000).map(|_| level * noise.next() as f32).collect();
        let wet: Vec<f32> = dry.iter().map(|sample| limiter.limit([*sample, -*sample])[0]).skip(latency).collect();
        (dry, wet)
    }

    /// Noise rises between its samples to twice their level.
    #[test]
    fn what_stays_below_the_ceiling_passes_bit_for_bit() {
        let (dry, wet) = limited(0.42);
        assert!(dry[..wet.len()] == wet[..]);
    }

    /// Measured by libebur128's own interpolator (49 taps), in its Rust port.
    #[test]
    fn nothing_passes_the_ceiling_between_samples_and_little_is_lost() {
        for level in [0.89, 1.0, 4.0] {
            let (_, wet) = limited(level);
            let mut meter = EbuR128::new(1, 48_000, Mode::TRUE_PEAK).expect("a rate it takes");
            meter.add_frames_f32(&wet).expect("mono");
            let db = 20.0 * meter.true_peak(0).expect("one channel").log10();
            assert!((-1.6..=-1.0).contains(&db), "{db} dBTP at {level}");
        }
    }

    /// Sixty decibels too loud at once, the gain falls so fast that the sound between two samples bends with it.
    #[test]
    fn no_sample_passes_the_ceiling_however_loud() {
        let (_, wet) = limited(1000.0);
        assert!(wet.iter().all(|sample| sample.abs() <= CEILING));
    }

    #[test]
    fn after_a_peak_the_gain_comes_back_all_the_way() {
        let mut limiter = Limiter::new(48_000);
        limiter.limit([8.0, 0.0]);
        let last = (0..48_000).map(|_| limiter.limit([0.5, 0.5])).last();
        assert_eq!(last, Some([0.5, 0.5]));
    }
}
