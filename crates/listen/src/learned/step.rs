//! The learning step as it is played: strokes are gathered task by task until all is heard.

use sixrung_lesson::Direction;

use super::attack::{Attacks, NEEDS_S};
use super::form::Learned;
use super::grid::{Spectra, WINDOWS};
use super::learning::{Example, LearnError, learn};
use super::plan::{LearnPlan, LearnTask, Way};
use super::segments::decibels;
use crate::listener::{Caught, Listener};
use crate::onset::Onset;
use crate::sound::PassSound;
use crate::strums::{Strum, sweeps};

/// Strings of a slow stroke follow each other within this, in seconds: as for any strum.
const LONGEST_SWEEP_S: f64 = 0.085;
/// Asked strokes lie further apart than this, in seconds.
const CLOSEST_S: f64 = 0.18;
/// A stroke rises and lasts by at least so much, and is no weaker beside the strongest, in decibels: between strokes
/// and ripples of made learning takes (seeds 7001 and 7002).
const LEAST_RISE_DB: f32 = 2.5;
const LEAST_GAIN_DB: f32 = 3.0;
/// What lasts of its rise makes up for what it lacks of the strongest stroke's strength, a decibel for two.
const LEAST_EVIDENCE_DB: f32 = 0.5;
const WEAKEST_DB: f32 = 25.0;
/// And no weaker by more than this than the weakest of the tasks before.
const WEAKER_DB: f32 = 12.0;
/// So long after its last stroke a task is over, in seconds: the longest window and a little.
const AFTER_LAST_S: f64 = 0.65;
/// What the listener has reported lags behind its sound by less than this, in seconds.
const ONSETS_LAG_S: f64 = 0.12;
/// At a stream's start its noise sets in, which is no stroke: so much is not listened to, in seconds.
const START_S: f64 = 0.25;
/// A task that lasts longer begins anew, in seconds.
const LONGEST_TASK_S: f64 = 110.0;
/// Strokes of a slow task differ from their middle by no more than this, in decibels, on the average over their loud
/// bands. Strokes of one chord differ by 1 to 2 dB, of two chords by 8 and more (same seeds).
const ALIKE_DB: f64 = 4.5;
/// A band is loud within so much of the loudest, in decibels.
const LOUD_DB: f64 = 25.0;

/// Listens to what [`LearnPlan`] asks for. Feed it all that the listener catches.
pub struct LearnStep {
    plan: LearnPlan,
    task: usize,
    onsets: Vec<Onset>,
    sound: PassSound,
    /// Where the present task begins, in seconds on the take's clock.
    from_s: f64,
    heard: u32,
    /// Strength of the weakest stroke of the tasks before, in decibels.
    weakest_db: f32,
    examples: Vec<Example>,
    refused: Option<LearnError>,
}

impl LearnStep {
    /// A step that has heard nothing yet.
    #[must_use]
    pub fn new(plan: LearnPlan) -> Self {
        Self {
            plan,
            task: 0,
            onsets: Vec::with_capacity(1024),
            sound: PassSound::with_room(LONGEST_TASK_S + 10.0),
            from_s: f64::NEG_INFINITY,
            heard: 0,
            weakest_db: f32::MAX,
            examples: Vec::new(),
            refused: None,
        }
    }

    /// What is asked now; `None` when all was heard.
    #[must_use]
    pub fn task(&self) -> Option<LearnTask> {
        self.plan.tasks.get(self.task).copied()
    }

    /// How many strokes of it were heard.
    #[must_use]
    pub fn heard(&self) -> u32 {
        self.heard
    }

    /// What is asked on the whole.
    #[must_use]
    pub fn plan(&self) -> &LearnPlan {
        &self.plan
    }

    /// Why the present task has to be played again, until its first stroke is heard anew.
    #[must_use]
    pub fn refused(&self) -> Option<&LearnError> {
        self.refused.as_ref().filter(|_| self.heard == 0)
    }

    /// Begins the present task anew.
    pub fn again(&mut self) {
        self.refused = None;
        self.forget(self.end_s());
    }

    /// Leaves the shape of the present task out: its strokes so far are forgotten, and the next shape's come.
    pub fn skip(&mut self) {
        let Some(LearnTask { shape, .. }) = self.task() else { return };
        self.task = self.plan.tasks[..self.task].iter().filter(|task| task.shape != shape).count();
        self.plan.tasks.retain(|task| task.shape != shape);
        self.examples.retain(|example| example.shape != shape);
        self.again();
    }

