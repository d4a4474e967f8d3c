//! Between teacher and learner in the room: an assignment made of the lesson on the stand, a report of what was done
//! with the one it came with, and a report that came back.

mod answer;
mod ask;
mod draft;
mod page;

use std::path::PathBuf;
use std::sync::Arc;

use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::report::{Practised, Report};
use sixrung_practice::{Day, Moment};

use super::Studio;
use crate::library::Source;
use crate::session::Stage;
use crate::stand::HandOverWish;
use crate::text::hand_over as text;
use answer::Note;
use draft::Draft;

/// What the room knows of the page.
#[derive(Default)]
pub(super) struct HandingOver {
    today: Day,
    /// What a teacher asks for: kept until something is asked with another text.
    draft: Option<Draft>,
    /// Something is asked with the lesson on the stand, although it came with an assignment.
    asks_anew: bool,
    /// What is asked is asked with this lesson, as its text was when it was last looked for; or why there is none.
    lesson: Option<Result<Arc<Assignment>, String>>,
    /// The assignment written last, as long as the draft says the same.
    written: Option<PathBuf>,
    /// What was practised with the assignment on the stand.
    practised: Option<Practised>,
    note: Note,
    /// A report that came.
    received: Option<Report>,
    /// Why the last one that came can't be shown.
    trouble: String,
    said: String,
}

impl HandingOver {
    /// An assignment was put on the stand: it is there to be answered.
    pub(super) fn answer(&mut self) {
        self.asks_anew = false;
    }

    /// Another player's turn: what one wrote or was sent is not for the other.
    pub(super) fn forget_player(&mut self) {
        self.note = Note::default();
        self.practised = None;
        self.received = None;
    }
}

impl Studio {
    /// The page is opened: a lesson is asked with, an assignment answered. What was half typed is still there.
    pub(super) fn open_hand_over(&mut self, now: Moment) {
        let handing = &mut self.handing;
        handing.today = now.day(self.session.zone());
        handing.practised = None;
        handing.trouble.clear();
        handing.said.clear();
        let Some(stage) = self.session.stage() else { return };
        let assigned = stage.assigned.clone();
        if let Some(assignment) = &assigned {
            self.look_what_was_done(assignment);
        }
        if assigned.is_none() || self.handing.asks_anew {
            self.begin_asking();
        }
    }

    pub(super) fn hand_over_wish(&mut self, wish: HandOverWish, now: Moment) {
        self.handing.trouble.clear();
        self.handing.said.clear();
        match wish {
            HandOverWish::Ask(asked) => {
                let Some(stage) = self.session.stage() else { return };
                if let Some(draft) = &mut self.handing.draft {
                    draft.ask(asked, original(stage));
                    self.handing.written = None;
                }
            }
            HandOverWish::Anew => {
                self.handing.asks_anew = true;
                self.handing.written = None;
                self.begin_asking();
            }
            HandOverWish::Answer => self.handing.answer(),
            HandOverWish::WriteAssignment => self.write_assignment(),
            HandOverWish::TryIt => {
                if let Some(path) = self.handing.written.clone() {
                    self.open_lesson(Source::File(path), now);
                    // The stand says it too, but that is not in sight.
                    if let Some(problem) = self.problems.last() {
                        self.handing.said = text::wrong_at(&problem.text, &problem.hint);
                    }
                }
            }
            HandOverWish::Note(line) => self.handing.note.line = line,
            HandOverWish::WriteReport => self.write_report(),
            HandOverWish::Read(path) => self.read_report(&path, now),
            HandOverWish::CloseReport => self.handing.received = None,
        }
    }
}

/// The lesson as its text has it, whatever an assignment made of it.
fn original(stage: &Stage) -> &sixrung_lesson::Lesson {
    stage.assigned.as_ref().map_or(&stage.lesson, |assignment| assignment.original())
}
