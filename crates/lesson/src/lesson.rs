//! One piece to learn.

use crate::meter::{BeatUnit, Meter};
use crate::pattern::Pattern;
use crate::rules::{Criterion, LadderRules};
use crate::section::Section;
use crate::shape::Shape;
use crate::tuning::Tuning;
use crate::units::Tempo;

/// A choice of how a lesson is played.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Arrangement {
    /// Its name, unique in the lesson; `plain` is always there.
    pub name: String,
    /// Whether each shape's stand-in replaces it.
    pub stand_ins: bool,
    /// Names of the optional stretches taken in.
    pub options: Vec<String>,
    /// Frets the capo is moved up from the lesson's own place.
    pub capo_shift: u8,
}

/// A checked lesson: every name in it leads somewhere, and every pattern fits its bars.
///
/// Made only by [`crate::read`]; nothing changes it after.
#[derive(Clone, Debug, PartialEq)]
pub struct Lesson {
    /// Title as printed.
    pub title: String,
    /// Whose it is, as printed.
    pub credit: String,
    /// The tempo the ladder ends at.
    pub tempo: Tempo,
    /// What the tempo counts.
    pub beat: BeatUnit,
    /// The meter of bars that do not name their own.
    pub meter: Meter,
    /// Key in the teacher's words, for example `D major`.
    pub key: String,
    /// The open strings.
    pub tuning: Tuning,
    /// Capo fret, 0 for none.
    pub capo: u8,
    /// Bars counted before playing, 1 to 4; `None` for the default: one, or two when a bar is shorter than two seconds.
    pub count_in_bars: Option<u8>,
    /// The shapes, in the order written.
    pub shapes: Vec<Shape>,
    /// The patterns, in the order written.
    pub patterns: Vec<Pattern>,
    /// The sections, in the order written.
    pub sections: Vec<Section>,
    /// The whole piece: section names in playing order.
    pub form: Vec<String>,
    /// The playable choices; the first is the default.
    pub arrangements: Vec<Arrangement>,
    /// How the ladder goes.
    pub ladder: LadderRules,
    /// What counts as clean.
    pub criterion: Criterion,
}

impl Lesson {
    /// The shape of this name.
    #[must_use]
    pub fn shape(&self, name: &str) -> Option<&Shape> {
        self.shapes.iter().find(|shape| shape.name == name)
    }

    /// The pattern of this name.
    #[must_use]
    pub fn pattern(&self, name: &str) -> Option<&Pattern> {
        self.patterns.iter().find(|pattern| pattern.name == name)
    }

    /// The section of this name.
    #[must_use]
    pub fn section(&self, name: &str) -> Option<&Section> {
        self.sections.iter().find(|section| section.name == name)
    }

    /// The arrangement of this name.
    #[must_use]
    pub fn arrangement(&self, name: &str) -> Option<&Arrangement> {
        self.arrangements.iter().find(|arrangement| arrangement.name == name)
    }
}
