//! What the learner is asked for, and when the stand names the chord that comes.

use sixrung_lesson::{Action, Score, Slot, Tick};

use crate::event::{Cue, ExpectedStroke};
use crate::frames::{FineFrames, TempoGrid};
use crate::timeline::Plan;

/// The eye leads the hand by about a second, 0.7 to 1.3 (Furneaux & Land 1999): a chord is named at least so long
/// before it sounds.
const AHEAD_MS: u64 = 1300;

/// The strokes that are meant to be heard, by time.
pub(crate) fn expected_strokes(score: &Score) -> Vec<ExpectedStroke> {
    // The slot before the first is the last: a pass may be played as a loop.
    let before = score.slots.last().into_iter().chain(&score.slots);
    let heard = score.slots.iter().zip(before).filter(|(slot, _)| is_heard(score, slot));
    heard
        .map(|(slot, before)| ExpectedStroke {
            at: slot.at,
            bar: slot.bar,
            slot: slot.index,
            action: slot.stroke.action,
            direction: slot.stroke.direction,
            shape: slot.shape,
            slot_length: slot.length.min(before.length),
        })
        .collect()
}

/// A chuck sounds with any shape or none; other strokes need a string that sounds.
fn is_heard(score: &Score, slot: &Slot) -> bool {
    let has_string = |shape: usize| score.shapes[shape].strings.iter().any(|string| string.fret().is_some());
    match slot.stroke.action {
        Action::Chuck => slot.shape.is_none_or(has_string),
        action => action.sounds() && slot.shape.is_some_and(has_string),
    }
}

/// One cue a change: named 1.3 s ahead, or a bar where that is longer.
pub(crate) fn cues(score: &Score, grid: TempoGrid) -> Vec<Cue> {
    let at_least = grid.ticks_in_ms(AHEAD_MS);
    let bar_before = |at: Tick| {
        let begun = score.bars.partition_point(|bar| bar.start < at);
        score.bars[begun.saturating_sub(1)].meter.bar()
    };
    let changes = score.changes.iter().enumerate();
    changes.map(|(change, at)| Cue { change, at: at.at, ahead: bar_before(at.at).max(at_least) }).collect()
}

/// When each expected stroke of a cycle is due, in seconds on the clock that `cycle_start` counts: the very frames
/// at which playback sounds their first strings.
#[must_use]
#[expect(clippy::cast_precision_loss, reason = "2^53 frames are six thousand years")]
pub fn expected_seconds(plan: &Plan, cycle_start: FineFrames) -> Vec<f64> {
    let Plan { timeline, expected, .. } = plan;
    let due = |stroke: &ExpectedStroke| {
        let frame = timeline.grid.frame(cycle_start, u64::from((timeline.pass_at + stroke.at).0));
        frame.0 as f64 / f64::from(timeline.grid.rate())
    };
    expected.iter().map(due).collect()
}
