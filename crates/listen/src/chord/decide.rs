//! What was heard of a span to right, wrong or unsure.

use std::sync::LazyLock;

use crate::learned::LEARNED_FEATURES;
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

/// How far the trees are believed where the player's own shapes speak too, and what those weigh: see [`by_learned`]. By
/// hand, on 607 spans of 20 players (seed 39000): 66 of 70 other chords are caught, 67 without, and none of 537 as asked
/// stays unsure, 6 without; and on pairs of seeds 61000 and 61001: of 240 other chords 239 are caught, 221 without.
const LEAST_ODDS: f32 = -6.0;
const MOST_ODDS: f32 = 4.0;
const LEARNED_WEIGHT: f32 = 2.0;
const BETTER_BY: f32 = 20.0;
const LEAST_MISFIT: f32 = 0.5;
const MOST_TIMES: f32 = 2.0;

/// Log-odds that another chord than the one asked for was played; `learned` is what speaks for that by the shape as this
/// player was heard to play it.
pub(super) fn odds(described: &[f32; CHORD_FEATURES], learned: Option<&[f32; LEARNED_FEATURES]>) -> f32 {
    if described[ASTRAY] > NO_CHORD_ASTRAY {
        return NO_CHORD;
    }
    let odds = OTHER.log_odds(described);
    learned.map_or(odds, |learned| odds.clamp(LEAST_ODDS, MOST_ODDS) + by_learned(learned))
}

/// Log-odds by the asked shape as this player was heard to play it: by how much another shape explains the span better
/// than it with a string or two softer, dead or ringing, against how badly the better of both is explained. A voice
/// makes all of it worse, and is no other chord.
fn by_learned(learned: &[f32; LEARNED_FEATURES]) -> f32 {
    let [_, better, _, asked_misfit, other_misfit] = *learned;
    let misfit = asked_misfit.min(other_misfit).max(LEAST_MISFIT);
    LEARNED_WEIGHT * (better / (BETTER_BY * misfit)).clamp(-MOST_TIMES, MOST_TIMES)
}

/// What is said at these odds.
pub(super) fn finding(odds: f32) -> ChordFinding {
    match odds {
        odds if odds >= WRONG => ChordFinding::Wrong,
        odds if odds <= RIGHT => ChordFinding::Right,
        _ => ChordFinding::Unsure,
    }
}
