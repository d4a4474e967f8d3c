//! A learner's true chance of a clean pass, reckoned rather than tried.

use sixrung_lesson::{Criterion, Tempo};
use sixrung_listen::{PassPlan, allowed_faults, bias_limit_s, window_s};

use crate::learner::{Learner, MISSED_AFTER, WRONG_SHARE, change_s};

impl Learner {
    /// The chance that a pass played now is clean.
    ///
    /// Strokes are in time with the chance that a normal offset, less the bias as far as it is forgiven, lies in its
    /// window; broken changes are faults, or lose the pass where another chord sounds; the number of faults follows by
    /// going through the strokes. Exact for the model, but for the pass's own median being a little off the bias, and
    /// for strokes so far off that they are taken for their neighbours: the tests hold it against passes judged.
    #[must_use]
    pub fn chance_of_clean(&self, piece: &str, tempo: Tempo, plan: &PassPlan, criterion: &Criterion) -> f64 {
        let errors = self.errors(piece, tempo);
        let bias_s = self.bias_ms() / 1000.0;
        let limit_s = bias_limit_s(criterion.level);
        let left_s = bias_s - bias_s.clamp(-limit_s, limit_s);
        let allowed = usize::try_from(allowed_faults(criterion, plan.strokes.len())).unwrap_or(usize::MAX);
        let mut faults = Faults::none(allowed.min(plan.strokes.len()));
        for (index, stroke) in plan.strokes.iter().enumerate() {
            let half_s = window_s(criterion.level, stroke.slot_s);
            let spread_s = errors.spread_ms(stroke.slot_s) / 1000.0;
            let in_time = normal_cdf((half_s - left_s) / spread_s) - normal_cdf((-half_s - left_s) / spread_s);
            let breaks = change_s(plan, index).map_or(0.0, |gap_s| errors.break_chance(gap_s));
            let can_miss_next = index + 1 < plan.strokes.len() && change_s(plan, index + 1).is_none();
            faults.stroke(in_time, breaks, if can_miss_next { MISSED_AFTER } else { 0.0 });
        }
        faults.sum()
    }
}

/// How likely so many faults are so far, `[0]` none: once with the next stroke as usual, once with it sure to be missed.
struct Faults {
    usual: Vec<f64>,
    missing: Vec<f64>,
}

impl Faults {
    fn none(allowed: usize) -> Self {
        let mut usual = vec![0.0; allowed + 1];
        usual[0] = 1.0;
        Self { missing: vec![0.0; allowed + 1], usual }
    }

    fn stroke(&mut self, in_time: f64, breaks: f64, misses_next: f64) {
        let fault_by_break = breaks * (1.0 - WRONG_SHARE);
        let mut one_fewer = (0.0, 0.0);
        for (usual, missing) in self.usual.iter_mut().zip(&mut self.missing) {
            let here = (*usual, *missing);
            *usual = here.0 * (1.0 - breaks) * in_time
                + one_fewer.0 * ((1.0 - breaks) * (1.0 - in_time) + fault_by_break * (1.0 - misses_next))
                + one_fewer.1;
            *missing = one_fewer.0 * fault_by_break * misses_next;
            one_fewer = here;
        }
    }

    fn sum(&self) -> f64 {
        self.usual.iter().chain(&self.missing).sum()
    }
}

/// The normal distribution, by the error function of Abramowitz & Stegun 7.1.26 (off by 1.5e-7 at most).
fn normal_cdf(z: f64) -> f64 {
    let x = z.abs() / std::f64::consts::SQRT_2;
    let t = 1.0 / (1.0 + 0.327_591_1 * x);
    let poly =
        t * (0.254_829_592 + t * (-0.284_496_736 + t * (1.421_413_741 + t * (-1.453_152_027 + t * 1.061_405_429))));
    let tail = 0.5 * poly * (-x * x).exp();
    if z < 0.0 { tail } else { 1.0 - tail }
}

#[cfg(test)]
mod tests {
    use super::normal_cdf;

    #[test]
    fn the_normal_distribution_has_its_well_known_points() {
        // Tables of the normal distribution: Φ(1.96) = .9750, Φ(−1) = .1587; erf(√2) = .9545.
        for (z, expected) in [(0.0, 0.5), (1.96, 0.9750), (-1.0, 0.1587), (2.0, 0.97725)] {
            approx::assert_abs_diff_eq!(normal_cdf(z), expected, epsilon = 5e-5);
        }
    }
}
