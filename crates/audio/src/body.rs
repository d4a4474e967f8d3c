//! The guitar's box: a few resonances that everything plucked excites.

use std::f64::consts::TAU;

/// Frequency in hertz and Q of the modes kept, typical of a steel-string guitar's air and top-plate resonances (common
/// practice, no one source).
const MODES: [(f64, f64); 8] = [
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
/// Left and right weights of the modes: they lean apart, so that the box is wide and the strings stay in the middle.
const LEAN: f64 = 0.25;
/// Below this the box is still.
const STILL: f32 = 1e-9;

type Modes = [f32; MODES.len()];

/// Eight resonators, each a phasor that turns and shrinks.
pub(crate) struct Body {
    re: Modes,
    im: Modes,
    turn_re: Modes,
    turn_im: Modes,
    left: Modes,
    right: Modes,
}

impl Body {
    /// A still body at `rate` frames a second.
    pub(crate) fn new(rate: u32) -> Self {
        let mut body =
            Self { re: [0.0; 8], im: [0.0; 8], turn_re: [0.0; 8], turn_im: [0.0; 8], left: [0.0; 8], right: [0.0; 8] };
        for (mode, (hertz, q)) in MODES.into_iter().enumerate() {
            let omega = TAU * hertz / f64::from(rate);
            let radius = (-omega / (2.0 * q)).exp();
            let lean = if mode % 2 == 0 { LEAN } else { -LEAN };
            // 2(1 − r) makes a resonance one at its peak.
            let level = AMOUNT * 2.0 * (1.0 - radius);
            body.turn_re[mode] = single(radius * omega.cos());
            body.turn_im[mode] = single(radius * omega.sin());
            body.left[mode] = single(level * (1.0 + lean));
            body.right[mode] = single(level * (1.0 - lean));
        }
        body
    }

    /// What the box adds on the left and right to `sample`, one frame.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn ring(&mut self, sample: f32) -> (f32, f32) {
        let (mut left, mut right) = ([0.0; 8], [0.0; 8]);
        for mode in 0..MODES.len() {
            let re = self.turn_re[mode] * self.re[mode] - self.turn_im[mode] * self.im[mode] + sample;
            let im = self.turn_im[mode] * self.re[mode] + self.turn_re[mode] * self.im[mode];
            self.re[mode] = re;
            self.im[mode] = im;
            left[mode] = im * self.left[mode];
            right[mode] = im * self.right[mode];
        }
        (sum(left), sum(right))
    }

    /// Comes to rest once it rings too faintly to matter. Called at every whole block of the clock.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn settle(&mut self) {
        if self.re.iter().chain(&self.im).all(|state| state.abs() < STILL) {
            self.silence();
        }
    }

    /// Stops it at once.
    ///
    /// # Real-time
    /// Clears fixed arrays.
    pub(crate) fn silence(&mut self) {
        self.re = [0.0; 8];
        self.im = [0.0; 8];
    }
}

/// # Real-time
/// Arithmetic only.
#[inline]
fn sum([a, b, c, d, e, f, g, h]: Modes) -> f32 {
    ((a + e) + (b + f)) + ((c + g) + (d + h))
}

#[expect(clippy::cast_possible_truncation, reason = "coefficients lie between -1 and 1")]
fn single(coefficient: f64) -> f32 {
    coefficient as f32
}
