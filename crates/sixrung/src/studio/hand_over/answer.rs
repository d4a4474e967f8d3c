//! A learner answers: the report of what was done; and a report that came, read.

use std::path::Path;
use std::sync::Arc;

use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::paper::Line;
use sixrung_exchange::report::{ENDING, Practised, Report};
use sixrung_journal::{JournalWorker, PlayerId};
use sixrung_practice::{Date, Moment};

use super::super::Studio;
use crate::files::{MOST_PAPER, Unread, read_at_most, stem, write_new};
use crate::hand_back::practised;
use crate::stand::Page;
use crate::text::hand_over as text;

/// The learner's line for one teacher.
#[derive(Default)]
pub(super) struct Note {
    /// The assignment it answers, and who does.
    of: Option<(u64, Option<PlayerId>)>,
    pub(super) line: String,
}

impl Note {
    /// A line that was typed for another assignment, or by another player, is not carried over to this one.
    fn is_of(&mut self, assignment: u64, player: Option<PlayerId>) {
        let of = Some((assignment, player));
        if self.of != of {
            *self = Self { of, line: String::new() };
        }
    }
}

impl Studio {
    /// What was practised with an assignment is counted, and its note begun or gone on with.
    pub(super) fn look_what_was_done(&mut self, assignment: &Arc<Assignment>) {
        let player = self.keeper.ask(JournalWorker::players).map(|(_, player)| player);
        self.handing.note.is_of(assignment.id(), player);
        let (asked, zone) = (Arc::clone(assignment), self.session.zone());
        let found = self.keeper.ask(|journal| journal.ask(move |journal| practised(journal, &asked, zone, None)));
        self.handing.practised = found;
    }

    /// The report as it would be written now.
    pub(super) fn report(&self) -> Option<Report> {
        let assignment = self.session.stage()?.assigned.as_ref()?;
        let practised = self.handing.practised.as_ref()?;
        let note = Line::new(&self.handing.note.line).ok();
        Some(Report::of(assignment, &Practised { note, ..practised.clone() }))
    }

    pub(super) fn write_report(&mut self) {
        let Some(report) = self.report() else { return };
        let learner = report.learner.as_ref().map_or("", Line::as_str);
        let today = Date::of(self.handing.today).to_string();
        let stem = stem("", report.lesson.as_str(), &[learner, &today]);
        self.handing.said = match self.paper_folder() {
            None => text::NO_FOLDER.to_owned(),
            Some(folder) => match write_new(folder, &stem, ENDING, report.to_text().as_bytes()) {
                Ok(path) => text::report_written(&path),
                Err(error) => text::wrong_at(&format!("{}: {error}", folder.display()), ""),
            },
        };
    }

    /// Shows a report that a learner sent. What is wrong with it is told instead.
    pub(in super::super) fn read_report(&mut self, path: &Path, now: Moment) {
        self.show_page(Some(Page::HandOver), now);
        let read = report_at(path);
        self.handing.trouble = read.as_ref().err().cloned().unwrap_or_default();
        self.handing.received = read.ok();
    }
}

fn report_at(path: &Path) -> Result<Report, String> {
    let told = |what: &str, hint: &str| text::wrong_at(&format!("{}: {what}", path.display()), hint);
    let bytes = read_at_most(path, MOST_PAPER).map_err(|unread| match unread {
        Unread::Disk(error) => told(&error.to_string(), ""),
        Unread::TooLong(size) => told(&format!("{size} bytes are more than a report has"), ""),
    })?;
    Report::read(&bytes).map_err(|refusal| told(refusal.told().lines().next().unwrap_or_default(), &refusal.hint))
}
