//! What is on the stand: a lesson, a stretch of it, an arrangement, laid out.

use std::ops::Range;
use std::sync::Arc;

use sixrung_exchange::assignment::Assignment;
use sixrung_lesson::{Arrangement, LayoutError, Lesson, Score, Shape, Stretch, layout};
use sixrung_practice::{Ladder, Policy, Step};

use super::project;
use crate::library::Source;
use crate::stand::{BarStrip, SectionChoice};

/// The pattern on one chord is long enough to come into it, short enough to begin again soon: a design choice of ours.
pub(crate) const ONE_CHORD_BARS: usize = 4;

/// A lesson as read, with where it came from.
#[derive(Clone, Debug)]
pub struct Opened {
    /// Where its text lies.
    pub source: Source,
    /// The lesson itself.
    pub lesson: Arc<Lesson>,
    /// Tells versions of its text apart.
    pub hash: u64,
    /// The assignment it came with: the lesson is the one to practise then, and its rules hold.
    pub assigned: Option<Arc<Assignment>>,
}

/// A stretch to practise, laid out.
#[derive(Clone, Debug)]
pub struct Stage {
    pub(crate) source: Source,
    pub(crate) lesson: Arc<Lesson>,
    pub(crate) hash: u64,
    pub(crate) assigned: Option<Arc<Assignment>>,
    pub(crate) section: SectionChoice,
    /// The section whose path is followed, while the whole piece is on the stand for one of its steps.
    pub(crate) home: SectionChoice,
    /// Which step of the path it is.
    pub(crate) step: Step,
    /// Bars of the section, from 0; `None` for all.
    pub(crate) bars: Option<Range<usize>>,
    pub(crate) arrangement: Arrangement,
    /// The stretch itself.
    pub(crate) score: Arc<Score>,
    /// The section all of whose bars the map shows.
    pub(crate) whole: Arc<Score>,
    /// The score's shapes, shared with the views.
    pub(crate) shapes: Vec<Arc<Shape>>,
    /// The score's bars as the sheet draws them.
    pub(crate) strips: Vec<Arc<BarStrip>>,
}

impl Stage {
    /// Lays out a stretch of an opened lesson.
    ///
    /// # Errors
    /// When the section, its bars or the arrangement are not there.
    pub(crate) fn new(
        opened: &Opened,
        (home, step): (SectionChoice, Step),
        bars: Option<Range<usize>>,
        arrangement: Arrangement,
    ) -> Result<Self, LayoutError> {
        let section = if step.is_whole() { SectionChoice::Whole } else { home };
        let lesson = Arc::clone(&opened.lesson);
        let name = section_name(&lesson, section);
        let all = name.clone().map_or(Stretch::Whole, Stretch::Section);
        let whole = Arc::new(layout(&lesson, &all, &arrangement)?);
        let bars = bars.filter(|bars| bars.len() < whole.bars.len() && name.is_some());
        let stretch = stretch(name, bars.as_ref());
        let score =
            if bars.is_some() { Arc::new(layout(&lesson, &stretch, &arrangement)?) } else { Arc::clone(&whole) };
        let score = match step {
            Step::OneStroke => Arc::new(score.one_stroke_per_change()),
            Step::OneChord => Arc::new(score.on_one_chord(None, ONE_CHORD_BARS)),
            _ => score,
        };
        let shapes = score.shapes.iter().cloned().map(Arc::new).collect();
        let mut stage = Self {
            source: opened.source.clone(),
            hash: opened.hash,
            assigned: opened.assigned.clone(),
            lesson,
            section,
            home,
            step,
            bars,
            arrangement,
            score,
            whole,
            shapes,
            strips: Vec::new(),
        };
        stage.strips = project::strips(&stage);
        Ok(stage)
    }

    /// The lesson.
    #[must_use]
    pub fn lesson(&self) -> &Lesson {
        &self.lesson
    }

    /// How it is played.
    #[must_use]
    pub const fn arrangement(&self) -> &Arrangement {
        &self.arrangement
    }

    /// The section's name; `None` for the whole piece.
    pub(crate) fn section_name(&self) -> Option<String> {
        section_name(&self.lesson, self.section)
    }

    /// The assignment the lesson came with.
    #[must_use]
    pub fn assigned(&self) -> Option<&Assignment> {
        self.assigned.as_deref()
    }

    /// The rules of the climb.
    pub(crate) fn policy(&self) -> Policy {
        self.assigned.as_ref().map_or_else(|| Policy::of(&self.lesson.ladder), |assigned| assigned.policy())
    }

    /// The rungs; what is about the whole piece goes on to the original tempo, wherever sections are to end.
    pub(crate) fn ladder(&self) -> Ladder {
        let mut rules = self.lesson.ladder.clone();
        rules.goal = rules.goal.filter(|_| !self.step.is_whole());
        Ladder::new(&rules, self.lesson.tempo)
    }

    /// The timing window an assignment asks for.
    pub(crate) fn asked_level(&self) -> Option<sixrung_lesson::Level> {
        self.assigned.as_ref().and_then(|assigned| assigned.task().level)
    }

    /// The lesson it is of.
    pub(crate) fn opened(&self) -> Opened {
        Opened {
            source: self.source.clone(),
            lesson: Arc::clone(&self.lesson),
            hash: self.hash,
            assigned: self.assigned.clone(),
        }
    }

    /// The stretch whose path is followed.
    pub(crate) fn home_stretch(&self) -> Stretch {
        stretch(section_name(&self.lesson, self.home), None)
    }

    /// What is practised.
    pub(crate) fn stretch(&self) -> Stretch {
        stretch(self.section_name(), self.bars.as_ref())
    }

    /// A chord's name as the capo makes it sound; `None` without a capo.
    pub(crate) fn sounding_name(&self, name: &str) -> Option<String> {
        (self.score.capo > 0).then(|| sixrung_lesson::raised_name(name, self.score.capo)).flatten()
    }

    /// Index of the bar at `tick` of the pass.
    pub(crate) fn bar_at(&self, tick: f64) -> usize {
        self.score.bars.iter().rposition(|bar| f64::from(bar.start.0) <= tick).unwrap_or(0)
    }
}

fn stretch(section: Option<String>, bars: Option<&Range<usize>>) -> Stretch {
    match (section, bars) {
        (Some(section), Some(bars)) => Stretch::Bars { section, first: as_u32(bars.start), end: as_u32(bars.end) },
        (Some(section), None) => Stretch::Section(section),
        (None, _) => Stretch::Whole,
    }
}

fn section_name(lesson: &Lesson, section: SectionChoice) -> Option<String> {
    match section {
        SectionChoice::Section(index) => lesson.sections.get(index).map(|section| section.name.clone()),
        SectionChoice::Whole => None,
    }
}

fn as_u32(bar: usize) -> u32 {
    u32::try_from(bar).unwrap_or(u32::MAX)
}
