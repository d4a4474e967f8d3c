//! How high the sound rises between its samples.
//!
//! The interpolator of ITU-R BS.1770, annex 2: four points a sample, twelve taps each (coefficients from memory; tests
//! hold what comes of them against another meter). Quiet stretches are not interpolated at all: where none of the
//! twelve samples passes the ceiling over the interpolator's largest gain, nothing between them can.

use std::array;

/// Samples each point is made of.
pub(crate) const TAPS: usize = 12;
/// Frames kept: the taps, rounded up to a power of two.
const RING: usize = 16;
/// The points at a quarter and at a half of a sample; the other two are these two backwards.
const PHASES: [[f32; TAPS]; 2] = [
    [
        0.001_708_984_4,
        0.010_986_328,
        -0.019_653_32,
        0.033_203_125,
        -0.059_448_242,
        0.137_329_1,
        0.972_167_97,
        -0.102_294_92,
        0.047_607_422,
        -0.026_611_328,
        0.014_892_578,
        -0.008_300_781,
    ],
    [
        -0.029_174_805,
        0.029_296_875,
        -0.051_757_813,
        0.089_111_33,
        -0.166_503_9,
        0.465_087_9,
        0.779_785_16,
        -0.200_317_38,
        0.101_562_5,
        -0.058_227_54,
        0.033_081_055,
        -0.018_920_898,
    ],
];
/// No point rises above so many times the largest of its samples: the sum of a phase's taps, signs aside.
const LARGEST_GAIN: f32 = 2.03;

/// Follows a stereo sound.
pub(crate) struct TruePeak {
    /// The last frames, in a ring.
    recent: [[f32; 2]; RING],
    /// Where the latest of them lies.
    at: usize,
    /// Samples this loud or louder are worth a look.
    loud: f32,
    /// Frames for which one of them is among the recent.
    look: usize,
}

impl TruePeak {
    /// Frames by which [`Self::next`] lags: the middle of the interpolator.
    pub(crate) const LAG: usize = TAPS / 2;

    /// A follower of silence that need not find what stays below `ceiling`.
    pub(crate) fn new(ceiling: f32) -> Self {
        Self { recent: [[0.0; 2]; RING], at: 0, loud: ceiling / LARGEST_GAIN, look: 0 }
    }

    /// Takes the next frame. Gives the frame of [`Self::LAG`] frames ago and the peak around it, from a sample before
    /// to a sample after; 0 where it is surely below the ceiling.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    #[inline]
    pub(crate) fn next(&mut self, frame: [f32; 2]) -> ([f32; 2], f32) {
        let middle = self.pass(frame);
        self.look = if self.is_loud(frame) { TAPS } else { self.look.saturating_sub(1) };
        if self.look == 0 {
            return (middle, 0.0);
        }
        let before = |frames: usize| self.recent[(self.at + RING - frames) % RING];
        let side = |side: usize| array::from_fn(|tap| before(TAPS - 1 - tap)[side]);
        (middle, highest(&side(0)).max(highest(&side(1))))
    }

    /// Whether there is nothing to look at in `frames`, nor in what came before.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn may_pass(&self, frames: &[[f32; 2]]) -> bool {
        self.look == 0 && !frames.iter().fold(false, |found, frame| found | self.is_loud(*frame))
    }

    /// Takes a frame that need not be looked at and gives the frame of [`Self::LAG`] frames ago.
    ///
    /// # Real-time
    /// Moves numbers.
    #[inline]
    pub(crate) fn pass(&mut self, frame: [f32; 2]) -> [f32; 2] {
        self.at = (self.at + 1) % RING;
        self.recent[self.at] = frame;
        self.recent[(self.at + RING - Self::LAG) % RING]
    }

    /// # Real-time
    /// Arithmetic only.
    #[inline]
    fn is_loud(&self, frame: [f32; 2]) -> bool {
        (frame[0].abs() >= self.loud) | (frame[1].abs() >= self.loud)
    }
}

/// The highest of the samples in the middle and the four points around them, signs aside.
///
/// # Real-time
/// Arithmetic on fixed arrays.
fn highest(recent: &[f32; TAPS]) -> f32 {
    let mut points = [0.0_f32; 4];
    for (tap, sample) in recent.iter().enumerate() {
        for (phase, taps) in PHASES.iter().enumerate() {
            points[phase] += taps[tap] * sample;
            points[3 - phase] += taps[TAPS - 1 - tap] * sample;
        }
    }
    let samples = [recent[TAPS / 2 - 1].abs(), recent[TAPS / 2].abs()];
    points.into_iter().map(f32::abs).chain(samples).fold(0.0, f32::max)
}

#[cfg(test)]
mod tests {
    use std::f64::consts::TAU;

    use super::{LARGEST_GAIN, PHASES, TAPS, TruePeak};

    #[test]
    fn the_interpolator_keeps_a_constant_and_its_largest_gain_is_right() {
        for taps in PHASES {
            let sum: f32 = taps.iter().sum();
            assert!((sum - 1.0).abs() < 0.03, "{sum}");
            let most: f32 = taps.iter().map(|tap| tap.abs()).sum();
            assert!(most <= LARGEST_GAIN, "{most}");
        }
    }

    /// A sine at a quarter of the rate, sampled 45° off its peaks, is 3.01 dB higher between its samples.
    #[test]
    fn a_peak_between_samples_is_found() {
        let mut meter = TruePeak::new(0.1);
        let sine = |index: u32| (TAU * (f64::from(index) / 4.0 + 0.125)).sin();
        #[expect(clippy::cast_possible_truncation, reason = "samples")]
        let found = (0..200).map(|index| meter.next([0.5 * sine(index) as f32, 0.0]).1).skip(TAPS).fold(0.0, f32::max);
        let db = 20.0 * (found / 0.5).log10();
        assert!(db.abs() < 0.3, "{db} dB from the sine's own amplitude");
    }

    #[test]
    fn what_is_too_quiet_to_matter_is_not_looked_at_and_passes_late_by_the_lag() {
        let mut meter = TruePeak::new(1.0);
        for index in 0_u8..40 {
            let level = 0.01 * f32::from(index);
            let (middle, peak) = meter.next([level, -level]);
            let lag = u8::try_from(TruePeak::LAG).expect("six");
            let before = 0.01 * f32::from(index.saturating_sub(lag));
            assert_eq!((middle, peak), ([before, if index < lag { 0.0 } else { -before }], 0.0), "{index}");
        }
    }
}
