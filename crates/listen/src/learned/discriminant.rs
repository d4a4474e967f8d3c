//! A line between two classes: Fisher's linear discriminant (1936) with a covariance shrunk towards its diagonal
//! (Friedman, JASA 1989), so that a few dozen examples are enough for a hundred features.

/// Share of the correlations between features that is not believed. Of .05, .1, .2, .3, .6 the best on made takes,
/// seeds 7001 and 7002.
const SHRINKAGE: f64 = 0.2;
/// Added to each feature's own deviation, in its unit (decibels): no feature is steadier than this.
const LEAST_DEVIATION: f64 = 1.0;

/// Weights and what is added; examples of the first class lie at −1, of the second at 1, on the average.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Line {
    pub(super) weights: Vec<f64>,
    pub(super) bias: f64,
}

impl Line {
    /// The best line between examples of two classes; `None` without two of each, or when nothing tells them apart.
    pub(super) fn between(first: &[&[f64]], second: &[&[f64]]) -> Option<Self> {
        if first.len() < 2 || second.len() < 2 {
            return None;
        }
        let (one, other) = (mean(first), mean(second));
        let rows: Vec<Vec<f64>> = first.iter().map(|row| less(row, &one)).collect();
        let rows = rows.into_iter().chain(second.iter().map(|row| less(row, &other))).collect::<Vec<_>>();
        let apart = less(&other, &one);
        let weights = solve_shrunk(&rows, &apart)?;
        // Scaled so that the class means lie 2 apart.
        let distance = dot(&weights, &apart);
        if distance.is_nan() || distance <= 1e-9 {
            return None;
        }
        let weights: Vec<f64> = weights.iter().map(|weight| weight * 2.0 / distance).collect();
        let bias = -f64::midpoint(dot(&weights, &one), dot(&weights, &other));
        Some(Self { weights, bias })
    }

    /// Negative on the first class's side.
    pub(super) fn side(&self, example: &[f64]) -> f64 {
        dot(&self.weights, example) + self.bias
    }
}

#[expect(clippy::cast_precision_loss, reason = "dozens")]
pub(super) fn mean(rows: &[&[f64]]) -> Vec<f64> {
    let width = rows.first().map_or(0, |row| row.len());
    (0..width).map(|column| rows.iter().map(|row| row[column]).sum::<f64>() / rows.len() as f64).collect()
}

fn less(row: &[f64], other: &[f64]) -> Vec<f64> {
    row.iter().zip(other).map(|(value, other)| value - other).collect()
}

fn dot(one: &[f64], other: &[f64]) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

/// Covariance⁻¹ · apart, by Cholesky's decomposition of the shrunk correlations.
#[expect(clippy::cast_precision_loss, reason = "dozens")]
fn solve_shrunk(rows: &[Vec<f64>], apart: &[f64]) -> Option<Vec<f64>> {
    let width = apart.len();
    let freedom = (rows.len() - 2).max(1) as f64;
    let product = |a: usize, b: usize| rows.iter().map(|row| row[a] * row[b]).sum::<f64>() / freedom;
    let deviation: Vec<f64> = (0..width).map(|index| product(index, index).sqrt() + LEAST_DEVIATION).collect();
    let mut lower = vec![vec![0.0; width]; width];
    for row in 0..width {
        for column in 0..=row {
            let own = product(row, column) / (deviation[row] * deviation[column]);
            let shrunk = (1.0 - SHRINKAGE) * own + if row == column { SHRINKAGE } else { 0.0 };
            let rest = shrunk - dot(&lower[row][..column], &lower[column][..column]);
            lower[row][column] = if row == column { rest.max(1e-9).sqrt() } else { rest / lower[column][column] };
        }
    }
    let mut solved: Vec<f64> = apart.iter().zip(&deviation).map(|(apart, deviation)| apart / deviation).collect();
    for row in 0..width {
        solved[row] = (solved[row] - dot(&lower[row][..row], &solved[..row])) / lower[row][row];
    }
    for row in (0..width).rev() {
        let below: f64 = (row + 1..width).map(|later| lower[later][row] * solved[later]).sum();
        solved[row] = (solved[row] - below) / lower[row][row];
    }
    let weights: Vec<f64> = solved.iter().zip(&deviation).map(|(solved, deviation)| solved / deviation).collect();
    weights.iter().all(|weight| weight.is_finite()).then_some(weights)
}
