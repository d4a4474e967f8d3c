//! The section that is practised.

use sixrung_lesson::{Action, Direction, Tempo};
use sixrung_listen::{PassPlan, PlannedStroke};

/// A section of bars of four beats in eighths, strummed `D - D U - U D U`, with another shape in each bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Part {
    /// Bars.
    pub bars: u32,
    /// Different shapes, taken in turn, one a bar.
    pub shapes: usize,
    /// The original tempo, in quarters.
    pub original: Tempo,
}

impl Default for Part {
    /// Eight bars of four shapes at 126: 48 strokes, of which three may be faults.
    fn default() -> Self {
        Self { bars: 8, shapes: 4, original: Tempo::from_bpm(126.0).expect("in range") }
    }
}

/// Slots of a bar that are struck.
const STRUCK: [(u32, Direction); 6] = [
    (0, Direction::Down),
    (2, Direction::Down),
    (3, Direction::Up),
    (5, Direction::Up),
    (6, Direction::Down),
    (7, Direction::Up),
];
const SLOTS: u32 = 8;

impl Part {
    /// What is expected of a pass at this tempo.
    #[must_use]
    pub fn plan(&self, tempo: Tempo) -> PassPlan {
        let slot_s = 30.0 / tempo.bpm();
        let mut strokes = Vec::new();
        for bar in 0..self.bars {
            for (slot, direction) in STRUCK {
                let index = usize::try_from(bar).expect("bars of a section");
                strokes.push(PlannedStroke {
                    at_s: f64::from(bar * SLOTS + slot) * slot_s,
                    slot_s,
                    bar: index,
                    slot,
                    action: Action::Strum,
                    direction,
                    shape: Some(index % self.shapes.max(1)),
                });
            }
        }
        PassPlan { length_s: f64::from(self.bars * SLOTS) * slot_s, strokes, ..PassPlan::default() }
    }
}
