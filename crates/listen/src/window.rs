//! How far off a stroke may be. All of this is a design choice of ours, not evidence: see each constant.

use sixrung_lesson::{Criterion, Level};

/// A window reaches at most this share of the shorter slot beside a stroke, so that windows never meet.
pub const LARGEST_SHARE_OF_SLOT: f64 = 0.40;
/// One fault in so many strokes is allowed: at a spread of 25 ms and a window of 50, all 16 of 16 would be in time
/// only 48 times in 100, 15 of 16 are 84 times (binomial arithmetic).
const STROKES_A_FAULT: usize = 16;
/// From so many strokes on, one fault is always allowed.
const STROKES_FOR_ONE_FAULT: usize = 8;
/// One strum too many in so many expected strokes is allowed.
const STROKES_AN_EXTRA: usize = 32;

/// Half width of the window, in seconds: 80, 60 or 40 ms by level, less where slots are short.
#[must_use]
pub fn window_s(level: Level, slot_s: f64) -> f64 {
    let widest = match level {
        Level::Beginner => 0.080,
        Level::Improver => 0.060,
        Level::Advanced => 0.040,
    };
    (LARGEST_SHARE_OF_SLOT * slot_s).min(widest)
}

/// How much of the player's own bias is taken out, in seconds. Untrained players lead a beat by 20 to 80 ms, trained
/// ones by 0 to 30 (negative mean asynchrony; Repp 2005; Repp & Doggett 2007): bias is normal, spread is the skill.
#[must_use]
pub fn bias_limit_s(level: Level) -> f64 {
    match level {
        Level::Beginner => 0.050,
        Level::Improver => 0.030,
        Level::Advanced => 0.020,
    }
}

/// Faults a clean pass of `strokes` strokes may hold.
#[must_use]
pub fn allowed_faults(criterion: &Criterion, strokes: usize) -> u32 {
    let usual = (strokes / STROKES_A_FAULT).max(usize::from(strokes >= STROKES_FOR_ONE_FAULT));
    criterion.allowed_faults.map_or(u32::try_from(usual).unwrap_or(u32::MAX), u32::from)
}

/// Strums that were not asked for, that a clean pass of `strokes` strokes may hold.
#[must_use]
pub fn allowed_extras(strokes: usize) -> usize {
    strokes / STROKES_AN_EXTRA
}