    /// What was learned of the shapes heard so far; those not yet heard to the end are left out.
    ///
    /// # Errors
    /// A shape's strokes left no sound to learn from.
    pub fn learned_so_far(&self) -> Result<Learned, LearnError> {
        let open: Vec<usize> = self.plan.tasks.iter().skip(self.task).map(|task| task.shape).collect();
        let heard = self.examples.iter().filter(|example| !open.contains(&example.shape)).cloned();
        learn(&self.plan.shapes, &heard.collect::<Vec<_>>())
    }

    /// What was learned, when all was heard; shapes that were left out are not in it.
    ///
    /// # Errors
    /// Strokes are missing, or a shape's strokes left no sound to learn from.
    pub fn learned(&self) -> Result<Learned, LearnError> {
        if self.task().is_some() {
            let before: u32 = self.plan.tasks[..self.task].iter().map(|task| task.strokes).sum();
            return Err(LearnError::TooFew { heard: before + self.heard, asked: self.plan.strokes() });
        }
        learn(&self.plan.shapes, &self.examples)
    }

    /// Takes what the listener caught next.
    pub fn take_in(&mut self, caught: Caught<'_>) {
        if self.from_s == f64::NEG_INFINITY {
            self.from_s = caught.sound.at_s + START_S;
        }
        let from_s = self.from_s;
        self.onsets.extend(caught.onsets.iter().filter(|onset| onset.at_s >= from_s));
        self.sound.append(caught.sound.at_s, caught.sound.rate, caught.sound.samples);
        while let Some(task) = self.task() {
            let strokes = self.strokes();
            self.heard = u32::try_from(strokes.len()).unwrap_or(u32::MAX).min(task.strokes);
            if !self.is_over(task, &strokes) {
                break;
            }
            self.finish(task, &strokes);
        }
        if self.end_s() - self.sound.starts_s > LONGEST_TASK_S {
            self.forget(self.end_s());
        }
    }

    fn end_s(&self) -> f64 {
        #[expect(clippy::cast_precision_loss, reason = "minutes of samples")]
        let length = self.sound.samples.len() as f64;
        self.sound.starts_s + length / self.sound.rate.max(1.0)
    }

    fn is_over(&self, task: LearnTask, strokes: &[Strum]) -> bool {
        let asked = task.strokes as usize;
        let settled_s = self.end_s() - ONSETS_LAG_S;
        match strokes.get(asked) {
            // The next task's first stroke: where it begins is only known when its sweep is over.
            Some(next) => settled_s > next.at_s + LONGEST_SWEEP_S,
            None => strokes.len() == asked && settled_s > strokes[asked - 1].at_s + AFTER_LAST_S,
        }
    }

    fn finish(&mut self, task: LearnTask, strokes: &[Strum]) {
        let asked = task.strokes as usize;
        let examples = self.examples(task, strokes);
        let next_s = strokes.get(asked).map_or(self.end_s(), |next| next.at_s - 0.001);
        if task.way == Way::Slow && !alike(&examples) {
            let shape = self.plan.shapes[task.shape].name.clone();
            self.forget(next_s);
            self.refused = Some(LearnError::NotAlike { shape });
            return;
        }
        self.examples.extend(examples);
        let strengths = strokes.iter().take(asked).map(|stroke| stroke.strength_db);
        self.weakest_db = strengths.fold(self.weakest_db, f32::min);
        self.refused = None;
        self.task += 1;
        self.forget(next_s);
    }

    /// The strokes of the present task so far.
    fn strokes(&self) -> Vec<Strum> {
        let limit_db = if self.examples.is_empty() { f32::MIN } else { self.weakest_db - WEAKER_DB };
        strokes(&self.onsets, limit_db)
    }

    /// Begins to listen for a task at `from_s`, keeping what was already heard from there on.
    fn forget(&mut self, from_s: f64) {
        self.from_s = from_s;
        self.heard = 0;
        self.onsets.retain(|onset| onset.at_s >= from_s);
        // A little before the stroke belongs to its attack.
        let kept_s = from_s - 0.05;
        let kept = self.sound.between(kept_s, f64::INFINITY).to_vec();
        let (rate, starts_s) = (self.sound.rate, self.sound.starts_s.max(kept_s));
        self.sound.samples.clear();
        self.sound.append(starts_s, rate, &kept);
    }

