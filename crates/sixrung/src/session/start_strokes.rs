//! Four muted strokes start as the forward control does, both hands on the guitar; at rest only.

use super::input::{Effect, Now};
use super::{Doing, Session};
use crate::stand::{Intent, Pause};

impl Session {
    /// Whether four muted strokes would start now: the player wants it, the ear can hear, nothing sounds, nothing is asked,
    /// and practice is not stopped. Between passes the next one begins by itself, and a break is a break.
    pub(crate) fn strokes_start(&self, now: Now) -> bool {
        let rests = match self.doing {
            Doing::Idle => true,
            Doing::Paused(why) => match why {
                Pause::Asked | Pause::Rest | Pause::OutputLost | Pause::InputLost => true,
                Pause::Break | Pause::Hurts | Pause::HurtBefore => false,
            },
            Doing::Playing | Doing::Marking { .. } => false,
        };
        self.settings.strokes_start
            && rests
            && self.stage.is_some()
            && self.sound.output
            && self.sound.input
            && !self.hears_again()
            && !self.asks_hands()
            && !self.is_stopped(now)
    }

    /// The ear has heard them.
    pub(super) fn four_strokes(&mut self, now: Now, effects: &mut Vec<Effect>) {
        if self.strokes_start(now) {
            self.wish(Intent::Forward, now, effects);
        }
    }
}
