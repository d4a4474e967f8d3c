//! Seeded chance: the same seed gives the same month.

use std::f64::consts::TAU;

use rand::rngs::ChaCha8Rng;
use rand::{RngExt as _, SeedableRng as _};

/// A stream of pseudo-random numbers (ChaCha8).
#[derive(Debug)]
pub struct Chance(ChaCha8Rng);

impl Chance {
    /// Stream `stream` of this seed; streams of one seed have nothing in common.
    #[must_use]
    pub fn new(seed: u64, stream: u64) -> Self {
        let mut generator = ChaCha8Rng::seed_from_u64(seed);
        generator.set_stream(stream);
        Self(generator)
    }

    /// 0 (inclusive) to 1 (exclusive).
    pub fn unit(&mut self) -> f64 {
        self.0.random()
    }

    /// Even between `from` and `to`.
    pub fn between(&mut self, from: f64, to: f64) -> f64 {
        from + (to - from) * self.unit()
    }

    /// True with this probability.
    pub fn happens(&mut self, probability: f64) -> bool {
        self.unit() < probability
    }

    /// A whole number below `end`, which is at least 1.
    pub fn below(&mut self, end: usize) -> usize {
        self.0.random_range(0..end.max(1))
    }

    /// Normally distributed, mean 0, standard deviation 1 (Box and Muller 1958).
    pub fn normal(&mut self) -> f64 {
        let radius = (-2.0 * (1.0 - self.unit()).ln()).sqrt();
        radius * (TAU * self.unit()).cos()
    }
}
