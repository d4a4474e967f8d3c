//! What a report is made from: plain data, whoever keeps it.

use sixrung_lesson::Tempo;
use sixrung_practice::{Day, Marked, Verdict};

use super::Calibrated;
use crate::paper::Line;

/// All that is known of the practice with one lesson, since the assignment's first day.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Practised {
    /// The passes, in any order.
    pub passes: Vec<PlayedPass>,
    /// Changes of chord that were timed.
    pub changes: Vec<PlayedChange>,
    /// Rungs that are held, in the arrangement asked for.
    pub held: Vec<HeldRung>,
    /// Days on which this lesson was practised and the learner said that something hurt.
    pub hurt: Vec<Day>,
    /// How the round trip was measured.
    pub calibrated: Calibrated,
    /// Passes with another version of the lesson, which are not among [`Self::passes`].
    pub other_lesson: u32,
    /// A line from the learner.
    pub note: Option<Line>,
}

/// One pass.
#[derive(Clone, Debug, PartialEq)]
pub struct PlayedPass {
    /// The practice day.
    pub day: Day,
    /// How long it took, in seconds.
    pub seconds: f64,
    /// The section; `None` for the whole piece.
    pub section: Option<String>,
    /// The arrangement's name.
    pub arrangement: String,
    /// What it was.
    pub kind: PassKind,
    /// The tempo.
    pub tempo: Tempo,
    /// The outcome.
    pub verdict: Verdict,
    /// Who says so.
    pub marked: Marked,
    /// Whether the ladder went a rung down after it.
    pub fell: bool,
    /// Median of its offsets in milliseconds, early is negative.
    pub offset_ms: Option<f64>,
    /// Spread of its offsets in milliseconds.
    pub spread_ms: Option<f64>,
    /// Bars of the section from 0, or of the piece, and the strokes that went wrong in each; only bars in which some did.
    pub faults: Vec<(u32, u32)>,
}

/// What a pass was.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum PassKind {
    /// All of the section with its changes: what the ladder counts.
    Through,
    /// A loop of bars, one stroke a change, the pattern on one chord.
    Exercise,
}

/// One change of chord.
#[derive(Clone, Debug, PartialEq)]
pub struct PlayedChange {
    /// The name of the shape left.
    pub from: String,
    /// The name of the shape reached.
    pub to: String,
    /// How long it took, in seconds.
    pub took_s: f64,
}

/// A rung that is held.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct HeldRung {
    /// The section; `None` for the whole piece.
    pub section: Option<String>,
    /// The tempo.
    pub tempo: Tempo,
    /// Who says so.
    pub marked: Marked,
}
