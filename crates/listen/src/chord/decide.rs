//! What was heard of a span to right, wrong or unsure.

use std::sync::LazyLock;

use crate::trees::Trees;
use crate::verdict::ChordFinding;

use super::describe::{ASTRAY, CHORD_FEATURES};

static OTHER: LazyLock<Trees> = LazyLock::new(|| Trees::read(include_str!("other.txt"), CHORD_FEATURES));

/// Log-odds that another chord was played, from which on it is said, and up to which the asked one is. Chosen on seed
/// 57000, with trees grown on others: see the first line of `other.txt`.
const WRONG: f32 = 0.0;
const RIGHT: f32 = -2.5;

/// No chord leaves so much between the semitones, re what lies on them: of 300 spans on another chord the most left 0.7.
/// It is noise, and what is said of it means nothing.
const NO_CHORD_ASTRAY: f32 = 0.75;
const NO_CHORD: f32 = -1.0;

/// Log-odds that another chord than the one asked for was played.
pub(super) fn odds(described: &[f32; CHORD_FEATURES]) -> f32 {
    if described[ASTRAY] > NO_CHORD_ASTRAY { NO_CHORD } else { OTHER.log_odds(described) }
}

/// What is said at these odds.
pub(super) fn finding(odds: f32) -> ChordFinding {
    match odds {
        odds if odds >= WRONG => ChordFinding::Wrong,
        odds if odds <= RIGHT => ChordFinding::Right,
        _ => ChordFinding::Unsure,
    }
}
