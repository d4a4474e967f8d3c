//! The learning step as it is lived through: time to put the fingers down, strokes counted, and a word when one was not
//! heard. It goes on by itself, so that both hands can stay on the guitar.

use std::fmt;

use super::form::Learned;
use super::plan::{LearnPlan, LearnTask, Way};
use super::step::LearnStep;
use crate::level::HearingState;
use crate::listener::Caught;

/// Before a new shape so long is given to put the fingers down, and before the strokes in turn on the same shape, in
/// seconds: design choices of ours. Beginners need some two seconds for a change they know (common practice).
const FINGERS_S: f64 = 2.5;
const BREATH_S: f64 = 1.5;
/// It begins to count when nothing was struck for so long: then the fingers lie.
const QUIET_S: f64 = 0.8;
/// Strokes in turn come in a row: after so long without the next one, one of them was not heard, and which one cannot
/// be told. More than twice the slowest stroke one would call "as fast as is easy": a design choice of ours.
const STOPPED_S: f64 = 3.5;
/// After so long without a stroke that counts, the player is told what is heard instead: a design choice of ours.
const PATIENCE_S: f64 = 8.0;

/// What the guide waits for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LearnWait {
    /// Fingers going down: strokes are not counted yet.
    Fingers,
    /// Strokes, which are counted.
    Strokes,
    /// Nothing: all was heard.
    Done,
}

/// What was not as asked; never more than one at a time.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LearnTrouble {
    /// The slow strokes did not sound alike: they are asked for again.
    NotAlike,
    /// Strokes in turn stopped before the last: so many were heard; they are asked for again.
    Stopped {
        /// How many were heard.
        heard: u32,
    },
    /// Something sounds, but no stroke that could be counted.
    Unclear,
    /// Nothing sounds at all.
    Silent,
    /// Strokes come while the fingers go down: a moment of quiet is needed first.
    NotQuiet,
    /// Part of the sound was lost on its way: the strokes are asked for again.
    Gap,
}

/// How far it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct LearnProgress {
    /// What is asked now; `None` when all was heard.
    pub task: Option<LearnTask>,
    /// How many strokes of it were counted.
    pub heard: u32,
    /// What is waited for.
    pub wait: LearnWait,
    /// What was not as asked, until the next stroke that counts.
    pub trouble: Option<LearnTrouble>,
}

/// Leads a player through a [`LearnPlan`]. Feed it all that the listener catches.
pub struct LearnGuide {
    step: LearnStep,
    wait: LearnWait,
    trouble: Option<LearnTrouble>,
    task: Option<LearnTask>,
    heard: u32,
    /// When the present wait began, and when a stroke last came, in seconds on the listener's clock.
    since_s: f64,
    struck_s: f64,
    /// Whether anything sounded since then.
    sounded: bool,
    news: bool,
}

impl fmt::Debug for LearnGuide {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("LearnGuide").field("progress", &self.progress()).finish_non_exhaustive()
    }
}

impl LearnGuide {
    /// At the beginning of a plan.
    #[must_use]
    pub fn new(plan: LearnPlan) -> Self {
        let step = LearnStep::new(plan);
        let task = step.task();
        let wait = if task.is_some() { LearnWait::Fingers } else { LearnWait::Done };
        let (since_s, struck_s) = (f64::NAN, f64::NEG_INFINITY);
        Self { step, wait, trouble: None, task, heard: 0, since_s, struck_s, sounded: false, news: false }
    }

    /// How far it is.
    #[must_use]
    pub fn progress(&self) -> LearnProgress {
        LearnProgress { task: self.task, heard: self.heard, wait: self.wait, trouble: self.trouble }
    }

    /// What was learned since the last time: told after each shape that was heard to its end.
    pub fn news(&mut self) -> Option<Learned> {
        std::mem::take(&mut self.news).then(|| self.step.learned_so_far().ok()).flatten()
    }

    /// The strokes of the present task once more.
    pub fn again(&mut self) {
        self.restart(None);
    }

