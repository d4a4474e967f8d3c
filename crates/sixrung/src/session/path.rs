//! The path through a section: which step is on the stand, which are done, which comes next.

use sixrung_lesson::{Stretch, Tempo};
use sixrung_listen::{PassVerdict, Verdict};
use sixrung_practice::{CareInput, Done, Effect as ClimbEffect, Marked, Step, StepsDone, held_back};

use super::input::{ClimbKey, Effect, Now};
use super::{Session, Stage};
use crate::commands::keymap::KeyMap;
use crate::commands::pedalmap::PedalMap;
use crate::stand::{ChangesWish, Intent, Page, PathView, Proposal, StepView};
use crate::text::path as text;

impl Session {
    /// A wish about the path, today's plan, the hands or the keys; any other comes back.
    pub(super) fn path_wish(&mut self, wish: Intent, now: Now, effects: &mut Vec<Effect>) -> Option<Intent> {
        let plays = matches!(
            wish,
            Intent::ChooseStep(Step::Shapes | Step::Changes)
                | Intent::OpenPage(Page::Shapes | Page::Changes)
                | Intent::Changes(_)
        );
        if plays && self.is_stopped(now) {
            self.show_stopped(now, effects);
            return None;
        }
        match wish {
            Intent::ChooseStep(step) => {
                self.today.left = true;
                self.choose_step(step, effects);
            }
            Intent::MarkStep(step, done) => self.mark_step(step, done, now, effects),
            Intent::Today(wish) => self.today_wish(wish, now, effects),
            Intent::Feel(felt) => self.feel(felt, now, effects),
            Intent::SayHands => self.care(CareInput::BringUp, now, effects),
            Intent::PlayAnyway => self.care(CareInput::PlayAnyway, now, effects),
            Intent::SetKey(id, key) => {
                self.settings.keys.set(id, key);
                effects.push(Effect::Window(Intent::SetKey(id, key)));
            }
            Intent::SetPedal(id, press) => {
                self.settings.pedals.set(id, press);
                effects.push(Effect::Window(Intent::SetPedal(id, press)));
            }
            Intent::ResetKeys => {
                self.settings.keys = KeyMap::default();
                self.settings.pedals = PedalMap::default();
                effects.push(Effect::Window(Intent::ResetKeys));
            }
            other => return Some(other),
        }
        None
    }

    /// The path now followed: the section, whole, in this arrangement.
    #[must_use]
    pub fn path_key(&self) -> Option<ClimbKey> {
        let stage = self.stage.as_ref()?;
        let arrangement = stage.arrangement.name.clone();
        Some(ClimbKey { lesson: stage.hash, stretch: stage.home_stretch(), arrangement })
    }

    /// Where it is kept that a step is done: steps of the whole piece are done for all its sections.
    fn step_key(&self, step: Step) -> Option<ClimbKey> {
        let key = self.path_key()?;
        Some(if step.is_whole() { ClimbKey { stretch: Stretch::Whole, ..key } } else { key })
    }

    /// Looks up which steps are done: those of the section, and those of the whole piece.
    pub(super) fn find_steps(&self) -> impl Iterator<Item = Effect> + use<> {
        let mut keys: Vec<_> =
            [Step::Climb, Step::PlayAlong].into_iter().filter_map(|step| self.step_key(step)).collect();
        keys.dedup();
        keys.into_iter().map(Effect::FindSteps)
    }

    pub(super) fn steps_found(&mut self, key: &ClimbKey, steps: StepsDone) {
        for (step, (done, at)) in steps.0 {
            if self.step_key(step).as_ref() == Some(key) {
                self.steps.set(step, done, at);
            }
        }
    }

    /// Puts a step on the stand. Shapes and changes have pages of their own.
    pub(super) fn choose_step(&mut self, step: Step, effects: &mut Vec<Effect>) {
        let page = match step {
            Step::Shapes => Some(Page::Shapes),
            Step::Changes => Some(Page::Changes),
            _ => None,
        };
        if let Some(page) = page {
            self.stop(effects);
            // These pages are about the section, all of it.
            let elsewhere = |stage: &&Stage| stage.bars.is_some() || stage.section != stage.home;
            if let Some(stage) = self.stage.as_ref().filter(elsewhere) {
                let (opened, home, arrangement) = (stage.opened(), stage.home, stage.arrangement.clone());
                self.put_on_stand(&opened, (home, Step::Climb), None, arrangement, effects);
            }
            return effects.push(Effect::Window(Intent::OpenPage(page)));
        }
        effects.push(Effect::Window(Intent::ClosePage));
        let Some(stage) = &self.stage else { return };
        let (opened, home, arrangement) = (stage.opened(), stage.home, stage.arrangement.clone());
        self.put_on_stand(&opened, (home, step), None, arrangement, effects);
    }

