//! What the player is asked to play so that the ear can learn.

use std::sync::Arc;

use sixrung_lesson::Direction;

use crate::plan::PlannedShape;

/// Slow down-strokes of each shape. Five made single strings audible (AUC .94 to 1.0) in trials before this program.
const SLOW_STROKES: u32 = 5;
/// Strokes of either direction over all shapes: twenty of each were enough in the same trials.
const EACH_WAY: u32 = 20;

/// How the strokes of a task follow each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Way {
    /// Slow down-strokes, each left to ring.
    Slow,
    /// Down and up in turn, down first, as fast as is easy.
    InTurn,
}

/// One thing asked: strokes of one shape.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LearnTask {
    /// Index of the shape.
    pub shape: usize,
    /// Which strokes.
    pub way: Way,
    /// How many.
    pub strokes: u32,
}

impl LearnTask {
    /// Which way stroke `index` of it goes.
    #[must_use]
    pub const fn direction(self, index: usize) -> Direction {
        match self.way {
            Way::InTurn if index % 2 == 1 => Direction::Up,
            Way::Slow | Way::InTurn => Direction::Down,
        }
    }
}

/// All that is asked, in order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LearnPlan {
    /// The shapes.
    pub shapes: Arc<[PlannedShape]>,
    /// The tasks.
    pub tasks: Vec<LearnTask>,
}

impl LearnPlan {
    /// Of each shape five slow down-strokes, then down and up in turn, until about twenty of either were played over
    /// all shapes.
    #[must_use]
    pub fn new(shapes: Arc<[PlannedShape]>) -> Self {
        let count = u32::try_from(shapes.len()).unwrap_or(u32::MAX).max(1);
        let pairs = EACH_WAY.div_ceil(count);
        let of_shape = |shape| {
            let slow = LearnTask { shape, way: Way::Slow, strokes: SLOW_STROKES };
            [slow, LearnTask { shape, way: Way::InTurn, strokes: 2 * pairs }]
        };
        let tasks = (0..shapes.len()).flat_map(of_shape).collect();
        Self { shapes, tasks }
    }

    /// The slow down-strokes of each shape alone: for who was heard both ways already.
    #[must_use]
    pub fn slow(shapes: Arc<[PlannedShape]>) -> Self {
        let tasks = (0..shapes.len()).map(|shape| LearnTask { shape, way: Way::Slow, strokes: SLOW_STROKES }).collect();
        Self { shapes, tasks }
    }

    /// How many strokes are asked for on the whole.
    #[must_use]
    pub fn strokes(&self) -> u32 {
        self.tasks.iter().map(|task| task.strokes).sum()
    }
}
