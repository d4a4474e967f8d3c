//! How long one round of a string lasts: the coarse pitch everything finer starts from.

/// A peak counts when it reaches this share of the highest one. McLeod & Wyvill 2005 give .8 to 1; .9 of it keeps a
/// string whose even partials lead from being read an octave up (synthetic and sampled strings of the tests).
const CUT_OFF: f32 = 0.9;

/// One round of what sounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Period {
    /// Rounds a second.
    pub(super) hertz: f64,
    /// How like the round after it one round is: 1 exactly alike, 0 not at all.
    pub(super) clarity: f32,
}

/// The normalised square difference function of McLeod & Wyvill, "A smarter way to find pitch" (ICMC 2005).
#[derive(Debug)]
pub(super) struct PeriodFinder {
    rate: f64,
    longest: usize,
    likeness: Vec<f32>,
}

impl PeriodFinder {
    /// Finds periods down to `lowest_hz` in sound of `rate` samples a second.
    pub(super) fn new(rate: f64, lowest_hz: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "hundreds")]
        let longest = (rate / lowest_hz).ceil() as usize + 1;
        Self { rate, longest, likeness: vec![0.0; longest + 1] }
    }

    /// The period of `sound`, which should hold two rounds of the lowest pitch at least; `None` when nothing repeats.
    pub(super) fn find(&mut self, sound: &[f32]) -> Option<Period> {
        let longest = self.longest.min(sound.len() / 2);
        self.compare(sound, longest);
        let likeness = &self.likeness[..=longest];
        // Every sound is like itself a moment later: the first hill, at no delay, does not count.
        let start = likeness.iter().position(|value| *value <= 0.0)?;
        let peaks = || {
            (start.max(1)..longest).filter(|lag| {
                likeness[*lag] > 0.0 && likeness[*lag] >= likeness[lag - 1] && likeness[*lag] > likeness[lag + 1]
            })
        };
        let highest = peaks().map(|lag| likeness[lag]).fold(0.0, f32::max);
        let lag = peaks().find(|lag| likeness[*lag] >= CUT_OFF * highest)?;
        let (shift, clarity) = vertex([likeness[lag - 1], likeness[lag], likeness[lag + 1]]);
        #[expect(clippy::cast_precision_loss, reason = "hundreds")]
        let rounds = lag as f64 + f64::from(shift);
        Some(Period { hertz: self.rate / rounds, clarity })
    }

    /// Fills `likeness` for delays of 0 to `longest` samples.
    fn compare(&mut self, sound: &[f32], longest: usize) {
        let length = sound.len();
        let mut power = 2.0 * f64::from(crate::sums::dot(sound, sound));
        for lag in 0..=longest {
            let product = crate::sums::dot(&sound[..length - lag], &sound[lag..]);
            #[expect(clippy::cast_possible_truncation, reason = "sound")]
            let whole = power as f32;
            self.likeness[lag] = if whole > 1e-9 { 2.0 * product / whole } else { 0.0 };
            power -= f64::from(sound[lag]).powi(2) + f64::from(sound[length - 1 - lag]).powi(2);
        }
    }
}

/// Where, between −½ and ½, the parabola through three points is highest, and how high.
fn vertex([before, at, after]: [f32; 3]) -> (f32, f32) {
    let curve = before - 2.0 * at + after;
    if curve.abs() < 1e-9 {
        return (0.0, at);
    }
    let shift = (0.5 * (before - after) / curve).clamp(-0.5, 0.5);
    (shift, at - 0.25 * (before - after) * shift)
}
