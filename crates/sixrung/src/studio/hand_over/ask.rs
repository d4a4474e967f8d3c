//! A teacher asks: the draft becomes an assignment, and that a file.

use std::sync::Arc;

use sixrung_exchange::assignment::{Assignment, ENDING, NotMade, Task};
use sixrung_exchange::paper::Line;

use super::super::Studio;
use super::draft::Draft;
use super::original;
use crate::files::{stem, write_new};
use crate::session::Stage;
use crate::text::hand_over as text;

impl Studio {
    /// Something is asked with the lesson on the stand: what was drafted for its text before, or all of it.
    pub(super) fn begin_asking(&mut self) {
        let Some(stage) = self.session.stage() else { return };
        self.handing.lesson = Some(lesson(stage));
        if self.handing.draft.as_ref().is_none_or(|draft| draft.lesson_hash != stage.hash) {
            self.handing.draft = Some(Draft::of(original(stage), stage.hash));
            self.handing.written = None;
        }
    }

    /// What is asked, as it is drafted now.
    pub(super) fn assignment(&self) -> Result<Assignment, String> {
        let stage = self.session.stage().ok_or(text::EMPTY)?;
        let draft = self.handing.draft.as_ref().ok_or(text::EMPTY)?;
        let lesson = self.handing.lesson.as_ref().ok_or(text::EMPTY)?.as_ref().map_err(String::clone)?;
        let task = draft.task(original(stage), self.handing.today)?;
        lesson.asking(task).map_err(|wrong| text::wrong(&wrong.message, &wrong.hint))
    }

    /// Writes it, with the lesson as its text is now.
    pub(super) fn write_assignment(&mut self) {
        self.handing.lesson = self.session.stage().map(lesson);
        let written = self.assignment().and_then(|assignment| {
            let learner = assignment.task().learner.as_ref().map_or("", Line::as_str);
            let stem = stem("", &assignment.original().title, &[learner]);
            let folder = self.paper_folder().ok_or(text::NO_FOLDER)?;
            write_new(folder, &stem, ENDING, assignment.to_text().as_bytes())
                .map_err(|error| text::wrong_at(&format!("{}: {error}", folder.display()), ""))
        });
        self.handing.said = match &written {
            Ok(path) => text::assignment_written(path),
            Err(wrong) => wrong.clone(),
        };
        self.handing.written = written.ok();
    }
}

/// The lesson on the stand to ask with, as its text is now: an assignment that asks for nothing in particular.
fn lesson(stage: &Stage) -> Result<Arc<Assignment>, String> {
    if let Some(assignment) = &stage.assigned {
        return Ok(Arc::clone(assignment));
    }
    let text = stage.source.text().map_err(|unreadable| text::wrong_at(&unreadable.message, &unreadable.hint))?;
    Assignment::new(&text, Task::default()).map(Arc::new).map_err(|not_made| match not_made {
        NotMade::Lesson(findings) => {
            let first = findings.first().map(ToString::to_string).unwrap_or_default();
            text::wrong(first.lines().next().unwrap_or_default(), "")
        }
        NotMade::Task(wrong) => text::wrong(&wrong.message, &wrong.hint),
    })
}
