//! Plans, players and plucked strings for the tests. Each test file uses a part of them.
#![expect(dead_code, reason = "each test file is a crate of its own and uses a part")]

use std::f64::consts::TAU;

use sixrung_lesson::{Action, Direction};
use sixrung_listen::{Moment, PassPlan, PlannedStroke, Quality, Strum};

/// A small seeded generator: SplitMix64 (Steele, Lea & Flood 2014) and Box & Muller's normal.
pub(crate) struct Dice(pub(crate) u64);

impl Dice {
    /// 0 to 1.
    pub(crate) fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        f64::from(u32::try_from((mixed ^ (mixed >> 31)) >> 32).expect("32 bits")) / 4_294_967_296.0
    }

    /// Mean 0, standard deviation 1.
    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.uniform()).ln()).sqrt();
        radius * (TAU * self.uniform()).cos()
    }
}

/// A pass of strokes `every_s` apart on slots of `slot_s`, from 0.
pub(crate) fn plan(strokes: u32, every_s: f64, slot_s: f64) -> PassPlan {
    let stroke = |index: u32| PlannedStroke {
        at_s: f64::from(index) * every_s,
        slot_s,
        bar: usize::try_from(index / 4).expect("few"),
        slot: index % 4,
        action: Action::Strum,
        direction: Direction::Down,
        shape: None,
    };
    PassPlan {
        starts_s: 0.0,
        length_s: f64::from(strokes) * every_s,
        strokes: (0..strokes).map(stroke).collect(),
        ..PassPlan::default()
    }
}

/// A strum that can't be doubted.
pub(crate) fn strum(at_s: f64) -> Strum {
    Strum { at_s, strength_db: -30.0, rise_db: 15.0, gain_db: 15.0, certain: true }
}

/// An input with nothing wrong, to the end of the pass and a second more.
pub(crate) fn good_input(plan: &PassPlan) -> Quality {
    let end_s = plan.starts_s + plan.length_s + 1.0;
    let moment = Moment { end_s, level_db: -20.0, peak_db: -8.0, clipped: 0.0, gap: false, bad: false };
    Quality { moments: vec![moment], struck: true, ..Quality::default() }
}

/// Chords of six decaying strings, 6 ms apart, struck at `times_s`: eight partials each, the higher the shorter
/// (T60 6 s at the first, falling as 1/k). A string struck anew is stopped first.
pub(crate) fn strummed(times_s: &[f64], rate: u32, length_s: f64) -> Vec<f32> {
    let mut sound = vec![0.0_f32; frames(length_s * f64::from(rate))];
    for (index, start_s) in times_s.iter().enumerate() {
        let next_s = times_s.get(index + 1).copied().unwrap_or(length_s);
        for (string, hertz) in [82.4, 123.5, 164.8, 207.7, 246.9, 329.6].into_iter().enumerate() {
            let sweep_s = 0.006 * f64::from(u32::try_from(string).expect("six"));
            pluck(&mut sound, rate, hertz, start_s + sweep_s, next_s + sweep_s);
        }
    }
    sound
}

fn pluck(sound: &mut [f32], rate: u32, hertz: f64, from_s: f64, to_s: f64) {
    let rate = f64::from(rate);
    let (from, to) = (frames(from_s * rate), frames(to_s * rate).min(sound.len()));
    for (frame, sample) in sound.iter_mut().enumerate().take(to).skip(from) {
        let time = f64::from(u32::try_from(frame - from).expect("minutes")) / rate;
        let partials = (1..=8).map(f64::from).filter(|k| k * hertz < rate / 2.2);
        let sum: f64 = partials.map(|k| (-6.9 * k * time / 6.0).exp() * (TAU * k * hertz * time).sin() / k).sum();
        #[expect(clippy::cast_possible_truncation, reason = "samples")]
        let sum = (0.08 * sum) as f32;
        *sample += sum;
    }
}

/// Adds white noise of this standard deviation.
pub(crate) fn add_noise(sound: &mut [f32], deviation: f64, seed: u64) {
    let mut dice = Dice(seed);
    for sample in sound {
        #[expect(clippy::cast_possible_truncation, reason = "samples")]
        let noise = (deviation * dice.normal()) as f32;
        *sample += noise;
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a count of frames")]
pub(crate) fn frames(count: f64) -> usize {
    count.round().max(0.0) as usize
}
