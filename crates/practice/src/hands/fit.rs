//! The weights fitted to one learner's own times.

use super::features::{Features, WEIGHTS, Weights};

/// A time that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OwnTime {
    /// Seconds a change takes, from the last old stroke to the first clean new one: one change, or a median of some.
    pub seconds: f64,
    /// How many changes it stands for.
    pub changes: u32,
}

/// What a learner's hand needs for a change: `base_s` + `unit_s` × cost.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HandModel {
    /// What each part of a change costs.
    pub weights: Weights,
    /// Seconds any change takes.
    pub base_s: f64,
    /// Seconds a unit of cost takes.
    pub unit_s: f64,
}

impl HandModel {
    /// Where every learner starts. The seconds are a design choice of ours: they bring a change between two open
    /// chords to about a second, and the learner's own times soon take their place.
    pub const PRIOR: Self = Self { weights: Weights::PROPOSAL, base_s: 0.2, unit_s: 0.2 };

    /// Seconds a change is thought to take.
    #[must_use]
    pub fn seconds(&self, features: &Features) -> f64 {
        self.base_s + self.unit_s * self.weights.cost(features)
    }

    /// Fits a learner's times: all of them, each time anew, from where every learner starts.
    ///
    /// Twice least squares that are held towards a prior (ridge) and kept from falling below zero: first only how
    /// fast the hand is, for which few times are enough, then each weight apart, held towards the prior's at that
    /// speed. Without times it is the prior; with many it is the learner. Times that are not positive numbers, or
    /// stand for no change, are left out.
    #[must_use]
    pub fn fitted(prior: &Self, times: &[(Features, OwnTime)]) -> Self {
        let usable = |own: &OwnTime| own.seconds.is_finite() && own.seconds > 0.0 && own.changes > 0;
        let times: Vec<&(Features, OwnTime)> = times.iter().filter(|(_, own)| usable(own)).collect();
        if times.is_empty() {
            return *prior;
        }
        let paces = times.iter().map(|(features, own)| Row { x: [1.0, prior.weights.cost(features)], own: *own });
        let pace = Held { prior: [prior.base_s, prior.unit_s], spread: [BASE_SPREAD_S, prior.unit_s] };
        let [base_s, unit_s] = pace.fit(&paces.collect::<Vec<_>>());
        let unit_s = unit_s.max(SHORTEST_UNIT_S);

        let weights = prior.weights.values();
        let parts = times.iter().map(|(features, own)| Row { x: with_base(1.0, features.values()), own: *own });
        let held = Held {
            prior: with_base(base_s, weights.map(|weight| weight * unit_s)),
            spread: with_base(BASE_SPREAD_S, weights.map(|weight| WEIGHT_SPREAD * unit_s * weight.max(LEAST_WEIGHT))),
        };
        let [base_s, parts @ ..] = held.fit(&parts.collect::<Vec<_>>());
        Self { weights: Weights::from_values(parts.map(|part| part / unit_s)), base_s, unit_s }
    }
}

impl Default for HandModel {
    fn default() -> Self {
        Self::PRIOR
    }
}

/// How much one change's time strays, in seconds; how far a learner's base and weights may lie from the prior's. All
/// design choices of ours: only their ratios count, and they say after how many changes the learner outweighs us.
const NOISE_S: f64 = 0.3;
const BASE_SPREAD_S: f64 = 0.3;
const WEIGHT_SPREAD: f64 = 0.5;
/// A weight of nothing in the prior can still grow, as if it were this much.
const LEAST_WEIGHT: f64 = 0.5;
/// A unit must take some time, for weights to be told from it.
const SHORTEST_UNIT_S: f64 = 0.02;

fn with_base(base: f64, parts: [f64; WEIGHTS]) -> [f64; WEIGHTS + 1] {
    let mut all = [base; WEIGHTS + 1];
    all[1..].copy_from_slice(&parts);
    all
}

struct Row<const N: usize> {
    x: [f64; N],
    own: OwnTime,
}

/// A prior and how far from it each value may lie.
struct Held<const N: usize> {
    prior: [f64; N],
    spread: [f64; N],
}

impl<const N: usize> Held<N> {
    /// Least squares towards the prior, no value below zero. One value after another is put where it is best, which
    /// ends at the one best point, since the sum of squares is strictly convex.
    fn fit(&self, rows: &[Row<N>]) -> [f64; N] {
        const SWEEPS: usize = 500;
        let mut square = [[0.0; N]; N];
        let mut right = [0.0; N];
        for (j, (prior, spread)) in self.prior.iter().zip(self.spread).enumerate() {
            let strength = (NOISE_S / spread).powi(2);
            square[j][j] = strength;
            right[j] = strength * prior;
        }
        for Row { x, own } in rows {
            for j in 0..N {
                right[j] += f64::from(own.changes) * x[j] * own.seconds;
                for k in 0..N {
                    square[j][k] += f64::from(own.changes) * x[j] * x[k];
                }
            }
        }
        let mut values = self.prior;
        for _ in 0..SWEEPS {
            for j in 0..N {
                let others: f64 = (0..N).filter(|k| *k != j).map(|k| square[j][k] * values[k]).sum();
                values[j] = ((right[j] - others) / square[j][j]).max(0.0);
            }
        }
        values
    }
}
