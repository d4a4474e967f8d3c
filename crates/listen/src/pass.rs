//! One pass as it is being heard: what the listener caught of it so far.

use std::sync::Arc;

use sixrung_lesson::Criterion;

use crate::certainty::withhold;
use crate::check;
use crate::chord::hear_chords;
use crate::evidence::choose;
use crate::judge::judge;
use crate::learned::{self, Learned};
use crate::listener::{Caught, Listener, Stretch};
use crate::onset::Onset;
use crate::own::Beside;
use crate::plan::PassPlan;
use crate::quality::{Quality, is_clear};
use crate::sound::PassSound;
use crate::verdict::{PassVerdict, Verdict};

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
    own: OwnShare,
    learned: Option<Arc<Learned>>,
}

/// What of the pass's sound we played ourselves.
#[derive(Clone, Debug)]
struct OwnShare {
    played: PassSound,
    removed: PassSound,
    /// Whether it was told of all of it what we played.
    known: bool,
}

impl OwnShare {
    fn take_in(&mut self, at_s: f64, caught: Caught<'_>, within_s: (f64, f64)) {
        let Stretch { rate, samples, .. } = caught.sound;
        self.played.append_between(at_s, rate, caught.played, within_s);
        self.removed.append_between(at_s, rate, caught.removed, within_s);
        let before = self.played.samples.is_empty() && at_s < within_s.0;
        self.known &= before || at_s >= within_s.1 || caught.played.len() == samples.len();
    }
}

impl PassEar {
    /// An ear for `plan`. What the player plays at time t reaches the listener at t + `latency_s`.
    #[must_use]
    pub fn new(plan: PassPlan, latency_s: f64) -> Self {
        // A string every 20 ms and a moment every 20 ms: more would be noise.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a size hint")]
        let capacity = ((plan.length_s + 1.0) * 60.0).clamp(0.0, 1e6) as usize;
        let quality = Quality { moments: Vec::with_capacity(capacity), ..Quality::default() };
        let room = || PassSound::with_room(plan.length_s + 1.0);
        let own = OwnShare { played: room(), removed: room(), known: true };
        Self { sound: room(), own, plan, latency_s, onsets: Vec::with_capacity(capacity), quality, learned: None }
    }

    /// The same ear, knowing how strongly the program's own clicks arrive, as [`crate::own_sound_db`] finds it.
    #[must_use]
    pub fn beside_own_sound(mut self, own_sound_db: Option<f32>) -> Self {
        self.quality.own_sound_db = own_sound_db;
        self
    }

    /// The same ear, knowing how this player's shapes and strokes sound on this guitar.
    #[must_use]
    pub fn knowing(mut self, learned: Option<Arc<Learned>>) -> Self {
        self.learned = learned;
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
        let Stretch { at_s, rate, samples } = caught.sound;
        let at_s = at_s - self.latency_s;
        self.sound.append_between(at_s, rate, samples, (from, to));
        self.own.take_in(at_s, caught, (from, to));
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
        let mut chosen = choose(&self.onsets, &self.sound, &self.plan, criterion);
        let struck = self.onsets.iter().any(is_clear);
        let mut quality = Quality { struck, ..self.quality.clone() };
        if let Some(beside) = self.beside() {
            let strums_s: Vec<f64> = chosen.strums.iter().map(|strum| strum.at_s).collect();
            quality.leftover = beside.leftover(&strums_s);
            // What is surely a stroke is one, however much of ours was taken off under it.
            chosen.strums.retain(|strum| strum.certain || !beside.is_remains(strum.at_s));
        }
        if self.plan.only_asked {
            chosen.extras.clear();
        }
        let mut pass = judge(&self.plan, &chosen.strums, criterion, &quality);
        if !matches!(pass.verdict, Verdict::NotJudged(_)) {
            let played = self.beside().map(|beside| beside.played);
            let strums_s: Vec<f64> = chosen.strums.iter().map(|strum| strum.at_s).collect();
            let done = check::of_pass(&self.plan, &quality.moments, &self.sound, played, &strums_s);
            pass.verdict = done.map_or(pass.verdict, Verdict::NotJudged);
        }
        let chords = hear_chords(&self.plan, &self.sound, self.learned.as_deref(), &mut pass);
        withhold(&mut pass, &chosen, &chords);
        if let Some(learned) = &self.learned {
            learned::fill(learned, &self.plan, &self.sound, &mut pass);
        }
        pass
    }

    /// The pass's sound and ours in it; `None` where it is not known what we played.
    fn beside(&self) -> Option<Beside<'_>> {
        let OwnShare { played, removed, known } = &self.own;
        known.then_some(Beside { heard: &self.sound, played, removed })
    }
}
