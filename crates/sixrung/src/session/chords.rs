//! What the session knows of the player's chords, and when it offers to learn them.

use sixrung_listen::{LEARNED_VERSION, Learned, PlannedShape, Verdict};
use sixrung_practice::Marked;

use super::input::Effect;
use super::{Session, Stage};
use crate::text;

/// It is offered after so many judged passes, once: when the loop is known, and before habits are. A design choice of
/// ours.
const OFFERED_AFTER: u32 = 3;

/// What an ear knows that has learned nothing.
pub(crate) fn nothing_known() -> Learned {
    Learned { version: LEARNED_VERSION, shapes: Vec::new(), direction: None }
}

/// What the stretch's shapes sound.
pub(crate) fn sounding(stage: &Stage) -> std::sync::Arc<[PlannedShape]> {
    PlannedShape::all(&stage.score, &stage.lesson.tuning)
}

impl Session {
    /// Whether every shape on the stand was learned.
    fn knows_stage(&self) -> bool {
        let Some(stage) = &self.stage else { return true };
        sounding(stage).iter().all(|shape| self.known.shape(shape).is_some())
    }

    /// One quiet line after a few judged passes: once, and never beside something else that is proposed.
    pub(super) fn offer_chords(&mut self, verdict: Verdict, marked: Marked, effects: &mut Vec<Effect>) {
        if marked == Marked::ByPlayer || matches!(verdict, Verdict::NotJudged(_)) {
            return;
        }
        self.judged += 1;
        if self.settings.offered_chords || self.judged < OFFERED_AFTER || self.knows_stage() {
            return;
        }
        let Some(last) = self.last.as_mut().filter(|last| last.proposal.is_none()) else { return };
        last.result.offer = text::chords::OFFER.to_owned();
        self.settings.offered_chords = true;
        effects.push(Effect::KeepOffered);
    }
}
