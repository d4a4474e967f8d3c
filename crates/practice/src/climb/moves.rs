//! Moves the player makes by hand.

use super::effect::Effect;
use super::input::Move;
use super::state::Mode;
use super::{Climb, Tempo};

impl Climb {
    pub(super) fn move_by_hand(&mut self, to: Move, effects: &mut Vec<Effect>) {
        let at = self.state.at;
        let rung = match to {
            Move::Slower => self.ladder.below(at).unwrap_or(at),
            Move::Faster => self.ladder.above(at).unwrap_or(at),
            Move::To(tempo) => self.ladder.at_or_below(tempo),
        };
        if rung != at {
            self.settle_on(rung);
            effects.push(Effect::Moved { from: at, to: rung });
        }
    }

    /// The player stands on the half-rung at once: it was offered because the rung above is too fast and the one below
    /// is known.
    pub(super) fn take_half_rung(&mut self, effects: &mut Vec<Effect>) {
        let Some(half) = self.state.offered.take() else { return };
        let ladder = self.ladder.with(half);
        if !ladder.has(half) {
            return;
        }
        self.ladder = ladder;
        if let Err(place) = self.state.half_rungs.binary_search(&half) {
            self.state.half_rungs.insert(place, half);
        }
        effects.push(Effect::HalfRungAdded(half));
        let from = self.state.at;
        if half != from {
            self.settle_on(half);
            effects.push(Effect::Moved { from, to: half });
        }
    }

    /// A known rung chosen by hand is a re-check.
    fn settle_on(&mut self, rung: Tempo) {
        self.state.stand_on(rung);
        self.state.mode = if self.state.is_known(rung) { Mode::Rechecking } else { Mode::Climbing };
    }
}
