//! Medians.

/// The middle value, or the mean of the middle two; `None` of nothing. Reorders its input.
pub(crate) fn median(values: &mut [f64]) -> Option<f64> {
    if values.is_empty() {
        return None;
    }
    values.sort_unstable_by(f64::total_cmp);
    let middle = values.len() / 2;
    Some(if values.len() % 2 == 1 { values[middle] } else { f64::midpoint(values[middle - 1], values[middle]) })
}

/// The same in single precision, the higher of the middle two.
pub(crate) fn median_f32(values: &mut [f32]) -> Option<f32> {
    values.sort_unstable_by(f32::total_cmp);
    values.get(values.len() / 2).copied()
}

/// Spread around the median as a standard deviation would be if the values were normal: 1.4826 × the median absolute
/// deviation (Hampel 1974).
pub(crate) fn spread(values: &[f64], around: f64) -> Option<f64> {
    let mut distances: Vec<f64> = values.iter().map(|value| (value - around).abs()).collect();
    median(&mut distances).map(|distance| 1.4826 * distance)
}
