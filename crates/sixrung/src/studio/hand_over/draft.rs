//! What a teacher asks for, while it is being put together.

use sixrung_exchange::assignment::Task;
use sixrung_exchange::paper::Line;
use sixrung_lesson::{Lesson, Level};
use sixrung_practice::{Date, Day, Ladder, Policy};

use crate::stand::Asked;
use crate::text::hand_over as text;

/// A quarter of an hour on five days, due in a week: a design choice of ours.
const DAYS: u16 = 5;
const MINUTES: u16 = 15;
const DUE_IN: u16 = 7;

/// Everything on the page, as it stands.
#[derive(Clone, Debug)]
pub(super) struct Draft {
    /// Which text it was begun for.
    pub(super) lesson_hash: u64,
    pub(super) learner: String,
    pub(super) arrangement: usize,
    pub(super) sections: Vec<bool>,
    pub(super) start: usize,
    pub(super) goal: usize,
    pub(super) level: Level,
    pub(super) up_after: u16,
    pub(super) down_after: u16,
    pub(super) days: u16,
    pub(super) minutes: u16,
    pub(super) due_in: u16,
    pub(super) focus: String,
    pub(super) stop_on: String,
}

impl Draft {
    /// All of a lesson, by its own rules.
    pub(super) fn of(lesson: &Lesson, lesson_hash: u64) -> Self {
        let policy = Policy::of(&lesson.ladder);
        Self {
            lesson_hash,
            learner: String::new(),
            arrangement: 0,
            sections: vec![true; lesson.sections.len()],
            start: 0,
            goal: rungs(lesson).rungs().len() - 1,
            level: lesson.criterion.level,
            up_after: policy.up_after.into(),
            down_after: policy.down_after.into(),
            days: DAYS,
            minutes: MINUTES,
            due_in: DUE_IN,
            focus: String::new(),
            stop_on: String::new(),
        }
    }

    /// Changes one thing; what would contradict it follows.
    pub(super) fn ask(&mut self, asked: Asked, lesson: &Lesson) {
        let last = rungs(lesson).rungs().len() - 1;
        match asked {
            Asked::Learner(name) => self.learner = name,
            Asked::Arrangement(place) => self.arrangement = place,
            Asked::Section(place) => {
                if let Some(is_asked) = self.sections.get_mut(place) {
                    *is_asked = !*is_asked;
                }
            }
            Asked::Sections(are_asked) => self.sections.fill(are_asked),
            Asked::Start(place) => {
                self.start = place.min(last);
                self.goal = self.goal.max(self.start);
            }
            Asked::Goal(place) => {
                self.goal = place.min(last);
                self.start = self.start.min(self.goal);
            }
            Asked::Level(level) => self.level = level,
            Asked::UpAfter(passes) => self.up_after = passes,
            Asked::DownAfter(passes) => self.down_after = passes,
            Asked::Days(days) => self.days = days,
            Asked::Minutes(minutes) => self.minutes = minutes,
            Asked::DueIn(days) => self.due_in = days,
            Asked::Focus(sentence) => self.focus = sentence,
            Asked::StopOn(sentence) => self.stop_on = sentence,
        }
    }

    /// The day it is due, when it begins today.
    pub(super) fn due(&self, today: Day) -> Option<Date> {
        (self.due_in > 0).then(|| Date::of(Day(today.0 + i64::from(self.due_in))))
    }

    /// What is asked, as a file has it: what the lesson says anyway is left out.
    pub(super) fn task(&self, lesson: &Lesson, today: Day) -> Result<Task, String> {
        if !self.sections.contains(&true) {
            return Err(text::NO_SECTION.to_owned());
        }
        let ladder = rungs(lesson);
        let rung = |place: usize| ladder.rungs().get(place).copied();
        let policy = Policy {
            up_after: u8::try_from(self.up_after).unwrap_or(u8::MAX),
            down_after: u8::try_from(self.down_after).unwrap_or(u8::MAX),
            ..Policy::of(&lesson.ladder)
        };
        let named = lesson.sections.iter().zip(&self.sections).filter(|(_, is_asked)| **is_asked);
        let is_all = self.sections.iter().all(|is_asked| *is_asked);
        Ok(Task {
            learner: line(text::LEARNER, &self.learner)?,
            arrangement: lesson.arrangements.get(self.arrangement).map(|arrangement| arrangement.name.clone()),
            sections: if is_all { Vec::new() } else { named.map(|(section, _)| section.name.clone()).collect() },
            start: rung(self.start).filter(|_| self.start > 0),
            goal: rung(self.goal).filter(|goal| *goal < lesson.tempo),
            level: Some(self.level).filter(|level| *level != lesson.criterion.level),
            faults: None,
            policy: Some(policy),
            days: Some(self.days),
            minutes: Some(self.minutes),
            from: Some(Date::of(today)),
            due: self.due(today),
            focus: line(text::FOCUS, &self.focus)?,
            stop_on: line(text::STOP_ON, &self.stop_on)?,
        })
    }
}

/// The rungs of the lesson's own ladder.
pub(super) fn rungs(lesson: &Lesson) -> Ladder {
    Ladder::new(&lesson.ladder, lesson.tempo)
}

/// A line, or none where nothing is typed.
fn line(field: &str, typed: &str) -> Result<Option<Line>, String> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    Line::new(typed).map(Some).map_err(|why| text::no_line(field, &why.to_string()))
}
