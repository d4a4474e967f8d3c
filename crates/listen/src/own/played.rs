//! What we play, on the microphone's clock and at its working rate.

use std::f64::consts::PI;

use crate::decimate::Decimator;

/// So much is remembered, in seconds: what was rendered ahead, and what a block of the microphone may be late.
const KEPT_S: f64 = 16.0;
/// Samples on either side that a value between them is made of, and values tabled between two samples: the decimator
/// leaves little above 0.9 of the band, and what 8 with a Blackman window bend there bends the same way while we learn
/// and while we remove.
const HALF_WIDTH: usize = 8;
const PHASES: usize = 256;
/// A stretch that begins within this of the last one's end follows it, in seconds: clocks read from two devices agree
/// to about that.
const JOINED_S: f64 = 0.001;

/// Remembers the last seconds of what was played.
#[derive(Debug)]
pub(crate) struct Played {
    rate: u32,
    working: f64,
    decimator: Decimator,
    /// When the next frame told of should sound, in seconds on the listener's clock.
    next_s: f64,
    /// The samples, as a ring; `count` were ever written since the last jump, the first of them at `first_s`.
    ring: Vec<f32>,
    count: usize,
    first_s: f64,
    table: Vec<[f32; 2 * HALF_WIDTH]>,
}

impl Played {
    #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds")]
    pub(crate) fn new(rate: u32) -> Self {
        let decimator = Decimator::new(rate);
        let working = f64::from(rate) / decimator.factor() as f64;
        let ring = vec![0.0; (KEPT_S * working) as usize];
        Self { rate, working, decimator, next_s: f64::NAN, ring, count: 0, first_s: 0.0, table: table() }
    }

    pub(crate) const fn rate(&self) -> u32 {
        self.rate
    }

    /// Takes samples of which the first sounds at `at_s`, its way to the microphone not included.
    #[expect(clippy::cast_precision_loss, reason = "blocks")]
    pub(crate) fn push(&mut self, at_s: f64, samples: &[f32]) {
        let rate = f64::from(self.rate);
        let follows = (at_s - self.next_s).abs() <= JOINED_S;
        if !follows {
            self.decimator.reset();
            self.count = 0;
            self.first_s = at_s + self.decimator.offset() / rate;
            self.next_s = at_s;
        }
        self.next_s += samples.len() as f64 / rate;
        let length = self.ring.len();
        for sample in samples {
            let sample = if sample.is_finite() { *sample } else { 0.0 };
            if let Some(sample) = self.decimator.push(sample) {
                self.ring[self.count % length] = sample;
                self.count += 1;
            }
        }
    }

    /// The value at a time on the listener's clock; `None` where it is not known what was played.
    #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "places")]
    pub(crate) fn at(&self, time_s: f64) -> Option<f32> {
        let place = (time_s - self.first_s) * self.working;
        let before = place.floor();
        let oldest = self.count.saturating_sub(self.ring.len());
        if before < oldest as f64 || before as usize + HALF_WIDTH >= self.count {
            return None;
        }
        let phase = (place - before) * PHASES as f64;
        let (row, between) = (phase as usize, (phase - phase.floor()) as f32);
        let (one, other) = (&self.table[row], &self.table[row + 1]);
        let length = self.ring.len();
        let newest = before as usize + HALF_WIDTH;
        let mut sum = 0.0;
        for (tap, (one, other)) in one.iter().zip(other).enumerate() {
            // Before the first there was silence.
            let Some(index) = (newest + tap + 1).checked_sub(2 * HALF_WIDTH) else { continue };
            sum += (one + between * (other - one)) * self.ring[index % length];
        }
        Some(sum)
    }
}

/// Windowed sinc, a row for each place between two samples, both ends included.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "filter design")]
fn table() -> Vec<[f32; 2 * HALF_WIDTH]> {
    let value = |x: f64| {
        let sinc = if x.abs() < 1e-9 { 1.0 } else { (PI * x).sin() / (PI * x) };
        let turn = PI * (x / HALF_WIDTH as f64 + 1.0);
        sinc * (0.42 - 0.5 * turn.cos() + 0.08 * (2.0 * turn).cos())
    };
    let row = |phase: usize| {
        let off = phase as f64 / PHASES as f64;
        // Tap t lies at before − HALF_WIDTH + 1 + t.
        std::array::from_fn(|tap| value(tap as f64 + 1.0 - HALF_WIDTH as f64 - off) as f32)
    };
    (0..=PHASES).map(row).collect()
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use super::Played;

    /// A tone told of at `rate` from `at_s` on, read back at times between its samples.
    fn check(rate: u32, at_s: f64, block: usize) {
        let tone = |time_s: f64| (TAU * 700.0 * time_s).sin();
        #[expect(clippy::cast_possible_truncation, reason = "samples")]
        let samples: Vec<f32> = (0..rate).map(|frame| tone(at_s + f64::from(frame) / f64::from(rate)) as f32).collect();
        let mut played = Played::new(rate);
        for (index, block) in samples.chunks(block).enumerate() {
            let first = u32::try_from(index * block.len()).expect("few");
            let first = if block.len() < samples.len() { first } else { 0 };
            played.push(at_s + f64::from(first) / f64::from(rate), block);
        }
        for step in 0..1000_u32 {
            let time_s = at_s + 0.1 + 0.000_777 * f64::from(step);
            let found = f64::from(played.at(time_s).expect("told"));
            assert!((found - tone(time_s)).abs() < 0.002, "{rate} {time_s}: {found} {}", tone(time_s));
        }
        assert_eq!(played.at(at_s - 0.1), None);
        assert_eq!(played.at(at_s + 1.1), None);
    }

    #[test]
    fn what_was_told_is_found_at_its_time_whatever_the_rate() {
        check(48_000, 0.0, 48_000);
        check(48_000, 3.21, 480);
        check(44_100, -1.0, 441);
        check(8_000, 0.5, 100);
    }

    #[test]
    fn a_jump_forgets_what_was_before() {
        let mut played = Played::new(8_000);
        played.push(0.0, &[1.0; 800]);
        played.push(0.3, &[1.0; 800]);
        assert_eq!(played.at(0.05), None);
        assert!(played.at(0.35).is_some());
    }
}
