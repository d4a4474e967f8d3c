//! How long one change of chord takes a player, and the tempo that leaves so much time.

use sixrung_lesson::{Action, BeatUnit, Direction, Score, Slot, Tempo};

use crate::advice::changes;

/// A change is steady by the newest so many times alone: design choices of ours, as the next two.
const NEWEST: usize = 8;
/// Their spread is no more than this share of their median.
const STEADY_SPREAD: f64 = 0.15;
/// And the newer half of them is no faster than the older half by more than this share: it has stopped getting faster.
const STILL_FASTER: f64 = 0.05;

/// The times one change took, in seconds, in the order they were played. Whether to and fro are one change or two is up
/// to who collects them.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChangeTimes {
    took_s: Vec<f64>,
}

impl ChangeTimes {
    /// Takes in the next time, in seconds; one that is no time (negative, infinite or not a number) is left out.
    pub fn add(&mut self, took_s: f64) {
        if took_s.is_finite() && took_s >= 0.0 {
            self.took_s.push(took_s);
        }
    }

    /// How many there are.
    #[must_use]
    pub fn count(&self) -> usize {
        self.took_s.len()
    }

    /// The middle time in seconds; `None` of none.
    #[must_use]
    pub fn median(&self) -> Option<f64> {
        median(self.took_s.clone())
    }

    /// The median absolute deviation from the median, in seconds; `None` of none.
    #[must_use]
    pub fn spread(&self) -> Option<f64> {
        let median_s = self.median()?;
        median(self.took_s.iter().map(|took_s| (took_s - median_s).abs()).collect())
    }

    /// The newest `count` times, or all if there are fewer.
    #[must_use]
    pub fn newest(&self, count: usize) -> Self {
        self.took_s[self.count().saturating_sub(count)..].iter().copied().collect()
    }

    /// Whether the change takes the same time again and again: the newest eight lie close together (their median
    /// absolute deviation is at most 15 % of their median), and the median of the newer four is not below that of the
    /// older four by more than 5 %. A rule of ours.
    #[must_use]
    pub fn is_steady(&self) -> bool {
        let newest = self.newest(NEWEST);
        let older: Self = newest.took_s.iter().take(NEWEST / 2).copied().collect();
        let newer = newest.newest(NEWEST / 2);
        let (Some(median), Some(spread)) = (newest.median(), newest.spread()) else { return false };
        let (Some(older), Some(newer)) = (older.median(), newer.median()) else { return false };
        newest.count() == NEWEST && spread <= STEADY_SPREAD * median && newer >= (1.0 - STILL_FASTER) * older
    }

    /// The fastest tempo in whole beats a minute, as rungs are, at which `beats` last at least as long as the change
    /// takes in the median. `None` without a time, or where that is slower than any tempo; never above the fastest.
    #[must_use]
    pub fn fits(&self, beats: f64) -> Option<Tempo> {
        /// Two numbers that differ by so little are the same: the last digits of a division are nobody's.
        const ROUNDING: f64 = 1e-9;
        let fastest = f64::from(Tempo::MAX_MILLI_BPM) / 1000.0;
        let bpm = 60.0 * beats / self.median()?;
        if bpm.is_nan() { None } else { Tempo::from_bpm((bpm + ROUNDING).floor().min(fastest)) }
    }
}

impl FromIterator<f64> for ChangeTimes {
    fn from_iter<T: IntoIterator<Item = f64>>(took_s: T) -> Self {
        let mut times = Self::default();
        took_s.into_iter().for_each(|took_s| times.add(took_s));
        times
    }
}

/// How many beats lie between the last stroke of shape `from` and the first of shape `to`, where that is the least in
/// the score; indices in [`Score::shapes`]. `None` where the one never follows the other.
///
/// An up-stroke on the slot right before the change need not sound the old chord: the hand is on its way and the strings
/// may be struck open (common practice, no source). Where a stroke of the old chord comes before it, that one counts.
#[must_use]
pub fn beats_between(score: &Score, beat: BeatUnit, from: usize, to: usize) -> Option<f64> {
    let sounding: Vec<&Slot> = score.slots.iter().filter(|slot| slot.stroke.action.sounds()).collect();
    let shapes: Vec<Option<usize>> = sounding.iter().map(|slot| slot.shape).collect();
    let ticks = |first: usize| {
        let (last, next) = (sounding[first - 1], sounding[first]);
        let left_open = last.stroke.direction == Direction::Up
            && last.stroke.action == Action::Strum
            && last.at + last.length == next.at;
        let before = first.checked_sub(2).map(|before| sounding[before]).filter(|before| before.shape == Some(from));
        let last = before.filter(|_| left_open).unwrap_or(last);
        next.at.0 - last.at.0
    };
    let these = changes(&shapes, score).filter(|change| (change.from, change.into) == (Some(from), to));
    let fewest = these.map(|change| ticks(change.first)).min()?;
    Some(f64::from(fewest) / f64::from(beat.ticks().0))
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_unstable_by(f64::total_cmp);
    let middle = values.len() / 2;
    if values.len() % 2 == 1 {
        return Some(values[middle]);
    }
    let below = middle.checked_sub(1)?;
    Some(f64::midpoint(values[below], values[middle]))
}
