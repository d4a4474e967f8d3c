//! The window through which sound is looked at.

/// A Hann window of so many samples, highest 1, without zeros at its ends (Harris 1978, Proc. IEEE 66).
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a few thousand samples")]
pub(crate) fn hann(length: usize) -> Vec<f32> {
    let turn = |index: usize| std::f64::consts::TAU * (index as f64 + 0.5) / length as f64;
    (0..length).map(|index| (0.5 - 0.5 * turn(index).cos()) as f32).collect()
}

#[cfg(test)]
mod tests {
    use super::hann;

    #[test]
    fn it_is_even_and_averages_one_half() {
        let window = hann(64);
        assert!(window.iter().zip(window.iter().rev()).all(|(one, other)| (one - other).abs() < 1e-6));
        assert!((window.iter().sum::<f32>() / 64.0 - 0.5).abs() < 1e-6);
    }
}