    /// The player says that a step is done, or leaves it out.
    pub(super) fn mark_step(&mut self, step: Step, done: Done, now: Now, effects: &mut Vec<Effect>) {
        self.step_done(step, done, now, effects);
        // With a plan, what comes next is the plan's.
        if self.today_step_done(now, effects) {
            return;
        }
        if let Some(next) = self.next_step(step) {
            self.choose_step(next, effects);
        }
    }

    /// A step is done: it is kept, and said to whoever looks.
    pub(super) fn step_done(&mut self, step: Step, done: Done, now: Now, effects: &mut Vec<Effect>) {
        let Some(key) = self.step_key(step) else { return };
        // What was heard stays heard.
        if self.steps.set(step, done, now.moment) {
            effects.push(Effect::KeepStep(key, step, done, now.moment));
        }
    }

    /// The next step that is not done, looked for from `step` on.
    pub(crate) fn next_step(&self, step: Step) -> Option<Step> {
        let mut after = Step::ALL.into_iter().skip_while(|other| *other <= step);
        after.find(|next| self.steps.of(*next).is_none())
    }

    /// What a pass says about the step it was played for, and what is offered then. Whether the step is done by it.
    pub(super) fn step_played(
        &mut self,
        verdict: Verdict,
        marked: Marked,
        (tempo, led_to): (Tempo, &[ClimbEffect]),
        now: Now,
        effects: &mut Vec<Effect>,
    ) -> bool {
        let Some(step) = self.stage.as_ref().map(|stage| stage.step) else { return false };
        let is_original = self.stage.as_ref().is_some_and(|stage| stage.lesson.tempo == tempo);
        let is_done = match step {
            // These pages keep their own count.
            Step::Shapes | Step::Changes => false,
            Step::Climb => led_to.contains(&ClimbEffect::Arrived),
            Step::OneStroke | Step::OneChord | Step::Slow => verdict == Verdict::Clean,
            // Played through at the song's tempo is played along.
            Step::PlayAlong | Step::Sing => is_original && matches!(verdict, Verdict::Clean | Verdict::NotClean),
        };
        // A loop of a few bars is not the step, nor is a run that is not judged.
        let is_loop = self.stage.as_ref().is_some_and(|stage| stage.bars.is_some());
        if !is_done || is_loop || self.runs_at_tempo() {
            return false;
        }
        let done = if marked == Marked::Heard { Done::Heard } else { Done::SelfMarked };
        self.step_done(step, done, now, effects);
        let next = self.next_step(step).filter(|_| self.today().is_none());
        let Some(last) = self.last.as_mut().filter(|last| last.proposal.is_none()) else { return true };
        last.proposal = next.map(|next| Proposal {
            because: vec![text::done(step).to_owned()],
            label: text::go_on(next),
            change: None,
            intent: Box::new(Intent::ChooseStep(next)),
        });
        true
    }

    /// After a pass that was not clean: the change that holds the section back, if the last passes show one. Offered
    /// once, and never beside something else.
    pub(super) fn offer_drill(&mut self, verdict: &PassVerdict) {
        /// So many passes are looked back at: a design choice of ours.
        const LOOKS_BACK: usize = 5;
        self.recent.push(verdict.clone());
        let surplus = self.recent.len().saturating_sub(LOOKS_BACK);
        self.recent.drain(..surplus);
        let Some(stage) = self.stage.as_ref().filter(|stage| matches!(stage.step, Step::Slow | Step::Climb)) else {
            return;
        };
        if verdict.verdict != Verdict::NotClean || self.recent.len() < 2 {
            return;
        }
        let Some(held) = held_back(&self.recent, &stage.score) else { return };
        let shape = |index: usize| stage.score.shapes.get(index).map(|shape| shape.name.clone()).unwrap_or_default();
        let pair = (shape(held.from), shape(held.into));
        let view = |index| super::chord_view(stage, Some(index));
        let proposal = Proposal {
            because: vec![text::holds_back(held.broken, held.of, self.recent.len())],
            label: text::drill(&view(held.from).name, &view(held.into).name),
            change: Some((view(held.from), view(held.into))),
            intent: Box::new(Intent::Changes(ChangesWish::Named(pair.0.clone(), pair.1.clone()))),
        };
        let Some(last) = self.last.as_mut().filter(|last| last.proposal.is_none()) else { return };
        if !self.offered_drills.contains(&pair) {
            last.proposal = Some(proposal);
            self.offered_drills.push(pair);
        }
    }

    /// The path as the sheet shows it.
    #[must_use]
    pub fn path_view(&self) -> Option<PathView> {
        let stage = self.stage.as_ref()?;
        let step = |step| StepView { step, done: self.steps.of(step) };
        Some(PathView { steps: Step::ALL.map(step).to_vec(), current: stage.step })
    }
}
