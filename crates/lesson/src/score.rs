//! A stretch of a lesson as one arrangement plays it, laid out flat in ticks.
//!
//! This is what the stand draws, the timeline compiles and the words are checked against: repeats are written out,
//! options decided, stand-ins chosen, early changes resolved.

use crate::meter::Meter;
use crate::pattern::{Grid, Stroke};
use crate::shape::Shape;
use crate::units::Tick;

/// What is to be laid out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stretch {
    /// A whole section, once through all its endings.
    Section(String),
    /// Bars of a section, from 0, `first..end`.
    Bars {
        /// Section name.
        section: String,
        /// First bar, from 0.
        first: u32,
        /// One past the last bar.
        end: u32,
    },
    /// The whole form.
    Whole,
}

/// A stretch laid out flat. Ticks count from its first bar line.
#[derive(Clone, Debug, PartialEq)]
pub struct Score {
    /// The shapes used, stand-ins already chosen. Indices below point in here.
    pub shapes: Vec<Shape>,
    /// Capo fret in force, the arrangement's shift included.
    pub capo: u8,
    /// Every bar in order, without gaps.
    pub bars: Vec<Bar>,
    /// Every chord change in order; the first lies at tick 0.
    pub changes: Vec<Change>,
    /// Every slot in order, silent ones included.
    pub slots: Vec<Slot>,
    /// The words, line by line.
    pub lines: Vec<Line>,
    /// The whole length.
    pub length: Tick,
}

/// One bar.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Bar {
    /// Where it starts.
    pub start: Tick,
    /// Its meter.
    pub meter: Meter,
    /// Name of the section it belongs to.
    pub section: String,
    /// Its number within the section's full length, from 0 (bar ranges keep the section's numbering).
    pub number: u32,
}

/// The moment a chord begins.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// When.
    pub at: Tick,
    /// Index of the shape; `None` for no chord.
    pub shape: Option<usize>,
}

/// One slot of a pattern, placed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Slot {
    /// When it begins.
    pub at: Tick,
    /// How long until the next slot.
    pub length: Tick,
    /// Index of its bar in [`Score::bars`].
    pub bar: usize,
    /// Its number within the bar, from 0.
    pub index: u32,
    /// The grid it stands on, for its count.
    pub grid: Grid,
    /// What the hand does. `Stroke::changes` is true only where the chord really changes.
    pub stroke: Stroke,
    /// Index of the chord sounding; `None` for no chord.
    pub shape: Option<usize>,
}

/// A line of words, placed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// When its first syllable is sung; a pickup line starts at tick 0 and is shown before.
    pub start: Tick,
    /// When its last syllable's change ends.
    pub end: Tick,
    /// Its syllables.
    pub syllables: Vec<SungSyllable>,
}

/// A syllable, placed: on its change, or spread evenly between the changes around it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SungSyllable {
    /// When it is sung.
    pub at: Tick,
    /// What is sung.
    pub text: String,
    /// Whether a space follows.
    pub ends_word: bool,
    /// The change on it, as an index into [`Score::changes`].
    pub change: Option<usize>,
    /// Whether it is sung before bar 1.
    pub pickup: bool,
}
