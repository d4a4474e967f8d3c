//! The clean criterion applied to the truth: written a second time on purpose, so that the judge under test does not
//! mark its own work.

use sixrung_lesson::Level;

use crate::mistakes::window_s;

/// One stroke as it was asked for and played, in seconds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sounded {
    /// When it was asked for.
    pub expected_s: f64,
    /// When it was played, `None` when not at all.
    pub played_s: Option<f64>,
    /// The shorter of the slots beside it.
    pub slot_s: f64,
}

/// A pass against the criterion.
#[derive(Clone, Debug, PartialEq)]
pub struct Outcome {
    /// One entry a stroke: `early`, `late` or `missed`; `None` when it was in time.
    pub faults: Vec<Option<&'static str>>,
    /// How many faults are allowed.
    pub allowed: usize,
    /// Whether the pass is clean.
    pub clean: bool,
    /// Median of the offsets in milliseconds, `None` when nothing was played.
    pub median_ms: Option<f64>,
    /// 1.4826 × the median absolute deviation of the offsets, in milliseconds.
    pub spread_ms: Option<f64>,
}

/// Half the window of a level, and how much of a player's bias it forgives, in milliseconds. Design choices of ours.
#[must_use]
pub const fn level_ms(level: Level) -> (f64, f64) {
    match level {
        Level::Beginner => (80.0, 50.0),
        Level::Improver => (60.0, 30.0),
        Level::Advanced => (40.0, 20.0),
    }
}

/// Faults a pass of `strokes` may have: one in sixteen, and at least one from eight strokes on. A design choice of ours.
#[must_use]
pub const fn default_allowance(strokes: usize) -> usize {
    let share = strokes / 16;
    if share == 0 && strokes >= 8 { 1 } else { share }
}

/// Strokes nobody asked for that a clean pass of `strokes` may have: one in thirty-two. A design choice of ours.
#[must_use]
pub const fn extras_allowance(strokes: usize) -> usize {
    strokes / 32
}

/// Judges a pass by its truth: each stroke against its expected time plus the pass's own median offset (held within
/// the level's limit), then the faults and the extras against their allowances; a wrong chord is never allowed.
#[must_use]
pub fn judge(strokes: &[Sounded], extras: usize, wrong_chords: usize, level: Level, allowed: usize) -> Outcome {
    let (half_ms, bias_ms) = level_ms(level);
    let off_ms = |stroke: &Sounded| stroke.played_s.map(|played| (played - stroke.expected_s) * 1000.0);
    let offsets = strokes.iter().filter_map(off_ms).collect::<Vec<_>>();
    let median_ms = median(offsets.clone());
    let bias = median_ms.unwrap_or(0.0).clamp(-bias_ms, bias_ms);
    let spread_ms = median_ms.and_then(|middle| median(offsets.iter().map(|offset| (offset - middle).abs()).collect()));
    let faults: Vec<_> = strokes
        .iter()
        .map(|stroke| {
            let half = window_s(half_ms, stroke.slot_s) * 1000.0;
            match off_ms(stroke) {
                None => Some("missed"),
                Some(offset) if offset - bias < -half => Some("early"),
                Some(offset) if offset - bias > half => Some("late"),
                Some(_) => None,
            }
        })
        .collect();
    let in_time = faults.iter().flatten().count() <= allowed && extras <= extras_allowance(strokes.len());
    let clean = in_time && wrong_chords == 0;
    Outcome { faults, allowed, clean, median_ms, spread_ms: spread_ms.map(|mad| 1.4826 * mad) }
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let (low, high) = (values.get(values.len().checked_sub(1)? / 2)?, values.get(values.len() / 2)?);
    Some(f64::midpoint(*low, *high))
}

#[cfg(test)]
mod tests {
    use sixrung_lesson::Level;

    use super::{Sounded, default_allowance, judge};

    fn pass(offsets_ms: &[Option<f64>]) -> Vec<Sounded> {
        let stroke = |(index, offset): (usize, &Option<f64>)| {
            let expected_s = 0.5 * f64::from(u32::try_from(index).expect("a few"));
            Sounded { expected_s, played_s: offset.map(|ms| expected_s + ms / 1000.0), slot_s: 0.25 }
        };
        offsets_ms.iter().enumerate().map(stroke).collect()
    }

    #[test]
    fn one_fault_in_sixteen_is_allowed_and_one_from_eight_on() {
        for (strokes, allowed) in [(0, 0), (7, 0), (8, 1), (16, 1), (31, 1), (32, 2), (48, 3)] {
            assert_eq!(default_allowance(strokes), allowed, "{strokes}");
        }
    }

    #[test]
    fn a_constant_bias_is_forgiven_up_to_the_levels_limit() {
        // 50 ms for a beginner: 49 early passes, and 135 early is 85 beyond what is forgiven.
        let check = |ms: f64, level, clean| {
            assert_eq!(judge(&pass(&[Some(ms); 16]), 0, 0, level, 1).clean, clean, "{ms} {level:?}");
        };
        check(-49.0, Level::Beginner, true);
        check(-129.0, Level::Beginner, true);
        check(-135.0, Level::Beginner, false);
        check(59.0, Level::Advanced, true);
        check(61.0, Level::Advanced, false);
    }

    #[test]
    fn faults_and_extras_have_an_allowance_each() {
        let mut offsets = vec![Some(0.0); 32];
        let clean = |offsets: &[_], extras| judge(&pass(offsets), extras, 0, Level::Beginner, 2).clean;
        assert!(clean(&offsets[..31], 0));
        assert!(!clean(&offsets[..31], 1));
        assert!(clean(&offsets, 1));
        assert!(!clean(&offsets, 2));
        (offsets[3], offsets[5]) = (None, Some(101.0));
        assert!(clean(&offsets, 1));
        offsets[6] = Some(-101.0);
        assert!(!clean(&offsets, 0));
        let outcome = judge(&pass(&offsets), 0, 0, Level::Beginner, 2);
        assert_eq!(outcome.faults[3..7], [Some("missed"), None, Some("late"), Some("early")]);
    }

    #[test]
    fn one_wrong_chord_is_not_clean() {
        let clean = |wrong| judge(&pass(&[Some(0.0); 32]), 0, wrong, Level::Beginner, 2).clean;
        assert!(clean(0) && !clean(1));
    }
}
