//! A bar's strokes, and the map of all bars.

use std::ops::Range;
use std::sync::Arc;

use sixrung_lesson::Score;
use sixrung_practice::Step;

use super::super::stage::Stage;
use crate::say;
use crate::stand::{BarStrip, MapBar, MapView};

/// Every bar of the stretch as a strip, in order.
pub(crate) fn strips(stage: &Stage) -> Vec<Arc<BarStrip>> {
    sixrung_drawing::strip::strips(&stage.score).into_iter().map(Arc::new).collect()
}

/// The bars of the whole section. `playing` is the bar of the stretch under the cursor.
pub(crate) fn map(stage: &Stage, playing: Option<usize>, worst: Option<usize>) -> MapView {
    let first = stage.bars.as_ref().map_or(0, |bars| bars.start);
    let current = playing.or(worst).map(|bar| bar + first);
    let all = if stage.step == Step::OneChord { &stage.score } else { &stage.whole };
    let bars = all
        .bars
        .iter()
        .enumerate()
        .map(|(index, bar)| MapBar {
            number: bar.number + 1,
            chord: new_chord(all, bar.start.0..bar.start.0 + bar.meter.bar().0),
            done: playing.is_some() && index >= first && current.is_some_and(|current| index < current),
        })
        .collect();
    MapView { bars, current, chosen: stage.bars.clone() }
}

/// The chord that begins at this bar line, or first within the bar.
fn new_chord(all: &Score, ticks: Range<u32>) -> Option<String> {
    let change = all.changes.iter().find(|change| ticks.contains(&change.at.0))?;
    Some(match change.shape.and_then(|shape| all.shapes.get(shape)) {
        Some(shape) => say::chord_name(&shape.name),
        None => say::NO_CHORD.to_owned(),
    })
}
