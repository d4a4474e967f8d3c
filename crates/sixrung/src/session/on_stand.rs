//! What is put on the stand: a lesson, a stretch of it, an arrangement; and where its climb stood.

use std::ops::Range;

use sixrung_exchange::assignment::Assignment;
use sixrung_lesson::Arrangement;
use sixrung_practice::{Climb, ClimbState, Input as ClimbInput, Step, StepsDone};

use super::input::{ClimbKey, Effect, Now};
use super::stage::{Opened, Stage};
use super::{Doing, Session};
use crate::stand::{Note, SectionChoice};

impl Session {
    pub(super) fn open(&mut self, opened: &Opened, effects: &mut Vec<Effect>) {
        let arrangement = opened.lesson.arrangements.first().cloned().unwrap_or_default();
        // A plan is of one lesson.
        self.today = super::today::Today::default();
        let asked =
            |assigned: &Assignment| opened.lesson.sections.iter().position(|section| assigned.asks_for(&section.name));
        let first = opened.assigned.as_deref().and_then(asked).unwrap_or(0);
        self.put_on_stand(opened, (SectionChoice::Section(first), Step::Climb), None, arrangement, effects);
    }

    /// A newcomer begins with a few bars: in a minute they were heard, played and judged.
    pub(super) fn welcome(&mut self, effects: &mut Vec<Effect>) {
        const FEW: usize = 4;
        self.is_new = true;
        if self.stage.as_ref().is_some_and(|stage| stage.whole.bars.len() > FEW) {
            self.set_stage(None, Some(0..FEW), None, effects);
            self.few_bars = true;
        }
    }

    /// Another section (all its bars), other bars or another arrangement; what is `None` stays, but for the bars.
    pub(super) fn set_stage(
        &mut self,
        section: Option<SectionChoice>,
        bars: Option<Range<usize>>,
        arrangement: Option<usize>,
        effects: &mut Vec<Effect>,
    ) {
        let Some(stage) = &self.stage else { return };
        if arrangement.is_some() {
            // And of one arrangement.
            self.today.drop_plan();
        }
        let chosen: Option<Arrangement> = arrangement.and_then(|index| stage.lesson.arrangements.get(index).cloned());
        let arrangement = chosen.unwrap_or_else(|| stage.arrangement.clone());
        // Another section is climbed; bars of this one belong to the step one is at.
        let step = if section.is_some() { Step::Climb } else { stage.step };
        let home = section.unwrap_or(stage.home);
        let opened = stage.opened();
        self.put_on_stand(&opened, (home, step), bars, arrangement, effects);
    }

    pub(super) fn put_on_stand(
        &mut self,
        opened: &Opened,
        (home, step): (SectionChoice, Step),
        bars: Option<Range<usize>>,
        arrangement: Arrangement,
        effects: &mut Vec<Effect>,
    ) {
        let stage = match Stage::new(opened, (home, step), bars, arrangement) {
            Ok(stage) => stage,
            Err(error) => return self.note(Note { text: error.to_string(), hint: String::new() }),
        };
        if self.doing == Doing::Playing {
            self.halt(Doing::Idle, effects);
        }
        self.doing = Doing::Idle;
        self.last = None;
        self.starts_when_found = false;
        self.offered_all_bars = false;
        self.few_bars = false;
        self.climb = Some(self.new_climb(&stage));
        self.stage = Some(stage);
        self.item_rung = None;
        self.recent.clear();
        self.steps = StepsDone::default();
        if step == Step::Climb {
            effects.extend(self.key().map(Effect::FindClimb));
        }
        effects.extend(self.find_steps());
    }

    pub(super) fn climb_found(
        &mut self,
        key: &ClimbKey,
        state: Option<ClimbState>,
        now: Now,
        effects: &mut Vec<Effect>,
    ) {
        let is_this = self.key().as_ref() == Some(key);
        let Some(stage) = self.stage.as_ref().filter(|stage| is_this && stage.step == Step::Climb) else { return };
        let fresh = self.new_climb(stage);
        let mut climb = match state {
            Some(state) => Climb::resume(fresh.ladder().clone(), stage.policy(), self.zone, state),
            None => fresh,
        };
        climb.update(ClimbInput::Open, now.moment);
        self.climb = Some(climb);
        self.climb_to_item(now);
        if std::mem::take(&mut self.starts_when_found) {
            self.start(self.next_purpose(now), effects);
        }
    }
}