    fn examples(&self, task: LearnTask, strokes: &[Strum]) -> Vec<Example> {
        let (mut spectra, mut attacks) = (Spectra::new(self.sound.rate, 0.0), Attacks::new(self.sound.rate));
        let asked = task.strokes as usize;
        let mut examples = Vec::with_capacity(asked);
        for (index, stroke) in strokes.iter().take(asked).enumerate() {
            let alone_s = strokes.get(index + 1).map_or(f64::INFINITY, |next| next.at_s - stroke.at_s);
            let direction = task.direction(index);
            let mut spectrum = |window: usize| {
                let fits = direction == Direction::Down && WINDOWS[window].needs_s() <= alone_s;
                fits.then(|| spectra.of(&self.sound, stroke.at_s, window)).flatten()
            };
            let spectra = [spectrum(0), spectrum(1), spectrum(2)];
            let attack = (alone_s >= NEEDS_S).then(|| attacks.of(&self.sound, stroke.at_s)).flatten();
            examples.push(Example { shape: task.shape, direction, spectra, attack });
        }
        examples
    }
}

/// The strokes among the onsets of a task, none weaker than the limit.
fn strokes(onsets: &[Onset], limit_db: f32) -> Vec<Strum> {
    let mut found = sweeps(onsets, LONGEST_SWEEP_S);
    found.retain(|strum| strum.rise_db >= LEAST_RISE_DB && strum.gain_db >= LEAST_GAIN_DB);
    let strongest_db = found.iter().map(|strum| strum.strength_db).fold(f32::MIN, f32::max);
    let evidence_db = |strum: &Strum| strum.gain_db + (strum.strength_db - strongest_db) / 2.0;
    found.retain(|strum| {
        strum.strength_db >= limit_db.max(strongest_db - WEAKEST_DB) && evidence_db(strum) >= LEAST_EVIDENCE_DB
    });
    let mut kept: Vec<Strum> = Vec::with_capacity(found.len());
    for strum in found {
        match kept.last_mut() {
            Some(last) if strum.at_s - last.at_s < CLOSEST_S => {
                // The stronger of two so close is the stroke, the other a touch before or a ripple after it.
                if strum.strength_db > last.strength_db + 3.0 {
                    *last = strum;
                }
            }
            _ => kept.push(strum),
        }
    }
    kept
}

/// Whether all strokes sound like their middle.
fn alike(examples: &[Example]) -> bool {
    let complete = |window: &usize| examples.iter().all(|example| example.spectra[*window].is_some());
    let Some(window) = (0..WINDOWS.len()).rev().find(complete) else { return true };
    let levels: Vec<Vec<f64>> = examples
        .iter()
        .filter_map(|example| example.spectra[window].as_ref())
        .map(|spectrum| spectrum.iter().map(|power| decibels(power + 1e-9)).collect())
        .collect();
    let middle = |band: usize| {
        let mut values: Vec<f64> = levels.iter().map(|levels| levels[band]).collect();
        values.sort_unstable_by(f64::total_cmp);
        values[values.len() / 2]
    };
    let middle: Vec<f64> = (0..levels.first().map_or(0, Vec::len)).map(middle).collect();
    let loudest = middle.iter().copied().fold(f64::MIN, f64::max);
    let loud: Vec<usize> = (0..middle.len()).filter(|band| middle[*band] > loudest - LOUD_DB).collect();
    #[expect(clippy::cast_precision_loss, reason = "hundreds")]
    let off = |levels: &Vec<f64>| {
        loud.iter().map(|band| (levels[*band] - middle[*band]).abs()).sum::<f64>() / loud.len().max(1) as f64
    };
    levels.iter().all(|levels| off(levels) <= ALIKE_DB)
}

/// Learns from a mono recording at `rate` frames a second. `None` when the rate is outside [`crate::RATES`].
///
/// # Errors
/// Strokes are missing or too many, do not sound alike, or follow each other too fast.
pub fn learn_take(samples: &[f32], rate: u32, plan: &LearnPlan) -> Option<Result<Learned, LearnError>> {
    /// Fed at once, in frames; the outcome does not depend on it.
    const BLOCK: usize = 4096;
    let mut listener = Listener::new(rate)?;
    let mut step = LearnStep::new(plan.clone());
    let mut frame = 0;
    // A second of silence after it, so that its last stroke is over too.
    let silence = vec![0.0; rate as usize];
    for block in samples.chunks(BLOCK).chain(silence.chunks(BLOCK)) {
        step.take_in(listener.feed(frame, block));
        frame += block.len() as u64;
        if let Some(error) = &step.refused {
            return Some(Err(error.clone()));
        }
    }
    let asked = plan.strokes();
    if step.task().is_none() {
        // A foot on the floor after the last stroke is no stroke: one more must be as strong as those before.
        let more = u32::try_from(strokes(&step.onsets, step.weakest_db).len()).unwrap_or(u32::MAX);
        if more > 0 {
            return Some(Err(LearnError::TooMany { heard: asked.saturating_add(more), asked }));
        }
    }
    Some(step.learned())
}
