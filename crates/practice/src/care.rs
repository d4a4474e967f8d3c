//! Breaks, rests between passes, and the question whether anything hurts.
//!
//! Complaints of muscles and joints are common in players (12-month prevalence 41 to 93 % among professionals; Kok
//! 2016, review). When breaks and questions come is a design choice of ours; the words are for whoever shows them.

use crate::felt::Felt;
use crate::moment::{Moment, UtcOffset};
use crate::policy::{BreakRules, Policy};
use crate::sitting::{BreakDue, Sitting};

/// Why the question is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Asked {
    /// A break is suggested.
    AtBreak,
    /// It is time to stop.
    AtFirmPrompt,
    /// The learner brought it up.
    ByPlayer,
}

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CareInput {
    /// Playing of so many seconds ended.
    Played {
        /// Seconds.
        seconds: u32,
    },
    /// The learner wants to say how the hands are.
    BringUp,
    /// The learner answers, asked or not.
    Answer(Felt),
    /// The learner chooses to play although practice was stopped for pain.
    PlayAnyway,
}

/// What follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CareEvent {
    /// A break is due.
    Break(BreakDue),
    /// The question is to be asked, kindly.
    Ask(Asked),
    /// Sore fingertips are common at first: practice goes on.
    SoreIsCommon,
    /// Practice stops for today. To be recorded.
    Stopped(PainFlag),
    /// The learner plays although practice was stopped. To be recorded.
    GoesOn(PainFlag),
}

/// That something hurt, for the record.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PainFlag {
    /// When it was said.
    pub at: Moment,
    /// When the learner chose to play again.
    pub overruled: Option<Moment>,
}

/// Whether practice may go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Permission {
    /// It may.
    Free,
    /// It was stopped today: only a deliberate word of the learner overrules that.
    StoppedToday {
        /// Since when.
        since: Moment,
    },
    /// It was stopped on an earlier day: the learner chooses whether to play again.
    AskFirst {
        /// Since when.
        since: Moment,
    },
}

/// Minutes, rests and the question.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Care {
    sitting: Sitting,
    asking: Option<Asked>,
    pain: Option<PainFlag>,
}

impl Care {
    /// Goes on from the last flag that was recorded.
    #[must_use]
    pub fn resume(last: Option<PainFlag>) -> Self {
        Self { pain: last, ..Self::default() }
    }

    /// Takes in what happened and says what follows, in the order in which it should be told.
    pub fn update(&mut self, input: CareInput, rules: &BreakRules, now: Moment) -> Vec<CareEvent> {
        match input {
            CareInput::Played { seconds } => self.played(seconds, rules, now),
            CareInput::BringUp => self.ask(Asked::ByPlayer),
            CareInput::Answer(felt) => self.answer(felt, now),
            CareInput::PlayAnyway => self.play_anyway(now),
        }
    }

    /// Whether practice may go on, where local time is `zone`.
    #[must_use]
    pub fn permission(&self, now: Moment, zone: UtcOffset) -> Permission {
        match self.stopped() {
            None => Permission::Free,
            Some(flag) if flag.at.day(zone) < now.day(zone) => Permission::AskFirst { since: flag.at },
            Some(flag) => Permission::StoppedToday { since: flag.at },
        }
    }

    /// Seconds still to rest before the next pass. The count-in and the look at the result are part of the rest.
    #[must_use]
    pub fn rest_left_s(&self, policy: &Policy, now: Moment) -> u16 {
        let Some(last) = self.sitting.last() else { return 0 };
        let left = i64::from(policy.rest_between_passes_s) - now.since(last).max(0);
        u16::try_from(left.max(0)).unwrap_or(u16::MAX)
    }

    /// The question that waits for an answer.
    #[must_use]
    pub const fn asking(&self) -> Option<Asked> {
        self.asking
    }

    /// The last flag.
    #[must_use]
    pub const fn pain(&self) -> Option<PainFlag> {
        self.pain
    }

    /// The minutes played.
    #[must_use]
    pub const fn sitting(&self) -> &Sitting {
        &self.sitting
    }

    fn stopped(&self) -> Option<PainFlag> {
        self.pain.filter(|flag| flag.overruled.is_none())
    }

    fn played(&mut self, seconds: u32, rules: &BreakRules, now: Moment) -> Vec<CareEvent> {
        let Some(due) = self.sitting.played(seconds, rules, now) else { return Vec::new() };
        let asked = match due {
            BreakDue::Suggested { .. } => Asked::AtBreak,
            BreakDue::Firm { .. } => Asked::AtFirmPrompt,
        };
        let mut events = vec![CareEvent::Break(due)];
        events.extend(self.ask(asked));
        events
    }

    fn ask(&mut self, asked: Asked) -> Vec<CareEvent> {
        self.asking = Some(asked);
        vec![CareEvent::Ask(asked)]
    }

    fn answer(&mut self, felt: Felt, now: Moment) -> Vec<CareEvent> {
        self.asking = None;
        match felt {
            Felt::Fine => Vec::new(),
            Felt::Sore => vec![CareEvent::SoreIsCommon],
            Felt::Pain => {
                let flag = PainFlag { at: now, overruled: None };
                self.pain = Some(flag);
                vec![CareEvent::Stopped(flag)]
            }
        }
    }

    fn play_anyway(&mut self, now: Moment) -> Vec<CareEvent> {
        let Some(flag) = self.stopped() else { return Vec::new() };
        let flag = PainFlag { overruled: Some(now), ..flag };
        self.pain = Some(flag);
        vec![CareEvent::GoesOn(flag)]
    }
}
