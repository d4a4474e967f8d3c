//! The chord now, and those after it.

use std::sync::Arc;

use sixrung_lesson::{Change, Tempo, Tick};

use super::super::stage::Stage;
use crate::say;
use crate::stand::{ChordView, ChordsView, NextChord};

/// A chord must be in sight so long before it sounds, in seconds: an eye is about one ahead of the hand (Furneaux and
/// Land 1999: 0.7 to 1.3 s). One that follows the next sooner is shown together with it.
const SOON_S: f64 = 1.3;

/// The chords at `tick` of the pass. The stretch is taken as a loop: after its last chord comes its first.
pub(crate) fn chords(stage: &Stage, tick: f64, tempo: Tempo) -> Option<ChordsView> {
    let changes = &stage.score.changes;
    let now = changes.iter().rposition(|change| f64::from(change.at.0) <= tick).unwrap_or(0);
    let current = changes.get(now)?;
    let mut coming = coming(changes, stage.score.length, now, current.shape);
    let next = coming.next();
    let next_at = next.as_ref().map(|(at, _)| *at);
    let next = next.map(|(at, change)| {
        let bar = stage.score.bars.first().map_or(stage.lesson.meter, |bar| bar.meter);
        let beat = f64::from(bar.beat().0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few beats, never negative")]
        let beats_left = ((at - tick) / beat).ceil().max(0.0) as u32;
        NextChord { chord: chord(stage, change.shape), beats_left, beats_shown: bar.beats() }
    });
    let then = coming.next();
    let then_is_soon = next_at.zip(then.as_ref()).is_some_and(|(next, (then, _))| {
        let beats = (then - next) / f64::from(stage.lesson.beat.ticks().0);
        beats * 60.0 / tempo.bpm() < SOON_S
    });
    let then = then.map(|(_, change)| chord(stage, change.shape));
    Some(ChordsView { now: chord(stage, current.shape), next, then, then_is_soon, capo: stage.score.capo })
}

/// The real changes after `now`, once around the loop, with their ticks counted on past its end.
fn coming(
    changes: &[Change],
    length: Tick,
    now: usize,
    sounding: Option<usize>,
) -> impl Iterator<Item = (f64, &Change)> {
    let after = changes.iter().skip(now + 1).map(|change| (f64::from(change.at.0), change));
    let around = changes.iter().take(now + 1).map(move |change| (f64::from(change.at.0) + f64::from(length.0), change));
    let mut last = sounding;
    after.chain(around).filter(move |(_, change)| std::mem::replace(&mut last, change.shape) != change.shape)
}

/// A shape of the score as the sheet draws it.
pub(crate) fn chord(stage: &Stage, shape: Option<usize>) -> ChordView {
    let Some(shape) = shape.and_then(|shape| stage.shapes.get(shape)) else {
        return ChordView { name: say::NO_CHORD.to_owned(), shape: None, sounds: None, stands_in_for: None };
    };
    let stands_in_for = stage
        .lesson
        .shapes
        .iter()
        .find(|harder| stage.arrangement.stand_ins && harder.stand_in.as_ref() == Some(&shape.name))
        .map(|harder| say::chord_name(&harder.name));
    ChordView {
        name: say::chord_name(&shape.name),
        shape: Some(Arc::clone(shape)),
        sounds: stage.sounding_name(&shape.name),
        stands_in_for,
    }
}
