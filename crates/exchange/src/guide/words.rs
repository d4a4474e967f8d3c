//! Every visible word of a guide, given by whoever asks for it.

use sixrung_drawing::strip::BarStrip;
use sixrung_lesson::{Arrangement, Grid, Lesson, Meter, Shape, Stroke};

/// What a guide says. Texts that hold numbers or names are made by functions, so that another language may order them
/// its own way.
#[derive(Clone, Copy, Debug)]
pub struct Words {
    /// Language, as RFC 5646 tags it.
    pub language: &'static str,
    /// Heading of the diagrams.
    pub chords: &'static str,
    /// Heading of the patterns.
    pub strokes: &'static str,
    /// Heading of the section map and the words.
    pub song: &'static str,
    /// Heading of the tick boxes.
    pub ladder: &'static str,
    /// Heading of the day grid.
    pub days: &'static str,
    /// How the day grid is filled in.
    pub days_hint: &'static str,
    /// What the day grid is, for who can't see it.
    pub days_grid: &'static str,
    /// Heads of the day grid's columns.
    pub weekdays: [&'static str; 7],
    /// The caution, in the words of practice teaching and medicine; it defers to licensed clinicians.
    pub caution: &'static str,
    /// Head of the tempo column.
    pub tempo: &'static str,
    /// Over a change point.
    pub next_chord: &'static str,
    /// Head of the column for the whole piece.
    pub whole: &'static str,
    /// Tempo, meter, key, capo, tuning and arrangement, one phrase each.
    pub facts: fn(&Facts<'_>) -> Vec<String>,
    /// What a shape sounds with the capo.
    pub sounds: fn(&str) -> String,
    /// Which harder chord a shape stands in for.
    pub stands_in: fn(&str) -> String,
    /// Under a diagram: which strings are kept silent, 1 the lightest, and how, in the teacher's words.
    pub silent: fn(&[usize], &str) -> String,
    /// Beside a diagram that does not begin at the nut.
    pub fret: fn(u8) -> String,
    /// What a diagram shows, for who can't see it: the chord's name and its shape.
    pub diagram: fn(&str, &Shape) -> String,
    /// A pattern's grid.
    pub grid: fn(Grid) -> String,
    /// What the signs mean that occur among these strokes.
    pub legend: fn(&[Stroke]) -> Vec<String>,
    /// A pattern's strokes with their counts, for who can't see them.
    pub pattern: fn(&str, &[BarStrip]) -> String,
    /// How long a section is.
    pub bars: fn(u32) -> String,
    /// A pattern and how often it is played.
    pub times: fn(&str, u16) -> String,
    /// The nth time (from 1), what is played instead.
    pub nth_time: fn(u16, &str) -> String,
    /// The last time, what is played instead.
    pub last_time: fn(&str) -> String,
    /// A meter that is not the lesson's.
    pub meter: fn(Meter) -> String,
    /// Over an ending, from 1.
    pub ending: fn(usize) -> String,
    /// Over what an option decides: its name, and whether it is taken in.
    pub option: fn(&str, bool) -> String,
    /// How the ladder is climbed: clean passes in a row up, passes not clean in a row down.
    pub rule: fn(u8, u8) -> String,
    /// Per cent of the original tempo.
    pub percent: fn(u32) -> String,
    /// Beside a row of the day grid, from 1.
    pub week: fn(usize) -> String,
    /// At the foot of a page: which, of how many.
    pub page: fn(usize, usize) -> String,
}

/// What the line under the title is made of.
#[derive(Clone, Copy, Debug)]
pub struct Facts<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// How it is played.
    pub arrangement: &'a Arrangement,
}

impl Facts<'_> {
    /// Capo fret in force.
    #[must_use]
    pub fn capo(&self) -> u8 {
        self.lesson.capo.saturating_add(self.arrangement.capo_shift)
    }

    /// The open strings by name, heaviest first: `E A D G B E`.
    #[must_use]
    pub fn strings(&self) -> String {
        let names: Vec<_> = self.lesson.tuning.open().iter().map(|pitch| pitch.class_name()).collect();
        names.join(" ")
    }
}
