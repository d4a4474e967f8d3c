//! The last guard before the speakers: a look-ahead limiter.
//!
//! The gain a sample needs is known before it is heard. It is held at its lowest over the look-ahead and then averaged
//! over as long: the average has come down all the way when the loud sample arrives, without a corner (common
//! practice). Below the ceiling every sample passes unchanged, bit for bit.

use crate::smooth::frames;

/// −1 dBFS.
pub(crate) const CEILING: f32 = 0.891_25;

const LOOK_AHEAD_S: f64 = 0.0015;
/// From silence back to full gain.
const RELEASE_S: f64 = 0.3;
/// Gains are averaged as integers, so that the running sum never drifts.
const ONE: u32 = 1 << 24;

/// A stereo limiter.
pub(crate) struct Limiter {
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
        self.delayed.len() as u64 - 1
    }

    /// Takes the next frame and gives the one that went in [`Self::latency`] frames ago.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn limit(&mut self, frame: [f32; 2]) -> [f32; 2] {
        let peak = frame[0].abs().max(frame[1].abs());
        let needed = if peak > CEILING { CEILING / peak } else { 1.0 };
        self.held = self.lowest.push(needed).min(self.held + self.release);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 0 and ONE")]
        #[expect(clippy::cast_precision_loss, reason = "2^24 is exact")]
        let gain = (self.held * ONE as f32) as u32;
        self.sum = self.sum - u64::from(self.gains[self.at]) + u64::from(gain);
        self.gains[self.at] = gain;
        self.delayed[self.at] = frame;
        self.at = if self.at + 1 == self.delayed.len() { 0 } else { self.at + 1 };
        let heard = self.delayed[self.at];
        if self.sum == self.full {
            return heard;
        }
        #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a factor below one")]
        let factor = (self.sum as f64 / self.full as f64) as f32;
        heard.map(|sample| (sample * factor).clamp(-CEILING, CEILING))
    }
}

/// The lowest of the last `window` values, by a queue that only keeps those that may still become the lowest.
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
    fn push(&mut self, value: f32) -> f32 {
        let window = self.queue.len();
        if self.length > 0 && self.queue[self.first].0 + window as u64 <= self.now {
            self.first = (self.first + 1) % window;
            self.length -= 1;
        }
        while self.length > 0 && self.queue[(self.first + self.length - 1) % window].1 >= value {
            self.length -= 1;
        }
        self.queue[(self.first + self.length) % window] = (self.now, value);
        self.length += 1;
        self.now += 1;
        self.queue[self.first].1
    }
}
