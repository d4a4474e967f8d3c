//! Words of the page between teacher and learner.

use std::path::Path;

use sixrung_lesson::Lesson;
use sixrung_practice::Date;

use super::report::counted;

/// With no lesson open.
pub const EMPTY: &str = "Open a lesson, and you can ask something of a learner with it. Open an assignment, and here will \
                         be what is asked of you, and your report for your teacher.";
/// Heading where a teacher asks for something.
pub const ASK: &str = "An assignment";
/// What it is.
pub const ASK_LEAD: &str = "One file with this lesson and what you ask. Your learner opens it, and the stand, the ladder and \
                            the plan for today follow it.";
/// The field for the learner's name.
pub const LEARNER: &str = "for whom";
/// In it while it is empty.
pub const LEARNER_HINT: &str = "a first name or nickname";
/// The sections asked for.
pub const SECTIONS: &str = "sections";
/// Takes every section in.
pub const ALL_SECTIONS: &str = "all of them";
/// Takes every section out.
pub const NO_SECTIONS: &str = "none, then choose";
/// The arrangement asked for.
pub const ARRANGEMENT: &str = "arrangement";
/// The tempi.
pub const TEMPO: &str = "tempo";
/// The first rung.
pub const START: &str = "from";
/// The last.
pub const GOAL: &str = "to";
/// How the ladder is climbed.
pub const CLIMB: &str = "the climb";
/// Clean passes that climb.
pub const UP_AFTER: &str = "up after";
/// Others that fall.
pub const DOWN_AFTER: &str = "down after";
/// How much.
pub const PLAN: &str = "how much";
/// Days.
pub const DAYS: &str = "on";
/// Minutes.
pub const MINUTES: &str = "each day";
/// The day it is due.
pub const DUE: &str = "due in";
/// What to attend to.
pub const FOCUS: &str = "one thing to attend to";
/// In its field while that is empty.
pub const FOCUS_HINT: &str = "for example: let the low strings ring on Bm7";
/// When to stop.
pub const STOP_ON: &str = "when to stop";
/// In its field while that is empty.
pub const STOP_ON_HINT: &str = "for example: stop when the wrist aches, and tell me";
/// Writes the assignment.
pub const WRITE_ASSIGNMENT: &str = "Write the assignment";
/// Opens it as the learner would.
pub const TRY_IT: &str = "Open it as your learner will";
/// No section is chosen.
pub const NO_SECTION: &str = "Choose at least one section.";
/// Heading of a learner's own report.
pub const REPORT: &str = "Your report";
/// What is in it and what is not.
pub const REPORT_LEAD: &str =
    "This is all that it holds: numbers, and your line if you write one. No sound, no file names.";
/// The field for the learner's line.
pub const NOTE: &str = "a line for your teacher";
/// In it while it is empty.
pub const NOTE_HINT: &str = "what was hard, what you would like to play";
/// Writes the report.
pub const WRITE_REPORT: &str = "Write the report";
/// On to asking.
pub const ANEW: &str = "Ask something of a learner with this lesson";
/// Back from it.
pub const ANSWER: &str = "Back to your report";
/// Heading of a report that came.
pub const RECEIVED: &str = "A learner’s report";
/// How one comes here.
pub const DROP: &str = "A report that a learner sends you: drop it on this window, and it is shown here.";
/// Away with it.
pub const CLOSE_REPORT: &str = "Close this report";
/// Above the table.
pub const TABLE: &str = "by section";
/// Above the days.
pub const DAYS_PLAYED: &str = "minutes by day";
/// There is nowhere to write.
pub const NO_FOLDER: &str = "There is no folder to write into.";
/// Nothing can be counted.
pub const NO_JOURNAL: &str = "The journal could not be read, so there is nothing to report.";

/// An assignment is there.
#[must_use]
pub fn assignment_written(path: &Path) -> String {
    format!("Written. Send this file to your learner: {}", path.display())
}

/// A report is there.
#[must_use]
pub fn report_written(path: &Path) -> String {
    format!("Written. Send this file to your teacher: {}", path.display())
}

/// What went wrong, as a sentence of the page.
#[must_use]
pub fn wrong(message: &str, hint: &str) -> String {
    let mut letters = message.chars();
    let message: String = letters.next().into_iter().flat_map(char::to_uppercase).chain(letters).collect();
    wrong_at(&message, hint)
}

/// The same of a message that begins with a path: that stays as it is.
#[must_use]
pub fn wrong_at(message: &str, hint: &str) -> String {
    if hint.is_empty() { format!("{message}.") } else { format!("{message}: {hint}.") }
}

/// What is wrong with what was typed into a field.
#[must_use]
pub fn no_line(field: &str, why: &str) -> String {
    format!("{field}: {why}.")
}

/// So many clean passes.
#[must_use]
pub fn clean(count: u16) -> String {
    format!("{count} clean")
}

/// So many passes that were not.
#[must_use]
pub fn not_clean(count: u16) -> String {
    format!("{count} not clean")
}

/// So many days.
#[must_use]
pub fn days(count: u16) -> String {
    counted(count.into(), "day")
}

/// When it is due.
#[must_use]
pub fn due(in_days: u16) -> String {
    if in_days == 0 { "no date".to_owned() } else { days(in_days) }
}

/// A day and its minutes.
#[must_use]
pub fn day(date: Date, minutes: f64, pain: bool) -> String {
    let hurt = if pain { ", something hurt" } else { "" };
    format!("{date}: {minutes:.0} min{hurt}")
}

/// The lesson, on the page.
#[must_use]
pub fn lesson(lesson: &Lesson) -> String {
    format!("“{}”, {} at its own tempo", lesson.title, crate::session::bpm_text(lesson.tempo))
}

#[cfg(test)]
mod tests {
    use super::{wrong, wrong_at};

    #[test]
    fn a_sentence_begins_with_a_capital_but_a_path_stays_as_it_is() {
        assert_eq!(wrong("there is no section \"x\"", "name one"), "There is no section \"x\": name one.");
        assert_eq!(wrong("ärger", ""), "Ärger.");
        assert_eq!(wrong("", ""), ".");
        assert_eq!(wrong_at("mira.report.ron: gone", ""), "mira.report.ron: gone.");
    }
}
