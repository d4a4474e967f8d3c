//! The steps of a lesson: the path from not knowing a shape to singing the song.

use std::collections::BTreeMap;

use crate::moment::Moment;

/// A step on the way through a section. In order; each may be skipped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// Where the fingers go: every string of every shape rings.
    Shapes,
    /// Two shapes to and fro, until the change takes a steady time.
    Changes,
    /// One down-stroke where each chord starts, the whole piece, at the original tempo, sung.
    OneStroke,
    /// The pattern on one chord.
    OneChord,
    /// The pattern with its changes, on the first rung.
    Slow,
    /// Rung by rung to the original tempo.
    #[default]
    Climb,
    /// The whole piece at the original tempo, all repeats.
    PlayAlong,
    /// The same, sung: the words large.
    Sing,
}

impl Step {
    /// All of them, in order.
    pub const ALL: [Self; 8] = [
        Self::Shapes,
        Self::Changes,
        Self::OneStroke,
        Self::OneChord,
        Self::Slow,
        Self::Climb,
        Self::PlayAlong,
        Self::Sing,
    ];

    /// The step after this one; `None` after the last.
    #[must_use]
    pub fn next(self) -> Option<Self> {
        let place = Self::ALL.iter().position(|step| *step == self)?;
        Self::ALL.get(place + 1).copied()
    }

    /// Whether it is about the whole piece rather than a section.
    #[must_use]
    pub const fn is_whole(self) -> bool {
        matches!(self, Self::OneStroke | Self::PlayAlong | Self::Sing)
    }
}

/// How a step came to be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Done {
    /// It was heard.
    Heard,
    /// The player says so.
    SelfMarked,
    /// It was left out.
    Skipped,
}

/// The steps of one section that are done, and when.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct StepsDone(pub BTreeMap<Step, (Done, Moment)>);

impl StepsDone {
    /// The first step that is neither done nor skipped; `None` when all are.
    #[must_use]
    pub fn next(&self) -> Option<Step> {
        Step::ALL.into_iter().find(|step| !self.0.contains_key(step))
    }

    /// How a step was done.
    #[must_use]
    pub fn of(&self, step: Step) -> Option<Done> {
        self.0.get(&step).map(|(done, _)| *done)
    }

    /// A step is done. What was heard stays heard. Whether that is news.
    pub fn set(&mut self, step: Step, done: Done, now: Moment) -> bool {
        let is_news = self.of(step).is_none_or(|before| done < before);
        if is_news {
            self.0.insert(step, (done, now));
        }
        is_news
    }
}
