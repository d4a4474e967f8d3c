//! How the sound of a stroke begins and lasts, by its level alone.

use crate::onset::decibels;
use crate::sound::PassSound;

/// The level of a stroke is that of its first moments, against just before it; in seconds from its first string.
const FIRST_S: (f64, f64) = (0.0, 0.06);
const BEFORE_S: (f64, f64) = (-0.03, -0.002);
/// What rings still does so here, in seconds: sooner than two strokes can follow each other.
const LATER_S: (f64, f64) = (0.12, 0.18);

/// By how much the sound rises where a stroke begins, in decibels. It falls where fingers leave the strings, though that
/// too begins suddenly.
pub(super) fn rise_db(sound: &PassSound, at_s: f64) -> f32 {
    level_db(sound, at_s, FIRST_S) - level_db(sound, at_s, BEFORE_S)
}

/// By how much a stroke has become louder since it began, in decibels; negative for one that dies away.
pub(super) fn ring_db(sound: &PassSound, at_s: f64) -> f32 {
    level_db(sound, at_s, LATER_S) - level_db(sound, at_s, FIRST_S)
}

fn level_db(sound: &PassSound, at_s: f64, (from_s, to_s): (f64, f64)) -> f32 {
    let samples = sound.between(at_s + from_s, at_s + to_s);
    #[expect(clippy::cast_precision_loss, reason = "a few hundred samples")]
    let power = samples.iter().map(|sample| sample * sample).sum::<f32>() / samples.len().max(1) as f32;
    decibels(power)
}

#[cfg(test)]
mod tests {
    use super::{ring_db, rise_db};
    use crate::sound::PassSound;

    /// A step in level at 1 s, and another at 1.1 s, in amplitude.
    fn steps(before: f32, first: f32, later: f32) -> PassSound {
        let level = |index: u16| match index {
            0..1000 => before,
            1000..1100 => first,
            _ => later,
        };
        PassSound { rate: 1000.0, starts_s: 0.0, samples: (0..2000).map(level).collect() }
    }

    #[test]
    fn levels_are_ratios_in_decibels() {
        // Twenty times the decimal logarithm of a ratio of amplitudes.
        let sound = steps(0.01, 0.1, 0.05);
        assert!((rise_db(&sound, 1.0) - 20.0).abs() < 0.01, "{}", rise_db(&sound, 1.0));
        assert!((ring_db(&sound, 1.0) + 6.02).abs() < 0.01, "{}", ring_db(&sound, 1.0));
        assert!(rise_db(&steps(0.1, 0.05, 0.05), 1.0) < -6.0);
    }
}
