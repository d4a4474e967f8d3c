//! The weights bend to the learner.

use approx::assert_abs_diff_eq;
use sixrung_practice::hands::{ChangeMoves, Features, HandModel, OwnTime, Weights};

use crate::shapes::{COMMON, usual};

/// A seeded generator (Marsaglia 2003, xorshift64).
struct Dice(u64);

impl Dice {
    /// From 0 to 1.
    fn share(&mut self) -> f64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        f64::from(u32::try_from(self.0 >> 33).expect("31 bits")) / f64::from(1_u32 << 31)
    }

    /// About normal, of spread 1: twelve uniform numbers less six.
    fn normal(&mut self) -> f64 {
        (0..12).map(|_| self.share()).sum::<f64>() - 6.0
    }

    fn change(&mut self) -> Features {
        let mut grip = || {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a short list")]
            let at = (self.share() * COMMON.len() as f64) as usize;
            usual(COMMON[at].0)
        };
        ChangeMoves::between(&grip(), &grip(), 0).features()
    }

    /// Times of a hand, each of them astray by 0.2 s.
    fn times(&mut self, hand: &HandModel, count: usize) -> Vec<(Features, OwnTime)> {
        let mut time = || {
            let features = self.change();
            let seconds = (hand.seconds(&features) + 0.2 * self.normal()).max(0.05);
            (features, OwnTime { seconds, changes: 1 })
        };
        (0..count).map(|_| time()).collect()
    }
}

/// A slow hand that barres cost dearly, and that slides without trouble.
fn planted() -> HandModel {
    let weights = Weights { guide: 0.1, new_string: 0.9, placed: 0.7, lifted: 0.1, barre: 2.5, shift: 0.5 };
    HandModel { weights, base_s: 0.5, unit_s: 0.4 }
}

/// Root of the mean squared error over changes that were not fitted.
fn error_s(fitted: &HandModel, hand: &HandModel, dice: &mut Dice) -> f64 {
    let squares =
        (0..300).map(|_| dice.change()).map(|change| (fitted.seconds(&change) - hand.seconds(&change)).powi(2));
    (squares.sum::<f64>() / 300.0).sqrt()
}

#[test]
fn without_times_it_is_the_prior() {
    assert_eq!(HandModel::fitted(&HandModel::PRIOR, &[]), HandModel::PRIOR);
    let change = ChangeMoves::between(&usual("C"), &usual("F"), 0).features();
    let useless =
        [(f64::NAN, 3), (-1.0, 3), (0.0, 3), (0.8, 0)].map(|(seconds, changes)| (change, OwnTime { seconds, changes }));
    assert_eq!(HandModel::fitted(&HandModel::PRIOR, &useless), HandModel::PRIOR);
}

#[test]
fn with_many_times_it_is_the_learner() {
    let hand = planted();
    let fitted = HandModel::fitted(&HandModel::PRIOR, &Dice(11).times(&hand, 3000));
    let seconds = |model: &HandModel| {
        let Weights { guide, new_string, placed, lifted, barre, shift } = model.weights;
        [guide, new_string, placed, lifted, barre, shift].map(|weight| weight * model.unit_s)
    };
    for (found, planted) in seconds(&fitted).into_iter().zip(seconds(&hand)) {
        assert_abs_diff_eq!(found, planted, epsilon = 0.06);
    }
    assert_abs_diff_eq!(fitted.base_s, hand.base_s, epsilon = 0.06);
}

#[test]
fn the_more_times_the_smaller_the_error_on_others() {
    let hand = planted();
    let counts = [0, 5, 20, 80, 320];
    let runs = 10;
    let mut errors = [0.0; 5];
    for run in 0..runs {
        let times = Dice(100 + run).times(&hand, 320);
        for (error, count) in errors.iter_mut().zip(counts) {
            let fitted = HandModel::fitted(&HandModel::PRIOR, &times[..count]);
            *error += error_s(&fitted, &hand, &mut Dice(900 + run)) / f64::from(u32::try_from(runs).expect("few"));
        }
    }
    println!("error after {counts:?} changes: {errors:.3?} s");
    assert!(errors.windows(2).all(|pair| pair[1] < pair[0]), "{errors:?}");
    assert!(errors[4] < errors[0] / 5.0, "{errors:?}");
}

#[test]
fn a_median_of_many_counts_as_many() {
    let change = ChangeMoves::between(&usual("C"), &usual("F"), 0).features();
    let fitted = |times: &[(f64, u32)]| {
        let times: Vec<_> =
            times.iter().map(|(seconds, changes)| (change, OwnTime { seconds: *seconds, changes: *changes })).collect();
        HandModel::fitted(&HandModel::PRIOR, &times).seconds(&change)
    };
    assert_abs_diff_eq!(fitted(&[(1.7, 5)]), fitted(&[(1.7, 1); 5]), epsilon = 1e-9);
    let (prior, one, many) = (HandModel::PRIOR.seconds(&change), fitted(&[(1.7, 1)]), fitted(&[(1.7, 50)]));
    assert!(prior < one && one < many && many < 1.7 + 1e-9, "{prior} {one} {many}");
}

#[test]
fn no_weight_falls_below_zero() {
    // Times that fall as changes grow would have weights below zero.
    let mut dice = Dice(5);
    let times: Vec<(Features, OwnTime)> = (0..200)
        .map(|_| dice.change())
        .map(|change| (change, OwnTime { seconds: 3.0 - 0.4 * Weights::PROPOSAL.cost(&change).min(6.0), changes: 1 }))
        .collect();
    let fitted = HandModel::fitted(&HandModel::PRIOR, &times);
    let Weights { guide, new_string, placed, lifted, barre, shift } = fitted.weights;
    let all = [guide, new_string, placed, lifted, barre, shift, fitted.base_s, fitted.unit_s];
    assert!(all.iter().all(|value| value.is_finite() && *value >= 0.0), "{fitted:?}");
    assert!(all.contains(&0.0), "the fence was reached: {fitted:?}");
}
