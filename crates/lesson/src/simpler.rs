//! Simpler scores made of a score: what is practised on the way to it.

use crate::pattern::{Action, Direction, Dynamic, Stroke};
use crate::score::{Change, Score, Slot};
use crate::units::Tick;

impl Score {
    /// The same music with one down-stroke where each chord starts and nothing else to strike: bars, words and chords
    /// stay as they are. Where a chord starts off the grid of its bar, the stroke falls on it all the same.
    #[must_use]
    pub fn one_stroke_per_change(&self) -> Self {
        let starts = |slot: &Slot| {
            let begins = self.changes.iter().any(|change| change.at == slot.at && change.shape == slot.shape);
            slot.shape.is_some() && (begins || slot.stroke.changes)
        };
        let slot = |slot: &Slot| {
            let action = if starts(slot) { Action::Strum } else { Action::Ring };
            let direction = if action == Action::Strum { Direction::Down } else { slot.stroke.direction };
            Slot { stroke: Stroke { action, direction, dynamic: Dynamic::Plain, ..slot.stroke }, ..slot.clone() }
        };
        Self { slots: self.slots.iter().map(slot).collect(), ..self.clone() }
    }

    /// Its first bars, at most `bars`, on one chord: the pattern alone, without words. `shape` is an index into
    /// [`Score::shapes`]; `None` leaves the choice to the score: the chord it holds longest.
    #[must_use]
    pub fn on_one_chord(&self, shape: Option<usize>, bars: usize) -> Self {
        let shape = shape.filter(|shape| *shape < self.shapes.len()).or_else(|| self.longest());
        let bars: Vec<_> = self.bars.iter().take(bars.max(1)).cloned().collect();
        let length = bars.last().map_or(Tick::ZERO, |bar| bar.start + bar.meter.bar());
        let slots = self.slots.iter().filter(|slot| slot.at < length).map(|slot| Slot {
            shape,
            stroke: Stroke { changes: slot.at == Tick::ZERO && slot.stroke.changes, ..slot.stroke },
            ..slot.clone()
        });
        Self {
            slots: slots.collect(),
            changes: vec![Change { at: Tick::ZERO, shape }],
            lines: Vec::new(),
            length,
            bars,
            shapes: self.shapes.clone(),
            capo: self.capo,
        }
    }

    /// The chord that is held longest, the first of several; `None` where there is none.
    #[must_use]
    pub fn longest(&self) -> Option<usize> {
        let mut held = vec![0_u32; self.shapes.len()];
        let ends = self.changes.iter().skip(1).map(|change| change.at).chain([self.length]);
        for (change, end) in self.changes.iter().zip(ends) {
            if let Some(time) = change.shape.and_then(|shape| held.get_mut(shape)) {
                *time += end.0.saturating_sub(change.at.0);
            }
        }
        let longest = held.iter().max().copied().filter(|time| *time > 0)?;
        held.iter().position(|time| *time == longest)
    }
}
