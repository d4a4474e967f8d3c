//! The forms of lesson text version 1, as written and unchecked.
//!
//! Everything is optional here that can be found missing later, so that one slip does not hide the others.

mod read;

use super::fields::Numbered;
use crate::findings::{At, Span};

pub(crate) use read::lesson;

/// The version these forms belong to.
pub(crate) const VERSION: i64 = 1;

/// `Lesson(…)`
#[derive(Debug)]
pub(crate) struct LessonForm {
    pub(crate) span: Span,
    pub(crate) title: Option<At<String>>,
    pub(crate) credit: Option<At<String>>,
    pub(crate) tempo: Option<At<f64>>,
    pub(crate) beat: Option<At<String>>,
    pub(crate) meter: Option<At<String>>,
    pub(crate) key: Option<At<String>>,
    pub(crate) tuning: Option<At<String>>,
    pub(crate) capo: Option<At<i64>>,
    pub(crate) count_in: Option<At<i64>>,
    pub(crate) shapes: Vec<ShapeForm>,
    pub(crate) patterns: Vec<PatternForm>,
    pub(crate) sections: Vec<SectionForm>,
    pub(crate) form: Option<At<Vec<At<String>>>>,
    pub(crate) arrangements: Vec<ArrangementForm>,
    pub(crate) ladder: Option<LadderForm>,
    pub(crate) clean: Option<CleanForm>,
}

/// `(name: "Bm", frets: "x24432", fingers: "-13421", stand_in: "Bm7", mute: { 6: "the tip of finger 1" })`
#[derive(Debug)]
pub(crate) struct ShapeForm {
    pub(crate) name: Option<At<String>>,
    pub(crate) frets: Option<At<String>>,
    pub(crate) fingers: Option<At<String>>,
    pub(crate) stand_in: Option<At<String>>,
    pub(crate) mute: Numbered<At<String>>,
}

/// `(name: "plain", grid: "eighths", strokes: "D - D> U - U D> U")`
#[derive(Debug)]
pub(crate) struct PatternForm {
    pub(crate) name: Option<At<String>>,
    pub(crate) grid: Option<At<String>>,
    pub(crate) strokes: Option<At<String>>,
}

/// `(name: "Verse", entries: […], endings: [[…], […]], words: […])`
#[derive(Debug)]
pub(crate) struct SectionForm {
    pub(crate) span: Span,
    pub(crate) name: Option<At<String>>,
    pub(crate) entries: Vec<EntryForm>,
    pub(crate) endings: Vec<At<Vec<EntryForm>>>,
    pub(crate) words: Vec<At<String>>,
}

impl SectionForm {
    /// Every entry that plays, those of endings and options included, in the order written.
    pub(crate) fn all_played(&self) -> Vec<&PlayedForm> {
        let mut all = Vec::new();
        self.entries
            .iter()
            .chain(self.endings.iter().flat_map(|ending| &ending.value))
            .for_each(|e| e.played(&mut all));
        all
    }
}

/// One line of a section's map.
#[derive(Debug)]
pub(crate) enum EntryForm {
    /// `(chord: "D", pattern: "plain", times: 2, last: (…), nth: { 2: (…) }, meter: "2/4")`
    Played(PlayedForm),
    /// `(optional: "walk-up", fuller: […], instead: […])`
    Optional(OptionalForm),
}

impl EntryForm {
    fn played<'f>(&'f self, all: &mut Vec<&'f PlayedForm>) {
        match self {
            Self::Played(played) => all.push(played),
            Self::Optional(optional) => {
                optional.fuller.iter().chain(&optional.instead).for_each(|entry| entry.played(all));
            }
        }
    }
}

/// What an entry plays.
#[derive(Debug)]
pub(crate) struct PlayedForm {
    pub(crate) play: PlayForm,
    pub(crate) times: Option<At<i64>>,
    pub(crate) last: Option<PlayForm>,
    pub(crate) nth: Numbered<PlayForm>,
    pub(crate) meter: Option<At<String>>,
}

impl PlayedForm {
    /// The usual play and its exceptions: the numbered ones first, then the last.
    pub(crate) fn plays(&self) -> impl Iterator<Item = &PlayForm> {
        std::iter::once(&self.play).chain(self.exceptions())
    }

    /// The exceptions in the order a draft keeps them.
    pub(crate) fn exceptions(&self) -> impl Iterator<Item = &PlayForm> {
        self.nth.iter().map(|(_, play)| play).chain(&self.last)
    }
}

/// A pattern and its chords; an exception leaves out what is the entry's own.
#[derive(Debug)]
pub(crate) struct PlayForm {
    pub(crate) span: Span,
    pub(crate) pattern: Option<At<String>>,
    /// From `chord` or `chords`.
    pub(crate) chords: Option<At<Vec<At<String>>>>,
}

/// A stretch with a fuller version.
#[derive(Debug)]
pub(crate) struct OptionalForm {
    pub(crate) name: At<String>,
    pub(crate) fuller: Vec<EntryForm>,
    pub(crate) instead: Vec<EntryForm>,
}

/// `(name: "full", options: ["walk-up"], stand_ins: true, capo_shift: 2)`
#[derive(Debug)]
pub(crate) struct ArrangementForm {
    pub(crate) span: Span,
    pub(crate) name: Option<At<String>>,
    pub(crate) options: Vec<At<String>>,
    pub(crate) stand_ins: bool,
    pub(crate) capo_shift: Option<At<i64>>,
}

/// `(start: 60, rungs: 6, up_after: 3, down_after: 2)` or `(bpm: [76, 84, 126])`
#[derive(Debug)]
pub(crate) struct LadderForm {
    pub(crate) span: Span,
    pub(crate) start: Option<At<f64>>,
    pub(crate) rungs: Option<At<i64>>,
    pub(crate) bpm: Option<At<Vec<At<f64>>>>,
    pub(crate) up_after: Option<At<i64>>,
    pub(crate) down_after: Option<At<i64>>,
}

/// `(level: "beginner", faults: 2)`
#[derive(Debug)]
pub(crate) struct CleanForm {
    pub(crate) level: Option<At<String>>,
    pub(crate) faults: Option<At<i64>>,
}
