//! What is asked.

use sixrung_lesson::{Criterion, Lesson, Level, Tempo};
use sixrung_practice::{Date, Policy};

use crate::paper::Line;

/// What a teacher asks for: plain data; what is left out is as the lesson has it, or open.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Task {
    /// Who it is for: a nickname will do.
    pub learner: Option<Line>,
    /// The arrangement by name; the lesson's first without it.
    pub arrangement: Option<String>,
    /// The sections by name; all of them where none is named.
    pub sections: Vec<String>,
    /// The first rung; the lesson's own without it.
    pub start: Option<Tempo>,
    /// The last rung; the original tempo without it.
    pub goal: Option<Tempo>,
    /// How patient the timing window is; the lesson's own without it.
    pub level: Option<Level>,
    /// Faults allowed in a pass; as the lesson has it without it.
    pub faults: Option<u16>,
    /// The rules of the climb, where they are not the lesson's and the usual ones.
    pub policy: Option<Policy>,
    /// On how many days, 1 to 60.
    pub days: Option<u16>,
    /// How many minutes on each, 5 to 120, as a plan for a day may have.
    pub minutes: Option<u16>,
    /// The first day.
    pub from: Option<Date>,
    /// The day it is due.
    pub due: Option<Date>,
    /// One sentence: what to attend to.
    pub focus: Option<Line>,
    /// When to stop and ask.
    pub stop_on: Option<Line>,
}

impl Task {
    /// What counts as clean.
    #[must_use]
    pub fn criterion(&self, lesson: &Lesson) -> Criterion {
        Criterion {
            level: self.level.unwrap_or(lesson.criterion.level),
            allowed_faults: self.faults.or(lesson.criterion.allowed_faults),
        }
    }
}
