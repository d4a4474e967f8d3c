//! Seeded noise: the same seed, the same sound, on every machine.

/// A xorshift generator (Marsaglia 2003) of white noise between −1 and 1.
#[derive(Clone, Debug)]
pub(crate) struct Noise(u32);

impl Noise {
    /// A generator; seeds that differ give noise that differs.
    pub(crate) fn new(seed: u32) -> Self {
        // An odd multiplier spreads small seeds; zero is the one state xorshift cannot leave.
        Self(seed.wrapping_add(1).wrapping_mul(0x9E37_79B9) | 1)
    }

    /// The next sample.
    pub(crate) fn next(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 17;
        self.0 ^= self.0 << 5;
        f64::from(self.0) / f64::from(u32::MAX) * 2.0 - 1.0
    }
}
