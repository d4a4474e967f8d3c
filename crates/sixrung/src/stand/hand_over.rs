//! What can be wished between teacher and learner.

use std::path::PathBuf;

use sixrung_lesson::Level;

/// A wish on the page of assignments and reports.
#[derive(Clone, Debug, PartialEq)]
pub enum HandOverWish {
    /// What is asked, changed in one place.
    Ask(Asked),
    /// Writes the assignment.
    WriteAssignment,
    /// Puts the assignment written last on the stand.
    TryIt,
    /// Asks for something with the lesson on the stand, although it came with an assignment.
    Anew,
    /// Back from it, to the report.
    Answer,
    /// The learner's line for the teacher.
    Note(String),
    /// Writes the report.
    WriteReport,
    /// Reads a report that a learner sent.
    Read(PathBuf),
    /// Back from it.
    CloseReport,
}

/// One thing asked for.
#[derive(Clone, Debug, PartialEq)]
pub enum Asked {
    /// Who it is for.
    Learner(String),
    /// The arrangement, by its place in the lesson's list.
    Arrangement(usize),
    /// This section too, or no longer.
    Section(usize),
    /// Every section, or none of them.
    Sections(bool),
    /// The first rung, by its place on the lesson's ladder.
    Start(usize),
    /// The last.
    Goal(usize),
    /// How patient the timing window is.
    Level(Level),
    /// Clean passes in a row that climb.
    UpAfter(u16),
    /// Passes in a row that were not clean and fall.
    DownAfter(u16),
    /// On how many days.
    Days(u16),
    /// How many minutes on each.
    Minutes(u16),
    /// Due in so many days; 0 for no date.
    DueIn(u16),
    /// What to attend to.
    Focus(String),
    /// When to stop and ask.
    StopOn(String),
}
