//! A learner: what they can do now, and what a pass, a rest and a night change.

use sixrung_lesson::{Level, Tempo};
use sixrung_listen::{PassPlan, window_s};

use crate::chance::Chance;
use crate::experience::Experience;
use crate::played::Played;
use crate::traits::Traits;

/// Passes of practice after which the power law bends: errors are (1 + n/5)^−exponent of what they were. Design choice
/// of ours, like all that follows.
const FIRST_PASSES: f64 = 5.0;
/// Slots a second, and seconds for a change, at which a learner's traits are given.
const USUAL_SLOTS: f64 = 4.0;
const USUAL_GAP_S: f64 = 0.25;
/// No change is lost more often than this.
const MOST_BREAKS: f64 = 0.95;
/// What a broken change becomes: this share a missed stroke, this share another chord, the rest a late stroke, by so
/// much of a slot: beyond every window (0.40 of a slot at most), and nearer to its own time than to the next.
pub(crate) const MISSED_SHARE: f64 = 0.45;
pub(crate) const WRONG_SHARE: f64 = 0.15;
const LATE_OF_SLOT: (f64, f64) = (0.42, 0.48);
/// And the stroke after a missed or late one is missed too, so often.
pub(crate) const MISSED_AFTER: f64 = 0.3;
/// Half of the bias goes with practice: trained players lead by 0 to 30 ms (Repp & Doggett 2007, abstract read).
const BIAS_THAT_STAYS: f64 = 0.5;
/// A rest of so many seconds takes away all but 1/e of the tiredness.
const RECOVERS_S: f64 = 600.0;
const TIRES_S: f64 = 600.0;
/// Nobody tires beyond twice what ten minutes do.
const MOST_TIRED: f64 = 2.0;
/// A pass with this share of faults teaches least.
const HOPELESS_SHARE: f64 = 0.5;
/// Hours that make a night.
const NIGHT_H: f64 = 8.0;

/// One learner.
#[derive(Clone, Debug, PartialEq)]
pub struct Learner {
    traits: Traits,
    experience: Experience,
    /// Seconds of playing not yet rested from.
    tired_s: f64,
}

impl Learner {
    /// A learner who has practised nothing yet.
    #[must_use]
    pub fn new(traits: Traits) -> Self {
        Self { traits, experience: Experience::default(), tired_s: 0.0 }
    }

    /// What tells them from others.
    #[must_use]
    pub const fn traits(&self) -> &Traits {
        &self.traits
    }

    /// Plays `plan`, which is `piece` at `tempo`, once, and learns from it. One entry a stroke of the plan.
    ///
    /// `piece` is any name under which practice is to be kept: practice of other pieces counts for a quarter.
    pub fn pass(&mut self, piece: &str, tempo: Tempo, plan: &PassPlan, chance: &mut Chance) -> Vec<Played> {
        let played = self.play(piece, tempo, plan, chance);
        let bias_ms = self.bias_ms();
        let is_fault = |(played, slot_s): (&Played, f64)| {
            let window_ms = window_s(Level::Beginner, slot_s) * 1000.0;
            played.wrong || played.offset_ms.is_none_or(|offset| (offset - bias_ms).abs() > window_ms)
        };
        let strokes = played.iter().zip(plan.strokes.iter().map(|stroke| stroke.slot_s));
        let faults = strokes.filter(|stroke| is_fault(*stroke)).count();
        #[expect(clippy::cast_precision_loss, reason = "strokes of a pass")]
        let share = faults as f64 / played.len().max(1) as f64;
        let lost = self.traits.harm * (share / HOPELESS_SHARE).min(1.0);
        self.experience.add(piece, tempo, self.traits.pace * (1.0 - lost));
        self.tired_s += plan.length_s;
        played
    }

