//! A change drill in a recording.

use std::sync::Arc;

use super::{ChangeEar, ChangeEvent};
use crate::learned::Learned;
use crate::listener::Listener;
use crate::plan::PlannedShape;

/// Hears the changes between two shapes in a mono recording at `rate` frames a second, as they would have been heard
/// live. `None` when the rate is outside [`crate::RATES`].
#[must_use]
pub fn hear_changes(
    samples: &[f32],
    rate: u32,
    shapes: [PlannedShape; 2],
    learned: Option<Arc<Learned>>,
) -> Option<Vec<ChangeEvent>> {
    /// Fed at once, in frames; the outcome does not depend on it.
    const BLOCK: usize = 4096;
    let mut listener = Listener::new(rate)?;
    let mut ear = ChangeEar::new(shapes, learned);
    let mut events = Vec::new();
    let mut frame = 0;
    // A second of silence after it, so that its last stroke is told too.
    let silence = vec![0.0; rate as usize];
    for block in samples.chunks(BLOCK).chain(silence.chunks(BLOCK)) {
        events.extend_from_slice(ear.take_in(listener.feed(frame, block)));
        frame += block.len() as u64;
    }
    Some(events)
}
