//! The page between teacher and learner, filled.

use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::paper::Line;
use sixrung_exchange::report::Report;

use super::super::Studio;
use super::draft::{Draft, rungs};
use super::original;
use crate::pages::{AnswerView, AskView, HandOverPage, HandOverSide, ReportView};
use crate::session::{Stage, bpm};
use crate::text::{hand_over as text, report as told};

impl Studio {
    /// What the page shows.
    #[must_use]
    pub(crate) fn hand_over_page(&self) -> HandOverPage {
        let handing = &self.handing;
        let side = match (&handing.received, self.session.stage()) {
            (Some(report), _) => HandOverSide::Received(view(report)),
            (None, None) => HandOverSide::Nobody,
            (None, Some(stage)) => match (&stage.assigned, &handing.draft) {
                (Some(assignment), _) if !handing.asks_anew => HandOverSide::Answer(Box::new(self.answer(assignment))),
                (_, Some(draft)) => HandOverSide::Ask(Box::new(self.ask(stage, draft))),
                (_, None) => HandOverSide::Nobody,
            },
        };
        HandOverPage { side, trouble: handing.trouble.clone(), said: handing.said.clone() }
    }

    fn ask(&self, stage: &Stage, draft: &Draft) -> AskView {
        let lesson = original(stage);
        let names = lesson.sections.iter().map(|section| section.name.clone());
        let arrangements = lesson.arrangements.iter().map(|arrangement| arrangement.name.clone()).collect();
        AskView {
            lesson: text::lesson(lesson),
            learner: draft.learner.clone(),
            arrangements: (arrangements, draft.arrangement),
            sections: names.zip(draft.sections.iter().copied()).collect(),
            rungs: rungs(lesson).rungs().iter().map(|rung| bpm(*rung)).collect(),
            span: (draft.start, draft.goal),
            level: draft.level,
            climb: (draft.up_after, draft.down_after),
            plan: (draft.days, draft.minutes),
            due: (draft.due_in, text::due(draft.due_in)),
            focus: draft.focus.clone(),
            stop_on: draft.stop_on.clone(),
            summary: self.assignment().map(|assignment| told::asked(&assignment)),
            can_try: self.handing.written.is_some(),
            can_answer: stage.assigned.is_some(),
        }
    }

    fn answer(&self, assignment: &Assignment) -> AnswerView {
        let note = &self.handing.note.line;
        let trouble = Line::new(note).err().filter(|_| !note.trim().is_empty());
        AnswerView {
            asked: told::focus(assignment),
            report: self.report().as_ref().map(view),
            note: note.clone(),
            note_trouble: trouble.map_or_else(String::new, |why| text::no_line(text::NOTE, &why.to_string())),
        }
    }
}

fn view(report: &Report) -> ReportView {
    ReportView {
        head: told::head(report),
        days: report.days.iter().map(|day| text::day(day.date, day.minutes, day.pain)).collect(),
        rows: told::rows(report),
        findings: told::findings(report),
    }
}
