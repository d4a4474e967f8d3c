//! Reports: what comes back to the teacher. Numbers and a few short lines; no sound, and nothing that names a file, a
//! device or a place.
//!
//! Data: [`Practised`] (plain data from wherever practice is kept) + the assignment → [`Report`] → text, and back.
//! Pure: nothing is looked up here.

mod build;
mod file;
mod input;

pub use input::{HeldRung, PassKind, PlayedChange, PlayedPass, Practised};

use serde::{Deserialize, Serialize};
use sixrung_lesson::Tempo;
use sixrung_practice::Date;

use crate::assignment::Assignment;
use crate::paper::{Kind, Line};

/// How the names of these files end.
pub const ENDING: &str = ".report.ron";

/// The form these files have.
static FORM: Kind =
    Kind { name: "Report", called: "a report", version: 1, most_bytes: 256 << 10, made_by: "sixrung report" };

/// How a learner did with an assignment.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Report {
    /// The version of its form.
    pub version: u32,
    /// Who it is of: as the assignment says.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub learner: Option<Line>,
    /// The lesson's title.
    pub lesson: Line,
    /// The fingerprint of the lesson's text.
    #[serde(with = "file::hash")]
    pub lesson_hash: u64,
    /// The fingerprint of the assignment, see [`Assignment::id`].
    #[serde(with = "file::hash")]
    pub assignment: u64,
    /// What was asked.
    pub asked: Asked,
    /// Each day on which something was played, oldest first.
    pub days: Vec<DayRow>,
    /// Each section that was asked for or played, in the lesson's order, the whole piece last.
    pub sections: Vec<SectionRow>,
    /// The change of chord that took longest.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slowest_change: Option<SlowChange>,
    /// Where the strokes lay, over all passes that were heard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub timing: Option<Timing>,
    /// How the sound's round trip was measured.
    pub calibrated: Calibrated,
    /// Passes in another arrangement: in the minutes, in no other number.
    pub other_arrangement: u32,
    /// Passes with another version of the lesson: in no number.
    pub other_lesson: u32,
    /// Whether the learner said that something hurt, on a day with this lesson.
    pub pain: bool,
    /// A line from the learner.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub note: Option<Line>,
}

/// What was asked, for the reader to hold the numbers against.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Asked {
    /// The arrangement.
    pub arrangement: Line,
    /// The first rung, in beats a minute.
    #[serde(with = "file::bpm")]
    pub start: Tempo,
    /// The last.
    #[serde(with = "file::bpm")]
    pub goal: Tempo,
    /// The lesson's tempo.
    #[serde(with = "file::bpm")]
    pub original: Tempo,
    /// On how many days.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days: Option<u16>,
    /// How many minutes on each.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub minutes: Option<u16>,
    /// From which day on.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "file::date_or_none")]
    pub from: Option<Date>,
    /// Until which day.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "file::date_or_none")]
    pub due: Option<Date>,
}

/// One day.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct DayRow {
    /// The day.
    #[serde(with = "file::date")]
    pub date: Date,
    /// Minutes in which passes were played, loops of bars and exercises among them.
    #[serde(with = "file::finite")]
    pub minutes: f64,
    /// Whether the learner said that something hurt.
    pub pain: bool,
}

/// One section in the arrangement asked for.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SectionRow {
    /// Its name; `None` for the whole piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub section: Option<Line>,
    /// Whether it was asked for.
    pub asked: bool,
    /// Passes that were listened to.
    pub heard: Tally,
    /// Passes that the learner marked.
    pub self_marked: Tally,
    /// The bar with the most faults; `None` where none was heard.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub worst_bar: Option<WorstBar>,
}

/// Passes through a section, counted.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Tally {
    /// All of them.
    pub passes: u32,
    /// Clean ones.
    pub clean: u32,
    /// Ones that could not be judged: never the learner's fault.
    pub not_judged: u32,
    /// Times the ladder went a rung down.
    pub falls: u32,
    /// The fastest tempo of a clean pass, in beats a minute.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "file::bpm_or_none")]
    pub best: Option<Tempo>,
    /// The fastest rung that is held: clean at first try, half a day or more after it was last played.
    #[serde(default, skip_serializing_if = "Option::is_none", with = "file::bpm_or_none")]
    pub held: Option<Tempo>,
}

/// A bar and what went wrong in it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WorstBar {
    /// Its number in the section, from 1.
    pub bar: u32,
    /// Strokes that were early, late, missed or of another chord.
    pub faults: u32,
    /// Passes they are of.
    pub passes: u32,
}

/// A change of chord.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct SlowChange {
    /// The shape left.
    pub from: Line,
    /// The shape reached.
    pub to: Line,
    /// The middle of the times it took, in seconds.
    #[serde(with = "file::finite")]
    pub median_s: f64,
    /// How many times.
    pub count: u32,
}

/// Where the strokes lay.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Timing {
    /// The middle of the passes' median offsets, in milliseconds; early is negative.
    #[serde(with = "file::finite")]
    pub offset_ms: f64,
    /// The middle of their spreads, in milliseconds.
    #[serde(with = "file::finite")]
    pub spread_ms: f64,
    /// Over how many passes.
    pub passes: u32,
}

/// How the sound's round trip was measured. Tapping along finds it less the player's own anticipation, which then is
/// missing in the offsets.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Calibrated {
    /// It was not.
    #[default]
    Unknown,
    /// From a pass played along.
    FromPass,
    /// The program heard its own sound.
    Loopback,
    /// The learner tapped along with a click.
    TapAlong,
    /// Set by hand.
    ByHand,
}

/// Whether a report answers an assignment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Answers {
    /// It does.
    This,
    /// It is of the same lesson, but other things were asked.
    AnotherAssignment,
    /// It is of another lesson, or another version of its text.
    AnotherLesson,
}

impl Report {
    /// Whether it answers this assignment.
    #[must_use]
    pub fn answers(&self, assignment: &Assignment) -> Answers {
        if self.lesson_hash != assignment.lesson_hash() {
            Answers::AnotherLesson
        } else if self.assignment != assignment.id() {
            Answers::AnotherAssignment
        } else {
            Answers::This
        }
    }

    /// Minutes played on all days.
    #[must_use]
    pub fn minutes(&self) -> f64 {
        self.days.iter().map(|day| day.minutes).sum()
    }
}
