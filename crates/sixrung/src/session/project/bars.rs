//! A bar's strokes, and the map of all bars.

use std::collections::BTreeMap;
use std::ops::Range;
use std::sync::Arc;

use sixrung_lesson::{Bar, Score, Slot, TripletCount};
use sixrung_practice::Step;

use super::super::stage::Stage;
use crate::say;
use crate::stand::{BarStrip, MapBar, MapView, SlotView};

/// Every bar of the stretch as a strip, in order.
pub(crate) fn strips(stage: &Stage) -> Vec<Arc<BarStrip>> {
    let mut slots: BTreeMap<usize, Vec<&Slot>> = BTreeMap::new();
    for slot in &stage.score.slots {
        slots.entry(slot.bar).or_default().push(slot);
    }
    stage
        .score
        .bars
        .iter()
        .enumerate()
        .map(|(index, bar)| Arc::new(strip(stage, bar, slots.get(&index).map_or(&[][..], Vec::as_slice))))
        .collect()
}

fn strip(stage: &Stage, bar: &Bar, slots: &[&Slot]) -> BarStrip {
    let length = f64::from(bar.meter.bar().0);
    #[expect(clippy::cast_possible_truncation, reason = "a fraction of a bar, for drawing")]
    let share = |ticks: u32| (f64::from(ticks) / length) as f32;
    let beat = bar.meter.beat().0;
    let slots = slots
        .iter()
        .map(|slot| {
            let within = slot.at.0 - bar.start.0;
            SlotView {
                at: share(within),
                width: share(slot.length.0),
                action: slot.stroke.action,
                direction: slot.stroke.direction,
                dynamic: slot.stroke.dynamic,
                count: stage.score.count(slot, TripletCount::default()).to_string(),
                on_beat: within.is_multiple_of(beat) || (bar.meter.is_compound() && within.is_multiple_of(beat / 3)),
                change: (slot.stroke.changes && within > 0).then(|| {
                    match slot.shape.and_then(|i| stage.shapes.get(i)) {
                        Some(shape) => say::chord_name(&shape.name),
                        None => say::NO_CHORD.to_owned(),
                    }
                }),
            }
        })
        .collect();
    let beats = (0..bar.meter.beats()).map(|i| share(i * beat)..share((i + 1) * beat)).collect();
    BarStrip { slots, beats }
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
