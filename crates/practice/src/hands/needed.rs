//! Which changes a stretch of music asks for.

use std::collections::BTreeMap;

use sixrung_lesson::{Action, BeatUnit, Score, Tempo, Tick};

/// A change from one shape to another, as often as a looped stretch needs it. Indices point into [`Score::shapes`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct NeededChange {
    /// The shape left.
    pub from: usize,
    /// The shape that comes.
    pub to: usize,
    /// How often in one pass.
    pub times: u32,
    /// The shortest time there is for it, from the last stroke on the old shape to the first on the new.
    pub shortest: Tick,
}

impl NeededChange {
    /// The shortest time there is for it, in seconds.
    #[must_use]
    pub fn available_s(&self, tempo: Tempo, beat: BeatUnit) -> f64 {
        60.0 * f64::from(self.shortest.0) / (f64::from(beat.ticks().0) * tempo.bpm())
    }
}

/// The changes of a stretch that is looped, ordered by their shapes: from its last shape back to its first as well.
/// Where no chord is played between two shapes, the change is from the one before to the one after.
#[must_use]
pub fn needed_changes(score: &Score) -> Vec<NeededChange> {
    let strokes: Vec<Tick> = score
        .slots
        .iter()
        .filter(|slot| slot.shape.is_some() && matches!(slot.stroke.action, Action::Strum | Action::Bass))
        .map(|slot| slot.at)
        .collect();
    let chords: Vec<(Tick, usize)> =
        score.changes.iter().filter_map(|change| Some((change.at, change.shape?))).collect();
    let mut needed = BTreeMap::<(usize, usize), NeededChange>::new();
    let before = chords.iter().cycle().skip(chords.len().saturating_sub(1));
    for (&(_, from), &(at, to)) in before.zip(&chords).filter(|((_, from), (_, to))| from != to) {
        let time = time_around(at, &strokes, score.length);
        let change = needed.entry((from, to)).or_insert(NeededChange { from, to, times: 0, shortest: time });
        change.times += 1;
        change.shortest = change.shortest.min(time);
    }
    needed.into_values().collect()
}

/// From the last stroke before a change to the first after it, around the loop where there is none within.
fn time_around(at: Tick, strokes: &[Tick], length: Tick) -> Tick {
    let (Some(first), Some(last)) = (strokes.first(), strokes.last()) else { return length };
    let next = strokes.partition_point(|stroke| *stroke < at);
    let after = strokes.get(next).copied().unwrap_or(*first + length);
    match next.checked_sub(1) {
        Some(before) => after - strokes[before],
        None => after + length - *last,
    }
}
