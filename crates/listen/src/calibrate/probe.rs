//! What is played to measure by.

use super::sweep::{LENGTH_S, Sweep};

/// Silence before the first sound, in seconds: the room's own noise is heard in it.
const LEAD_S: f64 = 1.0;
/// What is heard of the last sound is waited for so long, in seconds: the largest lag looked for, and its end.
pub(super) const TAIL_S: f64 = crate::own::LARGEST_LAG_S + 0.2;
/// Sweeps to measure the round trip by, and from one to the next in seconds: longer than the largest lag, and never
/// the same, so that nothing else in the room keeps step with them.
const SWEEPS: u32 = 10;
const SHORTEST_APART_S: f64 = 0.66;
const APART_STEPS_S: [f64; 5] = [0.00, 0.09, 0.04, 0.13, 0.07];
/// Clicks to tap along with, and from one to the next in seconds: 100 a minute, where tapping is steadiest (common
/// practice). The first few are for finding the beat.
const CLICKS: u32 = 20;
const CLICKS_APART_S: f64 = 0.6;
pub(super) const CLICKS_TO_FIND_THE_BEAT: usize = 4;
/// The largest sample, −12 dB re full scale: as loud as the practice click at its usual volume.
const PEAK: f64 = 0.25;

/// Short sounds at known times.
#[derive(Clone, Debug, PartialEq)]
pub struct Probe {
    starts_s: Vec<f64>,
    length_s: f64,
}

impl Probe {
    /// Ten sweeps, some nine seconds: to be heard by the microphone.
    #[must_use]
    pub fn loopback() -> Self {
        let mut at_s = LEAD_S;
        let next = |index: u32| {
            let start_s = at_s;
            at_s += SHORTEST_APART_S + APART_STEPS_S[index as usize % APART_STEPS_S.len()];
            start_s
        };
        Self::at((0..SWEEPS).map(next).collect())
    }

    /// Twenty even clicks, some fourteen seconds: for the player to tap to.
    #[must_use]
    pub fn tap_along() -> Self {
        Self::at((0..CLICKS).map(|index| LEAD_S + CLICKS_APART_S * f64::from(index)).collect())
    }

    fn at(starts_s: Vec<f64>) -> Self {
        let length_s = starts_s.last().copied().unwrap_or(0.0) + LENGTH_S + TAIL_S;
        Self { starts_s, length_s }
    }

    /// When each sound begins, in seconds from the start.
    #[must_use]
    pub fn starts_s(&self) -> &[f64] {
        &self.starts_s
    }

    /// How long it takes, what comes back late included, in seconds.
    #[must_use]
    pub const fn length_s(&self) -> f64 {
        self.length_s
    }

    /// All of it as samples of one channel at `rate` frames a second.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of samples")]
    pub fn sound(&self, rate: u32) -> Vec<f32> {
        let frames = |seconds: f64| (seconds * f64::from(rate)).round() as usize;
        let mut sound = vec![0.0_f32; frames(self.length_s)];
        let sweep = Sweep::new(f64::from(rate));
        for start_s in &self.starts_s {
            for (sample, wave) in sound[frames(*start_s)..].iter_mut().zip(sweep.samples()) {
                *sample = (PEAK * wave) as f32;
            }
        }
        sound
    }
}
