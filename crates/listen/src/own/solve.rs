//! Least squares for a filter: the symmetric Toeplitz equations of Wiener and Hopf, by Levinson's recursion.

/// Solves R·h = b, where R[i][j] = `auto`[|i − j|], in steps that grow with the square of the length (Levinson 1947;
/// Golub & Van Loan, Matrix Computations, algorithm 4.7.2). Stops where R is no longer positive definite, leaving the
/// taps beyond at zero.
pub(crate) fn levinson(auto: &[f64], cross: &[f64]) -> Vec<f64> {
    let count = cross.len();
    let mut taps = vec![0.0; count];
    if count == 0 || auto.len() < count || auto[0] <= 0.0 {
        return taps;
    }
    // The predictor of `order` poles, nearest past first; its error power.
    let mut predictor = vec![0.0; count];
    let mut mirror = vec![0.0; count];
    let mut power = auto[0];
    taps[0] = cross[0] / power;
    for order in 1..count {
        let past = &auto[1..=order];
        let explained = backwards(&predictor[..order - 1], &past[..order - 1]);
        let reflection = (auto[order] - explained) / power;
        mirror[..order - 1].copy_from_slice(&predictor[..order - 1]);
        for (tap, other) in predictor[..order - 1].iter_mut().zip(mirror[..order - 1].iter().rev()) {
            *tap -= reflection * other;
        }
        predictor[order - 1] = reflection;
        power *= 1.0 - reflection * reflection;
        if power <= 0.0 || !power.is_finite() {
            break;
        }
        let missing = (cross[order] - backwards(&taps[..order], past)) / power;
        for (tap, other) in taps[..order].iter_mut().zip(predictor[..order].iter().rev()) {
            *tap -= missing * other;
        }
        taps[order] = missing;
    }
    taps
}

/// Σ aᵢ·b₍ₙ₋₁₋ᵢ₎.
fn backwards(a: &[f64], b: &[f64]) -> f64 {
    const LANES: usize = 4;
    let mut lanes = [0.0; LANES];
    let (whole, rest) = a.split_at(a.len() - a.len() % LANES);
    let (rest_b, whole_b) = b.split_at(b.len() - whole.len());
    for (x, y) in whole.chunks_exact(LANES).zip(whole_b.rchunks_exact(LANES)) {
        for lane in 0..LANES {
            lanes[lane] += x[lane] * y[LANES - 1 - lane];
        }
    }
    lanes.iter().sum::<f64>() + rest.iter().zip(rest_b.iter().rev()).map(|(x, y)| x * y).sum::<f64>()
}

#[cfg(test)]
mod tests {
    use super::levinson;

    fn check(auto: &[f64], taps: &[f64]) {
        let at = |row: usize, column: usize| auto[row.abs_diff(column)];
        let cross: Vec<f64> =
            (0..taps.len()).map(|row| (0..taps.len()).map(|at_| at(row, at_) * taps[at_]).sum()).collect();
        for (found, tap) in levinson(auto, &cross).iter().zip(taps) {
            assert!((found - tap).abs() < 1e-9, "{found} is not {tap} of {taps:?}");
        }
    }

    #[test]
    fn the_taps_that_made_the_right_hand_side_are_found() {
        check(&[2.0], &[3.0]);
        check(&[1.0, 0.5], &[1.0, -2.0]);
        check(&[4.0, 1.0, 0.5, -0.3], &[0.2, 0.0, -1.0, 5.0]);
        check(&[1.0, 0.9, 0.81, 0.729, 0.6561, 0.590_49, 0.531_441], &[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0]);
        let auto: Vec<f64> = (0..40).map(|lag| 0.95_f64.powi(lag) * (0.7 * f64::from(lag)).cos()).collect();
        check(&auto, &(0..40).map(|tap| f64::from(tap % 7) - 3.0).collect::<Vec<_>>());
    }

    #[test]
    fn what_cannot_be_solved_is_silence() {
        assert_eq!(levinson(&[0.0, 0.0], &[1.0, 1.0]), [0.0, 0.0]);
        assert!(levinson(&[], &[]).is_empty());
    }
}
