//! Which of the things heard is which of the things expected.

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
        heard - self.at <= self.after && self.at - heard <= self.before
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
/// prefixes finds them, as in sequence alignment (Needleman & Wunsch 1970).
#[must_use]
pub fn align(expected: &[Reach], heard: &[f64]) -> Vec<Option<usize>> {
    let width = heard.len() + 1;
    let mut best = vec![Worth { pairs: 0, nearness: 0.0 }; (expected.len() + 1) * width];
    for (row, reach) in expected.iter().enumerate() {
        for (column, time) in heard.iter().enumerate() {
            best[(row + 1) * width + column + 1] = [
                Some(best[row * width + column + 1]),
                Some(best[(row + 1) * width + column]),
                paired(&best, row, column, width, *reach, *time),
            ]
            .into_iter()
            .flatten()
            .fold(Worth { pairs: 0, nearness: f64::NEG_INFINITY }, |one, other| if other > one { other } else { one });
        }
    }
    trace(&best, expected, heard, width)
}

fn paired(best: &[Worth], row: usize, column: usize, width: usize, reach: Reach, heard: f64) -> Option<Worth> {
    let before = best[row * width + column];
    reach.takes(heard).then(|| Worth { pairs: before.pairs + 1, nearness: before.nearness - (heard - reach.at).abs() })
}

fn trace(best: &[Worth], expected: &[Reach], heard: &[f64], width: usize) -> Vec<Option<usize>> {
    let mut found = vec![None; expected.len()];
    let (mut row, mut column) = (expected.len(), heard.len());
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
