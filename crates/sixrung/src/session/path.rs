//! The path through a section: which step is on the stand, which are done, which comes next.

use sixrung_listen::Verdict;
use sixrung_practice::{Done, Effect as ClimbEffect, Marked, Step, StepsDone};

use super::Session;
use super::input::{ClimbKey, Effect, Now};
use crate::stand::{Intent, Page, PathView, Proposal, StepView};
use crate::text::path as text;

impl Session {
    /// The path now followed: the section, whole, in this arrangement.
    #[must_use]
    pub fn path_key(&self) -> Option<ClimbKey> {
        let stage = self.stage.as_ref()?;
        let arrangement = stage.arrangement.name.clone();
        Some(ClimbKey { lesson: stage.hash, stretch: stage.home_stretch(), arrangement })
    }

    pub(super) fn steps_found(&mut self, key: &ClimbKey, steps: StepsDone) {
        if self.path_key().as_ref() == Some(key) {
            self.steps = steps;
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
        if let Some(next) = self.next_step(step) {
            self.choose_step(next, effects);
        }
    }

    /// A step is done: it is kept, and said to whoever looks.
    pub(super) fn step_done(&mut self, step: Step, done: Done, now: Now, effects: &mut Vec<Effect>) {
        let Some(key) = self.path_key() else { return };
        self.steps.set(step, done, now.moment);
        effects.push(Effect::KeepStep(key, step, done, now.moment));
    }

    /// The next step that is not done, looked for from `step` on.
    pub(crate) fn next_step(&self, step: Step) -> Option<Step> {
        let mut after = Step::ALL.into_iter().skip_while(|other| *other <= step);
        after.find(|next| self.steps.of(*next).is_none())
    }

    /// What a pass says about the step it was played for, and what is offered then.
    pub(super) fn step_played(
        &mut self,
        verdict: Verdict,
        marked: Marked,
        led_to: &[ClimbEffect],
        now: Now,
        effects: &mut Vec<Effect>,
    ) {
        let Some(step) = self.stage.as_ref().map(|stage| stage.step) else { return };
        let is_done = match step {
            // These pages keep their own count.
            Step::Shapes | Step::Changes => false,
            Step::Climb => led_to.contains(&ClimbEffect::Arrived),
            Step::OneStroke | Step::OneChord | Step::Slow => verdict == Verdict::Clean,
            // Played through is played along.
            Step::PlayAlong | Step::Sing => matches!(verdict, Verdict::Clean | Verdict::NotClean),
        };
        // A loop of a few bars is not the step.
        let is_loop = self.stage.as_ref().is_some_and(|stage| stage.bars.is_some());
        if !is_done || is_loop {
            return;
        }
        let done = if marked == Marked::Heard { Done::Heard } else { Done::SelfMarked };
        self.step_done(step, done, now, effects);
        let next = self.next_step(step);
        let Some(last) = self.last.as_mut().filter(|last| last.proposal.is_none()) else { return };
        last.proposal = next.map(|next| Proposal {
            because: vec![text::done(step).to_owned()],
            label: text::go_on(next),
            change: None,
            intent: Box::new(Intent::ChooseStep(next)),
        });
    }

    /// The path as the sheet shows it.
    #[must_use]
    pub fn path_view(&self) -> Option<PathView> {
        let stage = self.stage.as_ref()?;
        let step = |step| StepView { step, done: self.steps.of(step) };
        Some(PathView { steps: Step::ALL.map(step).to_vec(), current: stage.step })
    }
}
