//! Between teacher and learner in the room: an assignment made of the lesson on the stand, a report of what was done
//! with the one it came with, and a report that came back.

mod draft;
mod page;

use std::io;
use std::path::{Path, PathBuf};

use sixrung_exchange::assignment::{self, Assignment};
use sixrung_exchange::paper::Line;
use sixrung_exchange::report::{self, Practised, Report};
use sixrung_practice::{Date, Day, Moment};

use super::Studio;
use crate::files::{stem, write_new};
use crate::hand_back::practised;
use crate::library::Source;
use crate::session::Stage;
use crate::stand::{HandOverWish, Page};
use crate::text::hand_over as text;
use draft::Draft;

/// The most bytes read of a report: more than one may have, so that it can say so.
const MOST_BYTES: u64 = 2 << 20;

/// What the room knows of the page.
#[derive(Default)]
pub(super) struct HandingOver {
    today: Day,
    /// What a teacher asks for, while one does.
    draft: Option<Draft>,
    /// What was practised with the assignment on the stand.
    practised: Option<Practised>,
    note: String,
    /// A report that came.
    received: Option<Report>,
    /// The assignment written last.
    written: Option<PathBuf>,
    said: String,
}

impl Studio {
    /// The page is opened: a lesson is asked with, an assignment answered.
    pub(super) fn open_hand_over(&mut self, now: Moment) {
        let zone = self.session.zone();
        // A sentence half typed is not lost by a look at the stand.
        let old = std::mem::take(&mut self.handing);
        let same = old.today == now.day(zone);
        self.handing =
            HandingOver { today: now.day(zone), note: old.note, received: old.received, ..HandingOver::default() };
        let Some(stage) = self.session.stage() else { return };
        if let Some(assignment) = stage.assigned.clone() {
            let asked = std::sync::Arc::clone(&assignment);
            let found = self.keeper.ask(|journal| journal.ask(move |journal| practised(journal, &asked, zone, None)));
            self.handing.practised = found;
        } else {
            let kept = old.draft.filter(|draft| same && draft.lesson_hash == stage.hash);
            self.handing.written = old.written.filter(|_| kept.is_some());
            self.handing.draft = Some(kept.unwrap_or_else(|| Draft::of(&stage.lesson, stage.hash)));
        }
    }

    pub(super) fn hand_over_wish(&mut self, wish: HandOverWish, now: Moment) {
        self.handing.said.clear();
        match wish {
            HandOverWish::Ask(asked) => {
                let Some(stage) = self.session.stage() else { return };
                if let Some(draft) = &mut self.handing.draft {
                    draft.ask(asked, original(stage));
                }
            }
            HandOverWish::Anew => {
                let Some(stage) = self.session.stage() else { return };
                self.handing.draft = Some(Draft::of(original(stage), stage.hash));
            }
            HandOverWish::WriteAssignment => self.write_assignment(),
            HandOverWish::TryIt => {
                if let Some(path) = self.handing.written.take() {
                    self.open_lesson(Source::File(path), now);
                }
            }
            HandOverWish::Note(note) => self.handing.note = note,
            HandOverWish::WriteReport => self.write_report(),
            HandOverWish::Read(path) => self.read_report(&path, now),
            HandOverWish::CloseReport => self.handing.received = None,
        }
    }

    /// Shows a report that a learner sent. What is wrong with it is told instead.
    pub(super) fn read_report(&mut self, path: &Path, now: Moment) {
        self.show_page(Some(Page::HandOver), now);
        match report_at(path) {
            Ok(report) => self.handing.received = Some(report),
            Err(wrong) => self.handing.said = wrong,
        }
    }

    /// What is asked, with the lesson as its text is now.
    fn assignment(&self) -> Result<Assignment, String> {
        let stage = self.session.stage().ok_or(text::EMPTY)?;
        let draft = self.handing.draft.as_ref().ok_or(text::EMPTY)?;
        let task = draft.task(original(stage), self.handing.today)?;
        let bytes = match &stage.assigned {
            Some(assigned) => assigned.lesson_text().as_bytes().to_vec(),
            None => stage.source.text().map_err(|unreadable| text::wrong(&unreadable.message, &unreadable.hint))?,
        };
        Assignment::new(&bytes, task).map_err(|not_made| match not_made {
            assignment::NotMade::Lesson(findings) => {
                let first = findings.first().map(ToString::to_string).unwrap_or_default();
                text::wrong(first.lines().next().unwrap_or_default(), "")
            }
            assignment::NotMade::Task(wrong) => text::wrong(&wrong.message, &wrong.hint),
        })
    }

    fn write_assignment(&mut self) {
        let written = self.assignment().and_then(|assignment| {
            let learner = assignment.task().learner.as_ref().map_or("", Line::as_str);
            let stem = stem("", &assignment.original().title, &[learner]);
            self.write_paper(&stem, assignment::ENDING, &assignment.to_text())
        });
        self.handing.said = match written {
            Ok(path) => {
                let said = text::written(&path);
                self.handing.written = Some(path);
                said
            }
            Err(wrong) => wrong,
        };
    }

    /// The report as it would be written now.
    fn report(&self) -> Option<Report> {
        let assignment = self.session.stage()?.assigned.as_ref()?;
        let practised = self.handing.practised.as_ref()?;
        let note = Line::new(&self.handing.note).ok();
        Some(Report::of(assignment, &Practised { note, ..practised.clone() }))
    }

    fn write_report(&mut self) {
        let Some(report) = self.report() else { return };
        let learner = report.learner.as_ref().map_or("", Line::as_str);
        let today = Date::of(self.handing.today).to_string();
        let stem = stem("", report.lesson.as_str(), &[learner, &today]);
        self.handing.said = match self.write_paper(&stem, report::ENDING, &report.to_text()) {
            Ok(path) => text::written(&path),
            Err(wrong) => wrong,
        };
    }

    /// Writes a text whole or not at all, over nothing that is there.
    fn write_paper(&self, stem: &str, ending: &str, content: &str) -> Result<PathBuf, String> {
        let folder = self.paper_folder().ok_or(text::NO_FOLDER)?;
        write_new(folder, stem, ending, content.as_bytes())
            .map_err(|error| text::wrong(&format!("{}: {error}", folder.display()), ""))
    }
}

/// The lesson as its text has it, whatever an assignment made of it.
fn original(stage: &Stage) -> &sixrung_lesson::Lesson {
    stage.assigned.as_ref().map_or(&stage.lesson, |assignment| assignment.original())
}

fn report_at(path: &Path) -> Result<Report, String> {
    let unread = |error: io::Error| text::wrong(&format!("{}: {error}", path.display()), "");
    let size = std::fs::metadata(path).map_err(unread)?.len();
    if size > MOST_BYTES {
        return Err(text::wrong(&format!("{}: {size} bytes are more than a report has", path.display()), ""));
    }
    let bytes = std::fs::read(path).map_err(unread)?;
    Report::read(&bytes).map_err(|refusal| {
        let told = refusal.told();
        text::wrong(&format!("{}: {}", path.display(), told.lines().next().unwrap_or_default()), &refusal.hint)
    })
}
