//! One pass as it is being heard: what the listener caught of it so far.

use sixrung_lesson::Criterion;

use crate::chord::hear_chords;
use crate::judge::judge;
use crate::listener::{Caught, Listener};
use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::quality::Quality;
use crate::sound::PassSound;
use crate::strums::strums;
use crate::verdict::PassVerdict;

/// How far around its own stretch a pass keeps onsets, in seconds: what a bias moves and a sweep needs.
const MARGIN_S: f64 = 0.25;

/// Gathers what belongs to one pass. Feed it all that the listener catches; ask for the verdict when complete.
#[derive(Clone, Debug)]
pub struct PassEar {
    plan: PassPlan,
    latency_s: f64,
    onsets: Vec<Onset>,
    quality: Quality,
    sound: PassSound,
}

impl PassEar {
    /// An ear for `plan`. What the player plays at time t reaches the listener at t + `latency_s`.
    #[must_use]
    pub fn new(plan: PassPlan, latency_s: f64) -> Self {
        // A string every 20 ms and a moment every 20 ms: more would be noise.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a size hint")]
        let capacity = ((plan.length_s + 1.0) * 60.0).clamp(0.0, 1e6) as usize;
        let quality = Quality { moments: Vec::with_capacity(capacity), own_sound_db: None };
        let sound = PassSound::with_room(plan.length_s + 1.0);
        Self { plan, latency_s, onsets: Vec::with_capacity(capacity), quality, sound }
    }

    /// The same ear, knowing how strongly the program's own clicks arrive, as [`crate::own_sound_db`] finds it.
    #[must_use]
    pub fn beside_own_sound(mut self, own_sound_db: Option<f32>) -> Self {
        self.quality.own_sound_db = own_sound_db;
        self
    }

    /// The pass being heard.
    #[must_use]
    pub fn plan(&self) -> &PassPlan {
        &self.plan
    }

    /// Keeps what lies within the pass.
    pub fn take_in(&mut self, caught: Caught<'_>) {
        let (from, to) = self.plan.reach_s();
        let (from, to) = (from - MARGIN_S, to + MARGIN_S);
        for onset in caught.onsets {
            let at_s = onset.at_s - self.latency_s;
            if (from..to).contains(&at_s) {
                self.onsets.push(Onset { at_s, ..*onset });
            }
        }
        for moment in caught.moments {
            let end_s = moment.end_s - self.latency_s;
            if (from..to).contains(&end_s) {
                self.quality.moments.push(crate::level::Moment { end_s, ..*moment });
            }
        }
        let (at_s, rate) = (caught.sound.at_s - self.latency_s, caught.sound.rate);
        let (early, late) = ((from - at_s) * rate, (to - at_s) * rate);
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "clamped to the block"
        )]
        let index = |place: f64| place.clamp(0.0, caught.sound.samples.len() as f64) as usize;
        let (first, last) = (index(early), index(late));
        if first < last {
            #[expect(clippy::cast_precision_loss, reason = "a block")]
            let at_s = at_s + first as f64 / rate;
            self.sound.append(at_s, rate, &caught.sound.samples[first..last]);
        }
    }

    /// The sound of the pass so far, on the player's clock.
    #[must_use]
    pub fn sound(&self) -> &PassSound {
        &self.sound
    }

    /// Whether nothing more can come that belongs to this pass.
    #[must_use]
    pub fn is_complete(&self, listener: &Listener) -> bool {
        listener.settled_until_s() - self.latency_s >= self.plan.reach_s().1 + MARGIN_S
    }

    /// The onsets kept, on the player's clock: latency removed.
    #[must_use]
    pub fn onsets(&self) -> &[Onset] {
        &self.onsets
    }

    /// What became of the pass, by what has been heard so far.
    #[must_use]
    pub fn verdict(&self, criterion: &Criterion) -> PassVerdict {
        let mut pass = judge(&self.plan, &strums(&self.onsets, &self.plan), criterion, &self.quality);
        hear_chords(&self.plan, &self.sound, &mut pass);
        pass
    }
}
