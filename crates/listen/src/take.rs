//! A whole recording, judged as it would have been live.

use std::sync::Arc;

use sixrung_lesson::Criterion;

use crate::learned::Learned;
use crate::level::Moment;
use crate::listener::{Caught, Listener, Stretch};
use crate::onset::Onset;
use crate::own::{Learned as LearnedPath, Learning, OwnPath};
use crate::pass::PassEar;
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::start::find_start;
use crate::verdict::{PassVerdict, Reason};

/// Frames fed at once; the outcome does not depend on it.
const BLOCK: usize = 4096;

/// How a recording is to be judged.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct TakeOptions {
    /// What counts as clean.
    pub criterion: Criterion,
    /// Where bar 1 beat 1 of the first pass lies, in seconds; found by itself when `None`.
    pub starts_at_s: Option<f64>,
    /// What the recording lags behind the player, in milliseconds. Only told apart from the player's own bias when
    /// the start is given.
    pub latency_ms: f64,
    /// What the program played meanwhile, mono, at the recording's rate and beginning with it: taken off the recording
    /// as far as the stretch before the first pass shows how it got there.
    pub played: Option<Arc<[f32]>>,
    /// How this player's shapes and strokes sound on this guitar; without it strings and directions are not told.
    pub learned: Option<Arc<Learned>>,
}

/// A recording, judged.
#[derive(Clone, Debug, PartialEq)]
pub struct TakeVerdict {
    /// One entry a pass; empty when there is a reason.
    pub passes: Vec<PassVerdict>,
    /// Why nothing could be judged.
    pub reason: Option<Reason>,
    /// Where bar 1 beat 1 was taken to lie, in seconds.
    pub starts_at_s: Option<f64>,
}

/// Judges a mono recording at `rate` frames a second against passes whose `starts_s` count from the first one's bar 1
/// beat 1. `None` when the rate is outside [`crate::RATES`].
#[must_use]
pub fn judge_take(samples: &[f32], rate: u32, plans: &[PassPlan], options: &TakeOptions) -> Option<TakeVerdict> {
    let not_judged = |reason| TakeVerdict { passes: Vec::new(), reason: Some(reason), starts_at_s: None };
    if plans.iter().all(|plan| plan.strokes.is_empty()) {
        return Some(not_judged(Reason::NothingExpected));
    }
    Some(match hear_take(samples, rate, plans, options)? {
        Ok(ears) => TakeVerdict {
            starts_at_s: plans.first().zip(ears.first()).map(|(plan, ear)| ear.plan().starts_s - plan.starts_s),
            passes: ears.iter().map(|ear| ear.verdict(&options.criterion)).collect(),
            reason: None,
        },
        Err(reason) => not_judged(reason),
    })
}

/// Hears a recording as [`judge_take`] does, and gives what was heard of each pass; or why its start can't be told.
/// `None` when the rate is outside [`crate::RATES`].
#[must_use]
pub fn hear_take(
    samples: &[f32],
    rate: u32,
    plans: &[PassPlan],
    options: &TakeOptions,
) -> Option<Result<Vec<PassEar>, Reason>> {
    let mut take = Take { samples, rate, played: options.played.as_deref(), path: None };
    let mut heard = take.hear()?;
    let latency_s = options.latency_ms / 1000.0;
    let start = |heard: &HeardTake| match options.starts_at_s {
        Some(starts_at_s) => Ok(starts_at_s),
        None => find_start(plans, &heard.onsets, latency_s),
    };
    let mut starts_at_s = start(&heard);
    if let (Ok(at_s), Some(first)) = (starts_at_s, plans.first()) {
        take.path = heard.own_path(first.starting_at(at_s + first.starts_s).reach_s().0 + latency_s);
        if take.path.is_some() {
            heard = take.hear()?;
            starts_at_s = start(&heard);
        }
    }
    let ear = |plan: &PassPlan, starts_at_s: f64| {
        let plan = plan.starting_at(starts_at_s + plan.starts_s);
        let mut ear = PassEar::new(plan, latency_s).knowing(options.learned.clone());
        ear.take_in(heard.caught());
        ear
    };
    Some(starts_at_s.map(|starts_at_s| plans.iter().map(|plan| ear(plan, starts_at_s)).collect()))
}

