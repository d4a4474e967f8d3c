//! What the page of looking back shows: plain data, filled by the room.

use std::sync::Arc;

use crate::draw::days::DaysAxis;
use crate::stand::PlotView;

/// What was played of the lesson on the stand, and how it went.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct JournalPage {
    /// Whether a lesson is open.
    pub has_lesson: bool,
    /// Its title.
    pub title: String,
    /// The time looked back on, for example `the last four weeks`, and the one looked back on with a press.
    pub span: (String, String),
    /// The days of every plot.
    pub days: DaysAxis,
    /// The rungs of the ladder: beats a minute, and as printed.
    pub rungs: Vec<(f32, String)>,
    /// The lesson's sections, in its order.
    pub sections: Vec<SectionLine>,
    /// The one looked at, as an index into them.
    pub chosen: usize,
    /// How close to the beat that one was, day by day.
    pub offsets: Vec<OffsetDay>,
    /// Minutes played each day, whatever it was.
    pub minutes: Vec<(i64, f32)>,
    /// All of them, in words.
    pub minutes_words: String,
    /// The changes of chord that take longest, the slowest first.
    pub changes: Vec<ChangeItem>,
    /// Passes of the lesson, newest first.
    pub passes: Vec<PassItem>,
    /// Whether there are newer ones, and older ones.
    pub pages: (bool, bool),
    /// The pass that is looked at.
    pub opened: Option<Box<OpenedPass>>,
    /// How many passes were taken out last and can be put back.
    pub deleted: u64,
    /// Everyone who plays here, and whose turn it is.
    pub players: Vec<(String, bool)>,
    /// What became of the last wish; may be empty.
    pub said: String,
}

/// A section over days.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SectionLine {
    /// Its name.
    pub name: String,
    /// The fastest clean pass of each day: day, beats a minute.
    pub reached: Vec<(i64, f32)>,
    /// The rungs held, on the day they first were; those held before the days shown on the first.
    pub held: Vec<(i64, f32)>,
    /// For each of its bars, in what share of the last passes something went wrong there; `None` where none was heard.
    pub trouble: Vec<Option<f32>>,
    /// What it comes to, in words, for a reader of the screen.
    pub words: String,
}

/// How close to the beat one day was.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct OffsetDay {
    /// The day.
    pub day: i64,
    /// In the middle so late, in milliseconds; early is negative.
    pub offset_ms: f32,
    /// So wide around it, in milliseconds.
    pub spread_ms: f32,
}

/// A change of chord.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ChangeItem {
    /// From which chord to which, for example `G – D`.
    pub name: String,
    /// How long it takes, for example `0.9 s`.
    pub takes: String,
    /// The tempo it fits, for example `fits 84, was 76`.
    pub fits: String,
}

/// A pass in the list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PassItem {
    /// When, for example `23 Nov 18:04`.
    pub when: String,
    /// What, for example `Verse at 93`.
    pub what: String,
    /// What became of it, for example `46 of 48 in time`.
    pub outcome: String,
    /// Whether it was clean: drawn as a filled peg.
    pub is_clean: bool,
}

/// A pass that is looked at again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct OpenedPass {
    /// When and what.
    pub heading: String,
    /// The verdict, as it was said then.
    pub headline: String,
    /// What was counted.
    pub detail: String,
    /// Its plot; `None` when nothing was heard to plot.
    pub plot: Option<Arc<PlotView>>,
}
