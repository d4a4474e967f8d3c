//! Whether four strokes are a sign: even, alike and alone.

use super::burst::{Burst, KNOWN_AFTER, power};
use super::levels::{Levels, TICK_S, ticks};
use crate::onset::decibels;

/// Strokes lie no closer than this, in seconds: 200 a minute. Syllables come faster (four to five a second, common
/// knowledge of phonetics), and so do strokes of a pattern in eighths.
const SHORTEST_GAP_S: f64 = 0.3;
/// And no farther than this, in seconds: 50 a minute, slower than anybody counts in.
const LONGEST_GAP_S: f64 = 1.2;
/// Each gap lies this near the middle one, as a share of it: four times the 4 to 6 % that untrained tapping spreads, and
/// what a spread of 15 ms a stroke comes to at 190 a minute.
const EVEN: f64 = 0.20;
/// Their loudest moments lie within this, in decibels: velocities of one player's strokes spread by half of that.
const ALIKE_DB: f32 = 9.0;
/// Whatever else sounds meanwhile is so much fainter than the faintest of them, in decibels.
pub(super) const ALONE_DB: f32 = 12.0;
/// And before the first lies a rest of so many gaps: what goes on and on at an even pace, as a metronome does, is no
/// sign. More than an uneven gap, less than two.
const REST: f64 = 1.25;
/// A stroke's own sound begins so many ticks before the first that is sure to be of it.
const RISE: u64 = ticks(0.020);

/// Whether these four are one; by time.
pub(super) fn are_four(levels: &Levels, strokes: &[Burst; 4]) -> bool {
    let [first, .., last] = strokes;
    let Some(gap) = even_gap(strokes) else { return false };
    let faintest_db = strokes.iter().map(|stroke| stroke.peak_db).fold(f32::INFINITY, f32::min);
    let loudest_db = strokes.iter().map(|stroke| stroke.peak_db).fold(f32::NEG_INFINITY, f32::max);
    if loudest_db - faintest_db > ALIKE_DB {
        return false;
    }
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some hundred ticks")]
    let rest = (gap * REST) as u64;
    let is_own = |tick: u64| strokes.iter().any(|stroke| (stroke.at - RISE..stroke.at + KNOWN_AFTER).contains(&tick));
    let from = first.at.saturating_sub(rest);
    (from..last.at).filter(|tick| !is_own(*tick)).all(|tick| decibels(power(levels, tick)) < faintest_db - ALONE_DB)
}

/// The middle of the gaps between them, in ticks, where all three are like it.
#[expect(clippy::cast_precision_loss, reason = "some hundred ticks")]
fn even_gap(strokes: &[Burst; 4]) -> Option<f64> {
    let mut gaps = [0.0; 3];
    for (gap, pair) in gaps.iter_mut().zip(strokes.windows(2)) {
        *gap = pair[1].at.saturating_sub(pair[0].at) as f64;
    }
    let mut sorted = gaps;
    sorted.sort_unstable_by(f64::total_cmp);
    let middle = sorted[1];
    let fits = (SHORTEST_GAP_S..=LONGEST_GAP_S).contains(&(middle * TICK_S));
    (fits && gaps.iter().all(|gap| (gap - middle).abs() <= EVEN * middle)).then_some(middle)
}

#[cfg(test)]
mod tests {
    use super::{Burst, are_four};
    use crate::start_strokes::levels::Levels;

    const RATE: u32 = 8_000;

    /// Strokes at these times in seconds, so loud in decibels re full scale, and whatever else sounds between.
    fn check(strokes: [(f64, f32); 4], noises: &[(f64, f32)], expected: bool) {
        let mut levels = Levels::new();
        levels.begin(0.0, f64::from(RATE));
        let amplitude = |index: u32| {
            let at_s = f64::from(index) / f64::from(RATE);
            let sounds = |(from_s, db): &(f64, f32)| (*from_s..*from_s + 0.1).contains(&at_s).then_some(*db);
            strokes.iter().chain(noises).find_map(sounds).map_or(0.0, |db| 10.0_f32.powf(db / 20.0))
        };
        // Alternating samples, so that a level is its amplitude.
        let sign = |index: u32| if index.is_multiple_of(2) { 1.0 } else { -1.0 };
        for index in 0..6 * RATE {
            levels.push(sign(index) * amplitude(index));
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "ticks of 5 ms")]
        let burst = |(at_s, peak_db): (f64, f32)| Burst { at: (at_s / 0.005).round() as u64, peak_db };
        assert_eq!(are_four(&levels, &strokes.map(burst)), expected, "{strokes:?} {noises:?}");
    }

    fn every(gap_s: f64) -> [(f64, f32); 4] {
        [0.0, 1.0, 2.0, 3.0].map(|index| (1.7 + index * gap_s, -20.0))
    }

    #[test]
    fn they_are_even_within_a_fifth_and_neither_fast_nor_slow() {
        for (gap_s, expected) in [(0.25, false), (0.31, true), (0.6, true), (1.19, true), (1.3, false)] {
            check(every(gap_s), &[], expected);
        }
        let moved = |by_s: f64| {
            let mut strokes = every(0.6);
            strokes[3].0 += by_s;
            strokes
        };
        for (by_s, expected) in [(0.11, true), (-0.11, true), (0.13, false), (-0.13, false)] {
            check(moved(by_s), &[], expected);
        }
    }

    #[test]
    fn they_are_about_equally_loud() {
        for (db, expected) in [(-14.0, true), (-28.0, true), (-10.0, false), (-30.0, false)] {
            let mut strokes = every(0.6);
            strokes[1].1 = db;
            check(strokes, &[], expected);
        }
    }

    #[test]
    fn nothing_as_loud_sounds_between_them_or_shortly_before() {
        for (at_s, expected) in [(2.0, false), (3.2, false), (1.2, false), (0.7, true)] {
            check(every(0.6), &[(at_s, -25.0)], expected);
            check(every(0.6), &[(at_s, -34.0)], true);
        }
    }
}
