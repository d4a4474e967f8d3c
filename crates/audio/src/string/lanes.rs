//! Eight numbers in step: the compiler keeps them in vector registers.
//!
//! # Real-time
//! Every operation here is arithmetic on eight numbers.

use std::array;
use std::ops::{Add, AddAssign, Index, IndexMut, Mul, MulAssign, Sub};

/// Strings side by side.
pub(crate) const LANES: usize = 8;

/// One number a string.
#[derive(Clone, Copy, Debug, PartialEq)]
#[repr(align(32))]
pub(crate) struct Lanes(pub [f32; LANES]);

impl Lanes {
    /// Zero in every lane.
    pub(crate) const ZERO: Self = Self([0.0; LANES]);

    /// # Real-time
    /// Arithmetic only.
    #[inline(always)]
    fn zip(self, other: Self, with: impl Fn(f32, f32) -> f32) -> Self {
        Self(array::from_fn(|lane| with(self.0[lane], other.0[lane])))
    }

    /// The larger of two in each lane, signs aside.
    ///
    /// # Real-time
    /// Arithmetic only.
    #[inline(always)]
    pub(crate) fn peak(self, other: Self) -> Self {
        self.zip(other, |a, b| if b.abs() > a { b.abs() } else { a })
    }

    /// The lanes with even and with odd numbers together.
    ///
    /// # Real-time
    /// Arithmetic only.
    #[inline(always)]
    pub(crate) fn sums_in_turn(self) -> [f32; 2] {
        let [a, b, c, d, e, f, g, h] = self.0;
        [(a + e) + (c + g), (b + f) + (d + h)]
    }
}

impl Add for Lanes {
    type Output = Self;
    #[inline(always)]
    fn add(self, other: Self) -> Self {
        self.zip(other, |a, b| a + b)
    }
}

impl Sub for Lanes {
    type Output = Self;
    #[inline(always)]
    fn sub(self, other: Self) -> Self {
        self.zip(other, |a, b| a - b)
    }
}

impl Mul for Lanes {
    type Output = Self;
    #[inline(always)]
    fn mul(self, other: Self) -> Self {
        self.zip(other, |a, b| a * b)
    }
}

impl AddAssign for Lanes {
    #[inline(always)]
    fn add_assign(&mut self, other: Self) {
        *self = *self + other;
    }
}

impl MulAssign for Lanes {
    #[inline(always)]
    fn mul_assign(&mut self, other: Self) {
        *self = *self * other;
    }
}

impl Index<usize> for Lanes {
    type Output = f32;
    #[inline(always)]
    fn index(&self, lane: usize) -> &f32 {
        &self.0[lane]
    }
}

impl IndexMut<usize> for Lanes {
    #[inline(always)]
    fn index_mut(&mut self, lane: usize) -> &mut f32 {
        &mut self.0[lane]
    }
}
