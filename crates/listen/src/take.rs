//! A whole recording, judged as it would have been live.

use sixrung_lesson::Criterion;

use crate::level::Moment;
use crate::listener::{Caught, Listener, Stretch};
use crate::onset::Onset;
use crate::pass::PassEar;
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::start::find_start;
use crate::verdict::{PassVerdict, Reason};

/// Frames fed at once; the outcome does not depend on it.
const BLOCK: usize = 4096;

/// How a recording is to be judged.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TakeOptions {
    /// What counts as clean.
    pub criterion: Criterion,
    /// Where bar 1 beat 1 of the first pass lies, in seconds; found by itself when `None`.
    pub starts_at_s: Option<f64>,
    /// What the recording lags behind the player, in milliseconds. Only told apart from the player's own bias when
    /// the start is given.
    pub latency_ms: f64,
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
    let mut listener = Listener::new(rate)?;
    let heard = HeardTake::new(&mut listener, samples);
    let onsets = &heard.onsets;
    let not_judged = |reason| TakeVerdict { passes: Vec::new(), reason: Some(reason), starts_at_s: None };
    if plans.iter().all(|plan| plan.strokes.is_empty()) {
        return Some(not_judged(Reason::NothingExpected));
    }
    let latency_s = options.latency_ms / 1000.0;
    let starts_at_s = match options.starts_at_s {
        Some(starts_at_s) => starts_at_s,
        None => match find_start(plans, onsets, latency_s) {
            Ok(starts_at_s) => starts_at_s,
            Err(reason) => return Some(not_judged(reason)),
        },
    };
    let passes = plans.iter().map(|plan| {
        let mut ear = PassEar::new(plan.starting_at(starts_at_s + plan.starts_s), latency_s);
        ear.take_in(heard.caught());
        ear.verdict(&options.criterion)
    });
    Some(TakeVerdict { passes: passes.collect(), reason: None, starts_at_s: Some(starts_at_s) })
}

/// All that a listener catches of a recording.
struct HeardTake {
    onsets: Vec<Onset>,
    moments: Vec<Moment>,
    sound: PassSound,
}

impl HeardTake {
    fn new(listener: &mut Listener, samples: &[f32]) -> Self {
        let (mut onsets, mut moments) = (Vec::new(), Vec::new());
        let mut sound = PassSound { samples: Vec::with_capacity(samples.len()), ..PassSound::default() };
        let mut frame = 0;
        for block in samples.chunks(BLOCK) {
            let caught = listener.feed(frame, block);
            onsets.extend_from_slice(caught.onsets);
            moments.extend_from_slice(caught.moments);
            sound.append(caught.sound.at_s, caught.sound.rate, caught.sound.samples);
            frame += block.len() as u64;
        }
        Self { onsets, moments, sound }
    }

    fn caught(&self) -> Caught<'_> {
        let PassSound { rate, starts_s, samples } = &self.sound;
        let sound = Stretch { at_s: *starts_s, rate: *rate, samples };
        Caught { onsets: &self.onsets, moments: &self.moments, sound }
    }
}
