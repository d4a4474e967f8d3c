//! One sudden sound: whether it is a stroke on stopped strings, by how it begins, what it is made of and how it dies.
//!
//! Limits in decibels and seconds hold 1,280 strokes the takes' maker deadened (seeds 0 to 39, four guitars, quiet and in
//! rooms, RT60 0.25–0.5 s) and our own chucks; "of these" below are those. Speech is espeak-ng's.

use super::levels::{Levels, TICK_S, ticks};
use crate::onset::decibels;

/// What was before it, in ticks before its first.
const BEFORE: (u64, u64) = (ticks(0.050), ticks(0.010));
/// Its loudest 10 ms come this soon: the sweep of a stroke (85 ms at most, as for any strum) and its attack.
const LOUDEST: u64 = ticks(0.120);
/// What is left of it: later than a slow sweep over strings that ring for 50 ms, sooner than the next may come.
const AFTER: (u64, u64) = (ticks(0.170), ticks(0.220));
/// So many ticks after its first it is known.
pub(super) const KNOWN_AFTER: u64 = AFTER.1;
/// A tick that begins something is so much louder than what was before, and no more than so much fainter than what is
/// taken for a stroke at its loudest: the first string of a sweep is softer than all of them.
const BEGINS_DB: f32 = 10.0;
const FIRST_STRING_DB: f32 = 12.0;
/// At its loudest a stroke stands so far over what was before: of these all by 18, 99 in 100 by 30.
const RISES_DB: f32 = 15.0;
/// And it has fallen by so much when it is over: of these 99 in 100 by 17, our own chucks by 43. Our own strums, which
/// ring, fall by 6.
const DIES_DB: f32 = 14.0;
/// Fainter than this, re full scale, nothing is taken for a stroke.
const FAINTEST_DB: f32 = -60.0;
/// It is within 10 dB of its loudest for so many ticks: of these 5 to 25. Our click of wood is for 3, a short spoken
/// vowel for 30.
const LASTS: std::ops::RangeInclusive<usize> = 4..=28;
/// How much of it lies low, against all of it: of these −4 to −1, our clicks −12 to −24. And high: of these −13 to −8; a
/// foot on the floor has next to nothing there.
const LEAST_LOW_DB: f32 = -8.0;
const LEAST_HIGH_DB: f32 = -25.0;
/// Six stopped strings share no period, one string or a voice has one. How nearly the first 80 ms repeat themselves: 99 in
/// 100 of these by 0.63 at most, spoken syllables by 0.7 to 0.95.
const VOICE_S: f64 = 0.080;
const MOST_LIKE_A_VOICE: f32 = 0.68;

/// A stroke on stopped strings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Burst {
    /// Its first tick.
    pub(super) at: u64,
    /// Power of its loudest 10 ms, in decibels re full scale.
    pub(super) peak_db: f32,
}

impl Burst {
    /// The stroke that begins at this tick, where one does. Known [`KNOWN_AFTER`] it.
    pub(super) fn at(levels: &Levels, at: u64) -> Option<Self> {
        let first_db = decibels(levels.tick(at).all);
        let before_db = decibels(levels.mean(at.saturating_sub(BEFORE.0), at.saturating_sub(BEFORE.1)).all);
        if first_db < FAINTEST_DB - FIRST_STRING_DB || first_db - before_db < BEGINS_DB {
            return None;
        }
        let peak = (at..at + LOUDEST).map(|tick| power(levels, tick)).fold(0.0, f32::max);
        let peak_db = decibels(peak);
        let after_db = decibels(levels.mean(at + AFTER.0, at + AFTER.1).all);
        if peak_db < FAINTEST_DB || peak_db - before_db < RISES_DB || peak_db - after_db < DIES_DB {
            return None;
        }
        let lasts = (at..at + KNOWN_AFTER).filter(|tick| power(levels, *tick) > 0.1 * peak).count();
        let whole = levels.mean(at, at + LOUDEST);
        let part_db = |part: f32| decibels(part) - decibels(whole.all);
        let is_strings = LASTS.contains(&lasts)
            && part_db(whole.low) >= LEAST_LOW_DB
            && part_db(whole.high) >= LEAST_HIGH_DB
            && levels.periodicity(at, VOICE_S) <= MOST_LIKE_A_VOICE;
        is_strings.then_some(Self { at, peak_db })
    }
}

/// Power of 10 ms.
pub(super) fn power(levels: &Levels, tick: u64) -> f32 {
    levels.mean(tick, tick + 2).all
}

// What a voice is told by is still remembered when a stroke is known, at any rate.
const _: () = assert!(VOICE_S + 0.0125 < KNOWN_AFTER as f64 * TICK_S);
