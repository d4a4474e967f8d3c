//! Values that move without a step.

/// A value that walks to its target in a straight line and lands on it exactly.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Smooth {
    value: f32,
    target: f32,
    step: f32,
    frames_left: u32,
    ramp: u32,
}

impl Smooth {
    /// At rest at `value`; later targets are reached in `ramp` frames (at least 1).
    pub(crate) fn new(value: f32, ramp: u32) -> Self {
        Self { value, target: value, step: 0.0, frames_left: 0, ramp: ramp.max(1) }
    }

    /// Sets out for `target`.
    ///
    /// # Real-time
    /// Arithmetic only.
    #[expect(clippy::cast_precision_loss, reason = "a ramp is far shorter than 2^24 frames")]
    pub(crate) fn go(&mut self, target: f32) {
        self.target = target;
        self.step = (target - self.value) / self.ramp as f32;
        self.frames_left = self.ramp;
    }

    /// The value of the next frame.
    ///
    /// # Real-time
    /// Arithmetic only.
    fn next(&mut self) -> f32 {
        if self.frames_left > 0 {
            self.frames_left -= 1;
            self.value = if self.frames_left == 0 { self.target } else { self.value + self.step };
        }
        self.value
    }

    /// Multiplies the next frames by its values.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn apply(&mut self, frames: &mut [f32]) {
        if self.rests_at(1.0) {
            return;
        }
        if self.frames_left == 0 {
            frames.iter_mut().for_each(|frame| *frame *= self.value);
        } else {
            frames.iter_mut().for_each(|frame| *frame *= self.next());
        }
    }

    /// Lets frames pass whose values nobody asks for.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn pass(&mut self, frames: usize) {
        for _ in 0..frames.min(usize::try_from(self.frames_left).unwrap_or(frames)) {
            self.next();
        }
    }

    /// Whether it rests at `value`.
    ///
    /// # Real-time
    /// Arithmetic only.
    #[expect(clippy::float_cmp, reason = "a ramp lands on its target exactly")]
    pub(crate) fn rests_at(&self, value: f32) -> bool {
        self.frames_left == 0 && self.value == value
    }
}

/// `seconds` as frames, at least 1.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to the range")]
pub(crate) fn frames(rate: u32, seconds: f64) -> u32 {
    (f64::from(rate) * seconds).round().clamp(1.0, f64::from(u32::MAX)) as u32
}

/// The factor a frame that falls by 60 dB in `t60` seconds.
#[expect(clippy::cast_possible_truncation, reason = "a factor below one")]
pub(crate) fn decay(rate: u32, t60: f64) -> f32 {
    10.0_f64.powf(-3.0 / (t60 * f64::from(rate))) as f32
}
