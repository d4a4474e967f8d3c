//! What the page between teacher and learner shows.

use sixrung_lesson::Level;

use crate::text::report::COLUMNS;

/// What is asked, or how it went.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HandOverPage {
    /// Which of the two.
    pub side: HandOverSide,
    /// Why a report that came can't be shown; may be empty.
    pub trouble: String,
    /// What became of the last wish; may be empty.
    pub said: String,
}

/// Who is at it, with what.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum HandOverSide {
    /// No lesson is open.
    #[default]
    Nobody,
    /// A teacher asks.
    Ask(Box<AskView>),
    /// A learner answers what was asked.
    Answer(Box<AnswerView>),
    /// A teacher reads what came.
    Received(ReportView),
}

/// What a teacher asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct AskView {
    /// The lesson, in a few words.
    pub lesson: String,
    /// Who it is for.
    pub learner: String,
    /// The arrangements, and which is asked for.
    pub arrangements: (Vec<String>, usize),
    /// The sections, and whether each is asked for.
    pub sections: Vec<(String, bool)>,
    /// The rungs as printed, slowest first.
    pub rungs: Vec<String>,
    /// The first and the last asked for, by place.
    pub span: (usize, usize),
    /// How patient the timing window is.
    pub level: Level,
    /// Clean passes that climb, others that fall.
    pub climb: (u16, u16),
    /// Days, and minutes on each.
    pub plan: (u16, u16),
    /// Days until it is due, and in words.
    pub due: (u16, String),
    /// What to attend to.
    pub focus: String,
    /// When to stop.
    pub stop_on: String,
    /// All of it in one line, or what does not fit.
    pub summary: Result<String, String>,
    /// Whether one was written that can be tried.
    pub can_try: bool,
    /// Whether the lesson came with an assignment, which can be answered.
    pub can_answer: bool,
}

/// What a learner was asked, and what the report says.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct AnswerView {
    /// What to attend to.
    pub asked: String,
    /// What is going to be written; `None` where the journal can't be read.
    pub report: Option<ReportView>,
    /// The learner's line.
    pub note: String,
    /// Why the line can't be sent; may be empty.
    pub note_trouble: String,
}

/// A report, ready to read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ReportView {
    /// Who, what, how much.
    pub head: Vec<String>,
    /// A line each day.
    pub days: Vec<String>,
    /// What was heard of each section.
    pub rows: Vec<[String; COLUMNS]>,
    /// The rest.
    pub findings: Vec<String>,
}