    /// The present shape is left out.
    pub fn skip(&mut self) {
        self.step.skip();
        self.restart(None);
        self.turn_to_task();
    }

    /// Part of the sound was lost.
    pub fn gap(&mut self) {
        if self.wait == LearnWait::Strokes {
            self.restart(Some(LearnTrouble::Gap));
        }
    }

    /// Takes what the listener caught next, and what it says of the level.
    pub fn take_in(&mut self, caught: Caught<'_>, hearing: HearingState) {
        if self.wait == LearnWait::Done {
            return;
        }
        self.step.take_in(caught);
        #[expect(clippy::cast_precision_loss, reason = "a block")]
        let now_s = caught.sound.at_s + caught.sound.samples.len() as f64 / caught.sound.rate;
        if self.since_s.is_nan() {
            self.since_s = now_s;
        }
        self.sounded |= matches!(hearing, HearingState::Good | HearingState::Clipping);
        if self.step.task() != self.task {
            self.news |= self.task.map(|task| task.shape) != self.step.task().map(|task| task.shape);
            (self.since_s, self.struck_s) = (now_s, now_s);
            return self.turn_to_task();
        }
        match self.wait {
            LearnWait::Fingers => self.wait_for_fingers(now_s),
            LearnWait::Strokes => self.count(now_s),
            LearnWait::Done => {}
        }
    }

    fn turn_to_task(&mut self) {
        let before = std::mem::replace(&mut self.task, self.step.task());
        self.heard = 0;
        self.trouble = None;
        self.sounded = false;
        self.wait = match self.task {
            None => LearnWait::Done,
            Some(_) => LearnWait::Fingers,
        };
        if before.map(|task| task.shape) == self.task.map(|task| task.shape) {
            // The fingers lie already.
            self.since_s -= FINGERS_S - BREATH_S;
        }
    }

    /// Nothing is counted until the time for the fingers is over and the strings are quiet.
    fn wait_for_fingers(&mut self, now_s: f64) {
        if self.step.heard() > 0 {
            self.step.again();
            self.struck_s = now_s;
            if now_s - self.since_s > FINGERS_S + QUIET_S {
                self.trouble = Some(LearnTrouble::NotQuiet);
            }
        }
        if now_s - self.since_s >= FINGERS_S && now_s - self.struck_s >= QUIET_S {
            self.step.again();
            if self.trouble == Some(LearnTrouble::NotQuiet) {
                self.trouble = None;
            }
            (self.wait, self.since_s, self.struck_s, self.sounded) = (LearnWait::Strokes, now_s, now_s, false);
        }
    }

    fn count(&mut self, now_s: f64) {
        if self.step.refused().is_some() {
            return self.restart_at(now_s, Some(LearnTrouble::NotAlike));
        }
        let heard = self.step.heard();
        if heard != self.heard {
            (self.heard, self.struck_s, self.sounded) = (heard, now_s, false);
            self.trouble = None;
            return;
        }
        let waited_s = now_s - self.struck_s;
        let in_turn = self.task.is_some_and(|task| task.way == Way::InTurn);
        if in_turn && heard > 0 && waited_s > STOPPED_S {
            self.restart_at(now_s, Some(LearnTrouble::Stopped { heard }));
        } else if waited_s > PATIENCE_S {
            self.trouble = Some(if self.sounded { LearnTrouble::Unclear } else { LearnTrouble::Silent });
            (self.struck_s, self.sounded) = (now_s, false);
        }
    }

    fn restart(&mut self, trouble: Option<LearnTrouble>) {
        self.restart_at(self.struck_s.max(self.since_s), trouble);
    }

    /// The present task from its first stroke on; the fingers lie already.
    fn restart_at(&mut self, now_s: f64, trouble: Option<LearnTrouble>) {
        self.step.again();
        self.heard = 0;
        (self.trouble, self.wait) = (trouble, LearnWait::Fingers);
        (self.since_s, self.struck_s, self.sounded) = (now_s - (FINGERS_S - BREATH_S), now_s, false);
    }
}
