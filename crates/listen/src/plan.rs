//! What is expected of a pass, in seconds.

use std::sync::Arc;

use sixrung_lesson::{Action, Direction, Pitch, Score, Shape, Tick, Tuning};
use sixrung_timeline::{ExpectedStroke, TempoGrid};

/// One stroke the player is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct PlannedStroke {
    /// When its first string should sound, in seconds from the start of the pass.
    pub at_s: f64,
    /// The shorter of the two slots beside it, in seconds.
    pub slot_s: f64,
    /// Index of its bar in the score.
    pub bar: usize,
    /// Slot within the bar.
    pub slot: u32,
    /// What the hand does.
    pub action: Action,
    /// Which way.
    pub direction: Direction,
    /// Index of the shape in the score.
    pub shape: Option<usize>,
}

/// A shape by what it sounds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedShape {
    /// Its chord's name as the lesson writes it.
    pub name: String,
    /// What each string sounds, capo included, the heaviest first; `None` is a string that stays mute.
    pub strings: Vec<Option<Pitch>>,
    /// What each open string sounds, capo included, the heaviest first.
    pub open: Vec<Pitch>,
}

impl PlannedShape {
    /// All shapes of a score, in its order.
    #[must_use]
    pub fn all(score: &Score, tuning: &Tuning) -> Arc<[Self]> {
        Self::of(&score.shapes, tuning, score.capo)
    }

    /// These shapes, in their order.
    #[must_use]
    pub fn of(shapes: &[Shape], tuning: &Tuning, capo: u8) -> Arc<[Self]> {
        let open: Vec<Pitch> = tuning.open().iter().map(|open| open.up(capo)).collect();
        let planned = shapes.iter().map(|shape| Self {
            name: shape.name.clone(),
            strings: shape.pitches(tuning, capo),
            open: open.clone(),
        });
        planned.collect()
    }
}

/// One pass: where it starts, how long it is, what is expected.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PassPlan {
    /// Where bar 1 beat 1 lies, in seconds on the take's clock; for [`crate::judge_take`], from the first pass's.
    pub starts_s: f64,
    /// Its length in seconds.
    pub length_s: f64,
    /// Its strokes, by time.
    pub strokes: Vec<PlannedStroke>,
    /// The shapes that strokes point to; without them chords and strings are not judged.
    pub shapes: Arc<[PlannedShape]>,
    /// Whether only the strokes asked for count: what is struck or sung between them is the player's own.
    pub only_asked: bool,
}

impl PassPlan {
    /// The expected strokes of a compiled plan at the tempo of `grid`, in a pass of `length`, starting at 0.
    #[must_use]
    pub fn new(expected: &[ExpectedStroke], grid: TempoGrid, length: Tick) -> Self {
        let stroke = |stroke: &ExpectedStroke| PlannedStroke {
            at_s: grid.seconds(stroke.at),
            slot_s: grid.seconds(stroke.slot_length),
            bar: stroke.bar,
            slot: stroke.slot,
            action: stroke.action,
            direction: stroke.direction,
            shape: stroke.shape,
        };
        let strokes = expected.iter().map(stroke).collect();
        Self { starts_s: 0.0, length_s: grid.seconds(length), strokes, shapes: Arc::default(), only_asked: false }
    }

    /// The same pass, knowing what its shapes sound.
    #[must_use]
    pub fn with_shapes(self, shapes: Arc<[PlannedShape]>) -> Self {
        Self { shapes, ..self }
    }

    /// The same pass, judged on the strokes asked for alone: others between them are neither asked for nor forbidden.
    #[must_use]
    pub fn only_asked(self) -> Self {
        Self { only_asked: true, ..self }
    }

    /// The same pass with bar 1 beat 1 elsewhere.
    #[must_use]
    pub fn starting_at(&self, starts_s: f64) -> Self {
        Self { starts_s, ..self.clone() }
    }

    /// The stretch of the take whose strums belong to this pass and to no neighbour that follows on its heels: half a
    /// slot early at both ends.
    #[must_use]
    pub fn reach_s(&self) -> (f64, f64) {
        let early = self.strokes.first().map_or(0.0, |stroke| stroke.slot_s / 2.0);
        (self.starts_s - early, self.starts_s + self.length_s - early)
    }

    /// When its strokes are expected, in seconds on the take's clock.
    pub(crate) fn times_s(&self) -> impl Iterator<Item = f64> {
        self.strokes.iter().map(|stroke| self.starts_s + stroke.at_s)
    }
}
