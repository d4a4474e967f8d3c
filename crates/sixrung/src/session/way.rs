//! The way the sound takes: found by a pass, and watched, since it may change while one plays.

use sixrung_listen::{PassVerdict, Reason, Verdict};

use super::Session;
use super::input::{Effect, FoundTrip};

/// Our own sound may arrive so much later or earlier than it used to, in milliseconds: a quarter of the narrowest timing
/// window. A sound server's time stamps wander by 3 to 5 (measured on PulseAudio). A design choice of ours.
const MOST_MOVED_MS: f64 = 10.0;

impl Session {
    /// The verdict, if the way is known as it was. Found by this pass, it is kept. Has it changed since it was measured,
    /// it is set right, and the pass does not count: strokes may have seemed late that were not.
    pub(super) fn with_its_way(
        &mut self,
        order: u64,
        mut verdict: PassVerdict,
        (found, own_way_ms): (Option<FoundTrip>, Option<f64>),
        effects: &mut Vec<Effect>,
    ) -> PassVerdict {
        if let Some(found) = found {
            verdict.verdict = Verdict::NotJudged(Reason::LearningRoundTrip);
            self.sound.round_trip_ms = Some(found.ms);
            self.sound.own_way_ms = own_way_ms;
            effects.push(Effect::KeepRoundTrip(found));
            return verdict;
        }
        if let (Some(now_ms), Some(round_trip_ms)) = (own_way_ms, &mut self.sound.round_trip_ms) {
            let moved_ms = now_ms - *self.sound.own_way_ms.get_or_insert(now_ms);
            if moved_ms.abs() >= MOST_MOVED_MS {
                *round_trip_ms += moved_ms;
                self.sound.own_way_ms = own_way_ms;
                // The pass that runs now was placed by the old one, too.
                self.placed_wrong = self.ids;
                effects.push(Effect::MoveRoundTrip(moved_ms));
            }
        }
        if order <= self.placed_wrong
            && let Verdict::Clean | Verdict::NotClean = verdict.verdict
        {
            verdict.verdict = Verdict::NotJudged(Reason::RoundTripMoved);
        }
        verdict
    }
}
