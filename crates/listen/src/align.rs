//! Which of the things heard is which of the things expected.

use std::ops::Range;

/// One thing expected and how far before and after it may be found, in the unit of its time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// When it is expected.
    pub at: f64,
    /// How much earlier it may be found.
    pub before: f64,
    /// How much later.
    pub after: f64,
}

impl Reach {
    /// As far to either side.
    #[must_use]
    pub const fn even(at: f64, half_width: f64) -> Self {
        Self { at, before: half_width, after: half_width }
    }

    fn takes(self, heard: f64) -> bool {
        (self.at - self.before..=self.at + self.after).contains(&heard)
    }

    /// Everything heard from the first that is not too early to the last that is not too late.
    fn columns(self, heard: &[f64]) -> Range<usize> {
        let start = heard.partition_point(|time| *time < self.at - self.before);
        start..heard.partition_point(|time| *time <= self.at + self.after).max(start)
    }
}

/// What a set of pairs is worth: more pairs first, then less distance.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
struct Worth {
    pairs: u32,
    nearness: f64,
}

/// The best one-to-one matching of two rising rows: as many pairs as can be, and among those the least sum of
/// distances. Gives for each expected thing the index of the one heard.
///
/// Both rows are in order, so the best pairs never cross (exchange argument on the line) and dynamic programming over
/// prefixes finds them, as in sequence alignment (Needleman & Wunsch 1970). Stretches that share nothing heard are
/// matched by themselves: the effort grows with the length of the rows, not with its square.
#[must_use]
pub fn align(expected: &[Reach], heard: &[f64]) -> Vec<Option<usize>> {
    let mut found = Vec::with_capacity(expected.len());
    while found.len() < expected.len() {
        let rest = &expected[found.len()..];
        let (length, columns) = stretch(rest, heard);
        let pairs = align_stretch(&rest[..length], &heard[columns.clone()]);
        found.extend(pairs.into_iter().map(|pair| pair.map(|index| index + columns.start)));
    }
    found
}

/// How many of the first things expected hang together by what they may take, and what that is.
fn stretch(expected: &[Reach], heard: &[f64]) -> (usize, Range<usize>) {
    let mut columns = expected[0].columns(heard);
    let mut length = 1;
    for reach in &expected[1..] {
        let next = reach.columns(heard);
        if next.start >= columns.end {
            break;
        }
        columns = columns.start.min(next.start)..columns.end.max(next.end);
        length += 1;
    }
    (length, columns)
}

fn align_stretch(expected: &[Reach], heard: &[f64]) -> Vec<Option<usize>> {
    let width = heard.len() + 1;
    let mut best = vec![Worth { pairs: 0, nearness: 0.0 }; (expected.len() + 1) * width];
    for (row, reach) in expected.iter().enumerate() {
        for (column, time) in heard.iter().enumerate() {
            let (above, left) = (best[row * width + column + 1], best[(row + 1) * width + column]);
            let unpaired = if left > above { left } else { above };
            let paired = paired(best[row * width + column], *reach, *time);
            best[(row + 1) * width + column + 1] = paired.filter(|paired| *paired > unpaired).unwrap_or(unpaired);
        }
    }
    trace(&best, expected.len(), heard.len())
}

fn paired(before: Worth, reach: Reach, heard: f64) -> Option<Worth> {
    reach.takes(heard).then(|| Worth { pairs: before.pairs + 1, nearness: before.nearness - (heard - reach.at).abs() })
}

fn trace(best: &[Worth], rows: usize, columns: usize) -> Vec<Option<usize>> {
    let width = columns + 1;
    let mut found = vec![None; rows];
    let (mut row, mut column) = (rows, columns);
    while row > 0 && column > 0 {
        let here = best[row * width + column];
        if here == best[(row - 1) * width + column] {
            row -= 1;
        } else if here == best[row * width + column - 1] {
            column -= 1;
        } else {
            (row, column) = (row - 1, column - 1);
            found[row] = Some(column);
        }
    }
    found
}
