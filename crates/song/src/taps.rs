//! Tempo from a key pressed on each beat.

use sixrung_timeline::Tempo;

/// Fewer presses tell no tempo.
const LEAST: usize = 4;
/// After so long without a press, in seconds, the next one begins anew: slower than any tempo people keep to (a beat of
/// 33 a minute lasts 1.8 s, Repp 2005).
const PAUSE_S: f64 = 3.0;
/// Only the latest are used, so that the tempo follows a player who finds it.
const MOST: usize = 64;

/// Presses so far.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Taps {
    at_s: Vec<f64>,
}

/// What presses tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tapped {
    /// The tempo.
    pub tempo: Tempo,
    /// Where the first press used would lie on an even beat, on the presses' own clock, in seconds.
    pub first_s: f64,
    /// How far presses lie from an even beat, as root mean square, in milliseconds.
    pub spread_ms: f64,
    /// Presses used.
    pub presses: usize,
}

impl Taps {
    /// A press at `at_s` seconds of a clock that never goes back. One that does is left out.
    pub fn press(&mut self, at_s: f64) {
        if !at_s.is_finite() {
            return;
        }
        if let Some(last) = self.at_s.last() {
            if at_s <= *last {
                return;
            }
            if at_s - last > PAUSE_S {
                self.at_s.clear();
            }
        }
        if self.at_s.len() == MOST {
            self.at_s.remove(0);
        }
        self.at_s.push(at_s);
    }

    /// How many presses count.
    #[must_use]
    pub fn count(&self) -> usize {
        self.at_s.len()
    }

    /// The tempo; `None` before the fourth press, and where the presses are no tempo a lesson can have.
    ///
    /// Beats are numbered by the median interval, so that a beat left out does no harm; then a straight line is fitted
    /// through number and time by least squares.
    #[must_use]
    pub fn tapped(&self) -> Option<Tapped> {
        if self.at_s.len() < LEAST {
            return None;
        }
        let mut intervals: Vec<f64> = self.at_s.windows(2).map(|pair| pair[1] - pair[0]).collect();
        intervals.sort_by(f64::total_cmp);
        let median = intervals[intervals.len() / 2];
        let mut number = 0.0;
        let mut numbered = vec![(0.0, self.at_s[0])];
        for pair in self.at_s.windows(2) {
            number += ((pair[1] - pair[0]) / median).round().max(1.0);
            numbered.push((number, pair[1]));
        }
        let (first_s, step) = line(&numbered);
        let squares: f64 = numbered.iter().map(|(number, at_s)| (at_s - first_s - step * number).powi(2)).sum();
        #[expect(clippy::cast_precision_loss, reason = "at most 64")]
        let spread_ms = 1000.0 * (squares / numbered.len() as f64).sqrt();
        let tempo = Tempo::from_bpm(60.0 / step)?;
        Some(Tapped { tempo, first_s, spread_ms, presses: numbered.len() })
    }
}

/// Intercept and slope of the least-squares line; the points have at least two places.
#[expect(clippy::cast_precision_loss, reason = "few points")]
fn line(points: &[(f64, f64)]) -> (f64, f64) {
    let count = points.len() as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| points.iter().map(of).sum::<f64>() / count;
    let (x, y) = (mean(|point| point.0), mean(|point| point.1));
    let (mut up, mut along) = (0.0, 0.0);
    for point in points {
        up += (point.0 - x) * (point.1 - y);
        along += (point.0 - x).powi(2);
    }
    let slope = up / along.max(f64::MIN_POSITIVE);
    (y - slope * x, slope)
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::{Taps, line};

    fn taps(at_s: impl IntoIterator<Item = f64>) -> Taps {
        let mut taps = Taps::default();
        at_s.into_iter().for_each(|at_s| taps.press(at_s));
        taps
    }

    #[test]
    fn an_even_beat_is_told_exactly_and_a_shaky_one_nearly() {
        let even = taps((0..8).map(|beat| 100.0 + 0.48 * f64::from(beat))).tapped().expect("eight presses");
        assert_abs_diff_eq!(even.tempo.bpm(), 125.0, epsilon = 0.001);
        assert_abs_diff_eq!(even.first_s, 100.0, epsilon = 1e-9);
        // Presses ±20 ms off in turn: a beat of sixteen still tells the tempo to within half a beat a minute.
        let shaky = (0..16).map(|beat| 0.5 * f64::from(beat) + if beat % 2 == 0 { 0.02 } else { -0.02 });
        let shaky = taps(shaky).tapped().expect("sixteen presses");
        assert_abs_diff_eq!(shaky.tempo.bpm(), 120.0, epsilon = 0.5);
        assert_abs_diff_eq!(shaky.spread_ms, 20.0, epsilon = 1.0);
    }

    #[test]
    fn a_beat_left_out_does_no_harm_and_a_pause_begins_anew() {
        let left_out = taps([0.0, 0.5, 1.0, 2.0, 2.5, 3.5]).tapped().expect("six presses");
        assert_abs_diff_eq!(left_out.tempo.bpm(), 120.0, epsilon = 0.001);
        let anew = taps([0.0, 0.3, 0.6, 0.9, 10.0, 10.6, 11.2]);
        assert_eq!((anew.count(), anew.tapped()), (3, None));
        assert_eq!(taps([1.0, 0.5, f64::NAN, 2.0]).count(), 2);
    }

    #[test]
    fn what_no_lesson_can_have_is_no_tempo() {
        assert_eq!(taps((0..9).map(|beat| 0.001 * f64::from(beat))).tapped(), None);
    }

    #[test]
    fn the_line_goes_through_points_on_a_line() {
        let (at, slope) = line(&[(0.0, 1.0), (1.0, 3.0), (4.0, 9.0)]);
        assert_abs_diff_eq!(at, 1.0, epsilon = 1e-12);
        assert_abs_diff_eq!(slope, 2.0, epsilon = 1e-12);
    }
}