    /// What they would play now, without learning from it.
    #[must_use]
    pub fn play(&self, piece: &str, tempo: Tempo, plan: &PassPlan, chance: &mut Chance) -> Vec<Played> {
        let errors = self.errors(piece, tempo);
        let bias_ms = self.bias_ms();
        let mut played: Vec<Played> = Vec::with_capacity(plan.strokes.len());
        let (mut wrong, mut miss_next) = (false, false);
        for (index, stroke) in plan.strokes.iter().enumerate() {
            let change_s = change_s(plan, index);
            wrong &= change_s.is_none();
            let mut offset_ms = Some(bias_ms + errors.spread_ms(stroke.slot_s) * chance.normal());
            if std::mem::take(&mut miss_next) {
                offset_ms = None;
            }
            if change_s.is_some_and(|gap_s| chance.happens(errors.break_chance(gap_s))) {
                let kind = chance.unit();
                wrong = kind < WRONG_SHARE;
                if !wrong {
                    let missed = kind < WRONG_SHARE + MISSED_SHARE;
                    let late_ms = chance.between(LATE_OF_SLOT.0, LATE_OF_SLOT.1) * stroke.slot_s * 1000.0;
                    offset_ms = (!missed).then_some(bias_ms + late_ms);
                    miss_next = chance.happens(MISSED_AFTER) && change_s_of_next(plan, index).is_none();
                }
            }
            played.push(Played { offset_ms, wrong });
        }
        played
    }

    /// A rest between passes or sittings.
    pub fn rest(&mut self, seconds: f64) {
        self.tired_s *= (-seconds.max(0.0) / RECOVERS_S).exp();
    }

    /// A night, or a part of one: part of what was gained since the last is lost, the rest stays for good.
    pub fn sleep(&mut self, hours: f64) {
        self.experience.forget(self.traits.forgets * (hours / NIGHT_H).clamp(0.0, 1.0));
        self.rest(hours * 3600.0);
    }

    /// Practice that counts for a piece at a tempo, in faultless passes.
    #[must_use]
    pub fn practice(&self, piece: &str, tempo: Tempo) -> f64 {
        self.experience.worth(piece, tempo, self.traits.reach)
    }

    /// Standard deviation of the offsets, in milliseconds, where slots are `slot_s` long.
    #[must_use]
    pub fn spread_ms(&self, piece: &str, tempo: Tempo, slot_s: f64) -> f64 {
        self.errors(piece, tempo).spread_ms(slot_s)
    }

    /// Chance that a change breaks for which there are `gap_s` seconds since the stroke before.
    #[must_use]
    pub fn break_chance(&self, piece: &str, tempo: Tempo, gap_s: f64) -> f64 {
        self.errors(piece, tempo).break_chance(gap_s)
    }

    /// Mean of the offsets, in milliseconds: negative is early.
    #[must_use]
    pub fn bias_ms(&self) -> f64 {
        let left = power_law(self.experience.total(), self.traits.learning);
        self.traits.bias_ms * (BIAS_THAT_STAYS + (1.0 - BIAS_THAT_STAYS) * left)
    }

    pub(crate) fn errors(&self, piece: &str, tempo: Tempo) -> Errors {
        let left = power_law(self.practice(piece, tempo), self.traits.learning);
        let tired = 1.0 + self.traits.tires * (self.tired_s / TIRES_S).min(MOST_TIRED);
        Errors { traits: self.traits, left: left * tired }
    }
}

/// The share of errors left after so much practice.
fn power_law(practice: f64, exponent: f64) -> f64 {
    (1.0 + practice / FIRST_PASSES).powf(-exponent)
}

/// Errors at one place and tempo, now.
pub(crate) struct Errors {
    traits: Traits,
    /// What practice and tiredness make of the first errors.
    left: f64,
}

impl Errors {
    pub(crate) fn spread_ms(&self, slot_s: f64) -> f64 {
        let Traits { steady_share, strain_ms, strain_power, .. } = self.traits;
        let strain_ms = strain_ms * (1.0 / (slot_s * USUAL_SLOTS)).powf(strain_power) * self.left;
        steady_share * slot_s * 1000.0 + strain_ms
    }

    pub(crate) fn break_chance(&self, gap_s: f64) -> f64 {
        let Traits { break_chance, break_power, .. } = self.traits;
        (break_chance * (USUAL_GAP_S / gap_s).powf(break_power) * self.left).min(MOST_BREAKS)
    }
}

/// Seconds there are for the change at this stroke, if there is one.
pub(crate) fn change_s(plan: &PassPlan, index: usize) -> Option<f64> {
    let (before, here) = (plan.strokes.get(index.checked_sub(1)?)?, plan.strokes.get(index)?);
    (here.shape.is_some() && here.shape != before.shape).then_some(here.at_s - before.at_s)
}

fn change_s_of_next(plan: &PassPlan, index: usize) -> Option<f64> {
    change_s(plan, index + 1)
}
