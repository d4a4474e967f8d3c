//! What a new day and a new sitting change.

use super::Climb;
use super::effect::Effect;
use super::state::{Mode, Tally, TopOfDay};
use crate::moment::Moment;

impl Climb {
    /// On a later day than the last pass: a rung or two lower, to be checked again with one clean pass each.
    pub(super) fn open(&mut self, now: Moment, effects: &mut Vec<Effect>) {
        let new_day = self.is_new_day(now);
        self.turn_page(now);
        // Days on which the section is only looked at do not lead down the ladder.
        if !new_day || self.state.stepped_back || self.state.mode == Mode::Probing {
            return;
        }
        self.state.stepped_back = true;
        let from = self.state.at;
        let to = (0..self.policy.next_day_steps_back).fold(from, |rung, _| self.ladder.below(rung).unwrap_or(rung));
        self.state.stand_on(to);
        self.state.mode = Mode::Rechecking;
        if to != from {
            effects.push(Effect::SteppedBack { from, to });
        }
    }

    /// Starts the counts afresh for a new sitting or a new day.
    pub(super) fn turn_page(&mut self, now: Moment) {
        let Some(last) = self.state.last_pass else { return };
        let new_day = self.is_new_day(now);
        if new_day {
            self.state.top = TopOfDay::default();
        }
        if new_day || now.since(last) >= self.policy.new_sitting_after_s {
            self.state.tally = Tally::default();
        }
    }

    fn is_new_day(&self, now: Moment) -> bool {
        self.state.last_pass.is_some_and(|last| last.day(self.zone) < now.day(self.zone))
    }
}
