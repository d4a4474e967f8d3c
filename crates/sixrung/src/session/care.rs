//! Breaks, and the question whether anything hurts: what the session does about them.

use sixrung_practice::{Asked, BreakRules, CareEvent, CareInput, Felt, Permission};

use super::input::{Effect, Now};
use super::{Doing, Session};
use crate::say;
use crate::stand::{Note, Pause};
use crate::text::care as text;

impl Session {
    /// Something happened to the hands: played, asked, answered.
    pub(super) fn care(&mut self, input: CareInput, now: Now, effects: &mut Vec<Effect>) {
        for event in self.care.update(input, &BreakRules::default(), now.moment) {
            match event {
                CareEvent::Break(due) => {
                    let (text, hint) = say::break_due(due);
                    self.note(Note { text, hint });
                }
                CareEvent::Ask(asked) => self.ask_hands(asked, effects),
                CareEvent::SoreIsCommon => {
                    self.note(Note { text: text::SORE.to_owned(), hint: text::SORE_HINT.to_owned() });
                }
                CareEvent::Stopped(_) => {
                    self.halt(Doing::Paused(Pause::Hurts), effects);
                    self.last = None;
                    self.today.drop_plan();
                }
                CareEvent::GoesOn(_) => {
                    self.doing = Doing::Idle;
                    effects.push(Effect::KeepFelt(Felt::Fine, now.moment));
                }
            }
        }
    }

    /// The pass that runs is played to its end; the question is put where practice rests.
    fn ask_hands(&mut self, asked: Asked, effects: &mut Vec<Effect>) {
        if asked == Asked::ByPlayer && self.doing == Doing::Playing {
            self.halt(Doing::Paused(Pause::Asked), effects);
        }
        if self.doing == Doing::Playing {
            self.halt(Doing::Paused(Pause::Rest), effects);
        }
    }

    /// The learner answers.
    pub(super) fn feel(&mut self, felt: Felt, now: Now, effects: &mut Vec<Effect>) {
        effects.push(Effect::KeepFelt(felt, now.moment));
        self.care(CareInput::Answer(felt), now, effects);
    }

    /// Whether the question waits for its answer.
    pub(super) fn asks_hands(&self) -> bool {
        self.care.asking().is_some()
    }

    /// Whether practice was stopped for pain and may not simply go on.
    pub(super) fn is_stopped(&self, now: Now) -> bool {
        self.care.permission(now.moment, self.zone) != Permission::Free
    }
}
