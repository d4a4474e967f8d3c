//! Where a player stands on the ladder of one section and arrangement, and what each pass changes.

mod days;
mod due;
mod effect;
mod input;
mod moves;
mod passes;
mod state;

pub use effect::{Effect, Proposal, RestReason};
pub use input::{Input, Marked, Move, Pass};
pub use state::{ClimbState, Held, Mode, RungRecord, Tally, TopOfDay};

use sixrung_lesson::Tempo;

use crate::ladder::Ladder;
use crate::moment::{Moment, UtcOffset};
use crate::policy::Policy;

/// The climb of one section in one arrangement.
///
/// The player stands on a rung of the ladder at all times: never above the original tempo, never below the first rung.
#[derive(Clone, Debug, PartialEq)]
pub struct Climb {
    ladder: Ladder,
    policy: Policy,
    zone: UtcOffset,
    state: ClimbState,
}

impl Climb {
    /// A climb that begins at the first rung. `zone` tells where a day ends.
    #[must_use]
    pub fn new(ladder: Ladder, policy: Policy, zone: UtcOffset) -> Self {
        let state = ClimbState::new(ladder.first(), policy.start);
        Self { ladder, policy, zone, state }
    }

    /// A climb that goes on from a stored state.
    ///
    /// Where the ladder has changed since, half-rungs that no longer fit are dropped, and a player whose rung is gone
    /// stands on the nearest slower one.
    #[must_use]
    pub fn resume(ladder: Ladder, policy: Policy, zone: UtcOffset, mut state: ClimbState) -> Self {
        let ladder = state.half_rungs.iter().fold(ladder, |ladder, half| ladder.with(*half));
        state.half_rungs.retain(|half| ladder.has(*half));
        if !ladder.has(state.at) {
            state.stand_on(ladder.at_or_below(state.at));
        }
        Self { ladder, policy, zone, state }
    }

    /// Takes in what happened and says what follows, in the order in which it should be told.
    pub fn update(&mut self, input: Input, now: Moment) -> Vec<Effect> {
        let mut effects = Vec::new();
        match input {
            Input::Open => self.open(now, &mut effects),
            Input::Pass(pass) => self.pass(pass, now, &mut effects),
            Input::Run => {
                self.note_played(self.ladder.last(), now);
            }
            Input::Move(to) => self.move_by_hand(to, &mut effects),
            Input::TakeHalfRung => self.take_half_rung(&mut effects),
        }
        effects
    }

    /// The ladder, half-rungs put in.
    #[must_use]
    pub const fn ladder(&self) -> &Ladder {
        &self.ladder
    }

    /// The rung the player stands on.
    #[must_use]
    pub const fn at(&self) -> Tempo {
        self.state.at
    }

    /// Clean passes in a row that climb the present rung. A re-check never asks more than a climb.
    #[must_use]
    pub fn pegs_needed(&self) -> u8 {
        let needed = match self.state.mode {
            Mode::Probing => 1,
            Mode::Rechecking if self.state.is_known(self.state.at) => {
                self.policy.recheck_up_after.min(self.policy.up_after)
            }
            Mode::Rechecking | Mode::Climbing => self.policy.up_after,
        };
        needed.max(1)
    }

    /// How it is climbed.
    #[must_use]
    pub const fn policy(&self) -> &Policy {
        &self.policy
    }

    /// All there is to know, for the sheet to show and the journal to store.
    #[must_use]
    pub const fn state(&self) -> &ClimbState {
        &self.state
    }
}
