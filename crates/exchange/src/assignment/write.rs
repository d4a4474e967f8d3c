//! From an assignment to its text.

use ron::ser::PrettyConfig;
use serde::Serialize;
use sixrung_lesson::Level;
use sixrung_practice::{Date, Policy};

use super::policy::PolicyForm;
use super::{Assignment, FORM};
use crate::paper::{Line, ron};

/// What is written. Fields left out are as the lesson has them.
#[derive(Serialize)]
#[serde(rename = "Assignment")]
struct AssignmentForm<'a> {
    version: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    learner: Option<&'a Line>,
    #[serde(skip_serializing_if = "Option::is_none")]
    arrangement: Option<&'a str>,
    #[serde(skip_serializing_if = "<[String]>::is_empty")]
    sections: &'a [String],
    #[serde(skip_serializing_if = "Option::is_none")]
    start: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    goal: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    clean: Option<CleanForm>,
    #[serde(skip_serializing_if = "Option::is_none")]
    policy: Option<PolicyForm>,
    #[serde(skip_serializing_if = "Option::is_none")]
    days: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    minutes: Option<u16>,
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    due: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    focus: Option<&'a Line>,
    #[serde(skip_serializing_if = "Option::is_none")]
    stop_on: Option<&'a Line>,
    lesson_hash: String,
    lesson: &'a str,
}

/// What counts as clean.
#[derive(Serialize)]
struct CleanForm {
    #[serde(skip_serializing_if = "Option::is_none")]
    level: Option<&'static str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    faults: Option<u16>,
}

impl Assignment {
    /// The file's text: a few lines for people, then what is asked, then the lesson.
    #[must_use]
    pub fn to_text(&self) -> String {
        let config = PrettyConfig::new().compact_arrays(true).escape_strings(false);
        let text = ron().to_string_pretty(&form(self), config).expect("texts and numbers can always be written");
        let title = Line::cut(&self.lesson.title).map_or_else(String::new, |title| format!(" with \"{title}\""));
        format!(
            "// What to practise{title}: an assignment made with Sixrung.\n\
             // Open it there, as you would a lesson. What is asked comes first, the lesson itself after it.\n\
             {}{text}\n",
            FORM.name
        )
    }
}

/// All of it in one line, the same for the same assignment.
pub(super) fn plainly(assignment: &Assignment) -> String {
    ron().to_string(&form(assignment)).expect("texts and numbers can always be written")
}

fn form(assignment: &Assignment) -> AssignmentForm<'_> {
    let task = &assignment.task;
    let usual = Policy::of(&assignment.lesson.ladder);
    AssignmentForm {
        version: FORM.version,
        learner: task.learner.as_ref(),
        arrangement: task.arrangement.as_deref(),
        sections: &task.sections,
        start: task.start.map(sixrung_lesson::Tempo::bpm),
        goal: task.goal.map(sixrung_lesson::Tempo::bpm),
        clean: (task.level.is_some() || task.faults.is_some())
            .then(|| CleanForm { level: task.level.map(level_word), faults: task.faults }),
        policy: task.policy.map(|policy| PolicyForm::of(&policy, &usual)),
        days: task.days,
        minutes: task.minutes,
        from: task.from.as_ref().map(Date::to_string),
        due: task.due.as_ref().map(Date::to_string),
        focus: task.focus.as_ref(),
        stop_on: task.stop_on.as_ref(),
        lesson_hash: crate::paper::hash_text(assignment.hash),
        lesson: &assignment.text,
    }
}

pub(super) const fn level_word(level: Level) -> &'static str {
    match level {
        Level::Beginner => "beginner",
        Level::Improver => "improver",
        Level::Advanced => "advanced",
    }
}