/// A recording, what was played meanwhile, and along which path it is taken off.
struct Take<'a> {
    samples: &'a [f32],
    rate: u32,
    played: Option<&'a [f32]>,
    path: Option<OwnPath>,
}

impl Take<'_> {
    /// `None` at a rate that is not taken.
    fn hear(&self) -> Option<HeardTake> {
        let mut listener = Listener::new(self.rate)?;
        let mut heard = HeardTake::with_room(self.samples.len());
        self.tell(&mut listener, None);
        self.tell(&mut listener, Some(0));
        listener.remove_own(self.path.clone());
        for (index, block) in self.samples.chunks(BLOCK).enumerate() {
            self.tell(&mut listener, Some(index + 1));
            heard.take_in(listener.feed((index * BLOCK) as u64, block));
        }
        Some(heard)
    }

    /// Tells a block of what was played: silence for the one before the take, and beyond the end.
    #[expect(clippy::cast_precision_loss, reason = "hours of frames")]
    fn tell(&self, listener: &mut Listener, block: Option<usize>) {
        let Some(played) = self.played else { return };
        let mut sounds = [0.0; BLOCK];
        let first = block.map_or(played.len(), |block| block * BLOCK).min(played.len());
        let known = &played[first..played.len().min(first + BLOCK)];
        sounds[..known.len()].copy_from_slice(known);
        let at = block.map_or(-(BLOCK as f64), |block| (block * BLOCK) as f64);
        listener.played(at / f64::from(self.rate), self.rate, &sounds);
    }
}

/// All that a listener catches of a recording.
struct HeardTake {
    onsets: Vec<Onset>,
    moments: Vec<Moment>,
    sound: PassSound,
    played: PassSound,
    removed: PassSound,
}

impl HeardTake {
    fn with_room(samples: usize) -> Self {
        let room = || PassSound { samples: Vec::with_capacity(samples), ..PassSound::default() };
        Self { onsets: Vec::new(), moments: Vec::new(), sound: room(), played: room(), removed: room() }
    }

    fn take_in(&mut self, caught: Caught<'_>) {
        self.onsets.extend_from_slice(caught.onsets);
        self.moments.extend_from_slice(caught.moments);
        let Stretch { at_s, rate, samples } = caught.sound;
        self.sound.append(at_s, rate, samples);
        self.played.append(at_s, rate, caught.played);
        self.removed.append(at_s, rate, caught.removed);
    }

    /// The path of our own sound, by what is heard before `until_s`.
    fn own_path(&self, until_s: f64) -> Option<OwnPath> {
        let mut learning = Learning::new();
        let Caught { sound, played, removed, .. } = self.caught();
        let until = self.sound.between(f64::NEG_INFINITY, until_s).len();
        let cut = |samples: &[f32]| until.min(samples.len());
        let sound = Stretch { samples: &sound.samples[..until], ..sound };
        let (played, removed) = (&played[..cut(played)], &removed[..cut(removed)]);
        learning.take_in(Caught { onsets: &[], moments: &[], sound, played, removed });
        match learning.learn(sound.at_s, until_s, None) {
            LearnedPath::Path(path) => Some(path),
            LearnedPath::NotHeard | LearnedPath::Disturbed => None,
        }
    }

    fn caught(&self) -> Caught<'_> {
        let PassSound { rate, starts_s, samples } = &self.sound;
        let sound = Stretch { at_s: *starts_s, rate: *rate, samples };
        let (played, removed) = (&self.played.samples, &self.removed.samples);
        Caught { onsets: &self.onsets, moments: &self.moments, sound, played, removed }
    }
}
