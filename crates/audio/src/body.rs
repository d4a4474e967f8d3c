//! The guitar's box: a few resonances that everything plucked excites.

use std::f64::consts::TAU;

use crate::string::lanes::{LANES, Lanes};

/// Frequency in hertz and Q of the modes kept, typical of a steel-string guitar's air and top-plate resonances (common
/// practice, no one source).
const MODES: [(f64, f64); LANES] = [
    (100.0, 25.0),
    (190.0, 28.0),
    (225.0, 30.0),
    (285.0, 32.0),
    (390.0, 35.0),
    (510.0, 40.0),
    (720.0, 40.0),
    (1050.0, 45.0),
];

/// How much of the modes is heard beside the strings themselves: subtle (a design choice of ours).
const AMOUNT: f64 = 0.35;
/// The modes lean to the left and to the right in turn, so that the box is wide and the strings stay in the middle.
const LEAN: f32 = 0.25;
/// Below this the box is still.
const STILL: f32 = 1e-9;

/// Eight resonators, each a phasor that turns and shrinks.
#[derive(Clone, Copy)]
pub(crate) struct Body {
    re: Lanes,
    im: Lanes,
    turn_re: Lanes,
    turn_im: Lanes,
    level: Lanes,
}

impl Body {
    /// A still body at `rate` frames a second.
    pub(crate) fn new(rate: u32) -> Self {
        let zero = Lanes::ZERO;
        let mut body = Self { re: zero, im: zero, turn_re: zero, turn_im: zero, level: zero };
        for (mode, (hertz, q)) in MODES.into_iter().enumerate() {
            let omega = TAU * hertz / f64::from(rate);
            let radius = (-omega / (2.0 * q)).exp();
            body.turn_re[mode] = single(radius * omega.cos());
            body.turn_im[mode] = single(radius * omega.sin());
            // 2(1 − r) makes a resonance one at its peak.
            body.level[mode] = single(AMOUNT * 2.0 * (1.0 - radius));
        }
        body
    }

    /// Rings one frame on, struck by `sample`.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline(always)]
    pub(crate) fn ring(&mut self, sample: f32) {
        let Self { re, im, turn_re, turn_im, .. } = *self;
        // In this order the wait for the frame before is shortest.
        self.re = (Lanes([sample; LANES]) - turn_im * im) + turn_re * re;
        self.im = turn_im * re + turn_re * im;
    }

    /// What is heard of it on the left and on the right.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline(always)]
    pub(crate) fn heard(&self) -> [f32; 2] {
        let [one, other] = (self.im * self.level).sums_in_turn();
        [(1.0 + LEAN) * one + (1.0 - LEAN) * other, (1.0 - LEAN) * one + (1.0 + LEAN) * other]
    }

    /// Whether it is at rest.
    ///
    /// # Real-time
    /// Compares numbers.
    pub(crate) fn is_still(&self) -> bool {
        self.re == Lanes::ZERO && self.im == Lanes::ZERO
    }

    /// Comes to rest once it rings too faintly to matter. Called at every whole block of the clock.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn settle(&mut self) {
        if self.re.0.iter().chain(&self.im.0).all(|state| state.abs() < STILL) {
            self.silence();
        }
    }

    /// Stops it at once.
    ///
    /// # Real-time
    /// Clears fixed arrays.
    pub(crate) fn silence(&mut self) {
        self.re = Lanes::ZERO;
        self.im = Lanes::ZERO;
    }
}

#[expect(clippy::cast_possible_truncation, reason = "coefficients lie between -1 and 1")]
fn single(coefficient: f64) -> f32 {
    coefficient as f32
}
