//! Seeded chance: the same seed gives the same take.

use std::f64::consts::TAU;

/// A stream of pseudo-random numbers: SplitMix64 (Steele, Lea and Flood, OOPSLA 2014).
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    /// A stream of its own for this seed.
    #[must_use]
    pub const fn new(seed: u64) -> Self {
        Self(seed)
    }

    /// A stream for one purpose, so that adding a draw for another purpose leaves this one as it was.
    #[must_use]
    pub fn branch(seed: u64, purpose: &str) -> Self {
        let mut dice = Self(seed);
        for byte in purpose.bytes() {
            dice = Self(dice.bits() ^ u64::from(byte));
        }
        dice
    }

    /// The next 64 bits.
    pub fn bits(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut bits = self.0;
        bits = (bits ^ (bits >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        bits = (bits ^ (bits >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        bits ^ (bits >> 31)
    }

    /// 0 (inclusive) to 1 (exclusive).
    #[expect(clippy::cast_precision_loss, reason = "53 bits fit a double exactly")]
    pub fn unit(&mut self) -> f64 {
        (self.bits() >> 11) as f64 / (1_u64 << 53) as f64
    }

    /// Even between `from` and `to`.
    pub fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.unit()
    }

    /// True with this chance.
    pub fn chance(&mut self, share: f64) -> bool {
        self.unit() < share
    }

    /// A whole number below `end`, which is at least 1.
    #[expect(clippy::cast_possible_truncation, reason = "the remainder is below a usize")]
    pub fn below(&mut self, end: usize) -> usize {
        (self.bits() % end as u64) as usize
    }

    /// One of these, or `None` of nothing.
    pub fn pick<'a, T>(&mut self, items: &'a [T]) -> Option<&'a T> {
        if items.is_empty() { None } else { items.get(self.below(items.len())) }
    }

    /// Normally distributed around 0 (Box and Muller 1958), held within ± `clip`.
    pub fn normal(&mut self, deviation: f64, clip: f64) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        (deviation * radius * (TAU * self.unit()).cos()).clamp(-clip, clip)
    }
}
