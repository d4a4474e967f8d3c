//! Breaks, and the question whether anything hurts: what the session does about them.

use sixrung_practice::{Asked, BreakRules, CareEvent, CareInput, Felt, Permission};

use super::input::{Effect, Now};
use super::{Doing, Session};
use crate::say;
use crate::stand::{Intent, Note, Pause};
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
                    self.last = None;
                    self.today.drop_plan();
                    self.show_stopped(now, effects);
                }
                CareEvent::GoesOn(_) => {
                    self.halt(Doing::Idle, effects);
                    effects.push(Effect::KeepFelt(Felt::Fine, now.moment));
                }
            }
        }
    }

    /// The question is put where practice stands still: what plays ends, a page is left.
    fn ask_hands(&mut self, asked: Asked, effects: &mut Vec<Effect>) {
        if self.doing == Doing::Playing {
            let why = if asked == Asked::ByPlayer { Pause::Asked } else { Pause::Rest };
            self.halt(Doing::Paused(why), effects);
        }
        effects.push(Effect::Window(Intent::ClosePage));
    }

    /// Practice was stopped for pain: all falls silent, and the sheet says so.
    pub(super) fn show_stopped(&mut self, now: Now, effects: &mut Vec<Effect>) {
        let why = match self.care.permission(now.moment, self.zone) {
            Permission::AskFirst { .. } => Pause::HurtBefore,
            Permission::Free | Permission::StoppedToday { .. } => Pause::Hurts,
        };
        self.halt(Doing::Paused(why), effects);
        effects.push(Effect::Window(Intent::ClosePage));
    }

    /// The learner answers.
    pub(super) fn feel(&mut self, felt: Felt, now: Now, effects: &mut Vec<Effect>) {
        // A later answer does not undo a stop: only the learner's own word does.
        if felt == Felt::Pain || !self.is_stopped(now) {
            effects.push(Effect::KeepFelt(felt, now.moment));
        }
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
