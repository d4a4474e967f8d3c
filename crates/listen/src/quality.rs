//! Whether a pass could be heard well enough to judge.

use crate::level::Moment;
use crate::median::median_f32;
use crate::onset::Onset;
use crate::own::Leftover;
use crate::plan::PassPlan;
use crate::strums::{LEAST_USUAL_RISE_DB, Strum};
use crate::verdict::Reason;

/// So large a share of cut-off samples is an overdriven input.
pub(crate) const OVERDRIVEN_SHARE: f32 = 0.005;
/// Below this the loudest moment of a pass is silence, in decibels re full scale.
const SILENCE_BELOW_DB: f32 = -75.0;

/// At least one expected stroke in so many, and two, must rise clearly: a player who rests for some bars still does.
/// A design choice of ours.
const CLEARLY_HEARD_SHARE: usize = 8;
/// The program's own clicks may be at most this much weaker than the strums before they are taken for them. A design
/// choice of ours, below the 9 dB by which a strum nobody asked for must stand near the usual.
const OWN_SOUND_BELOW_DB: f32 = 10.0;
/// Own clicks are looked for this close to where they should arrive, in seconds.
const CLICK_NEAR_S: f64 = 0.040;

/// A rise of so much, of which so much lasts, in decibels, is clear: twice the rise that noise alone makes once in many
/// minutes. A design choice of ours.
const CLEAR_RISE_DB: f32 = 12.0;
const CLEAR_GAIN_DB: f32 = 6.0;

/// Of fewer strokes than these, noise alone may hold as many onsets in time: something must rise clearly. A design choice
/// of ours, after hiss was called clean where one stroke was asked for.
const FEW_STROKES: usize = 8;

/// And so much it must have died away, in decibels, from what is usual at the last strum to what is usual later, these
/// spans after it, in seconds: noise that sets in goes on as loud as it began, whatever its loudest moment. A design choice
/// of ours.
const DIES_AWAY_DB: f32 = 2.0;
const AT_THE_STRUM_S: (f64, f64) = (0.02, 0.16);
const LATER_S: (f64, f64) = (0.4, 0.8);
/// Fewer moments than these say nothing of it.
const LEAST_LATER: usize = 5;

pub(crate) fn is_clear(onset: &Onset) -> bool {
    onset.rise_db >= CLEAR_RISE_DB && onset.gain_db >= CLEAR_GAIN_DB
}

/// What is known of the input over one pass.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Quality {
    /// Its moments, by time.
    pub moments: Vec<Moment>,
    /// How strongly the program's own clicks arrive, see [`own_sound_db`]; `None` when unknown or not at all.
    pub own_sound_db: Option<f32>,
    /// What of the pass's sound is still ours, where that could be measured: then it counts instead of the clicks.
    pub leftover: Option<Leftover>,
    /// Whether something rose clearly, wherever it was: then what is not known for a stroke is not too faint.
    pub struck: bool,
}

/// How strongly the program's own clicks arrive in the microphone, in decibels re full scale: the median strength of
/// the onsets near them. `clicks_s` are the count-in's clicks, when the player is silent, on the clock of the onsets
/// (round trip added). `None` when fewer than half of them are heard.
#[must_use]
pub fn own_sound_db(onsets: &[Onset], clicks_s: &[f64]) -> Option<f32> {
    let near = |click: &f64| {
        let clear = |onset: &&Onset| onset.rise_db >= LEAST_USUAL_RISE_DB && (onset.at_s - click).abs() <= CLICK_NEAR_S;
        let near = onsets.iter().filter(clear);
        near.map(|onset| onset.strength_db).reduce(f32::max)
    };
    let mut heard: Vec<f32> = clicks_s.iter().filter_map(near).collect();
    if heard.len() * 2 < clicks_s.len() { None } else { median_f32(&mut heard) }
}

impl Quality {
    /// Why this pass can't be judged, if it can't.
    #[must_use]
    pub fn objection(&self, plan: &PassPlan, strums: &[Strum]) -> Option<Reason> {
        let last = plan.strokes.last()?;
        let needed_s = plan.starts_s + last.at_s + last.slot_s / 2.0;
        let moments = &self.moments;
        let loudest = moments.iter().map(|moment| moment.level_db).fold(f32::MIN, f32::max);
        #[expect(clippy::cast_precision_loss, reason = "a share")]
        let clipped = moments.iter().map(|moment| moment.clipped).sum::<f32>() / moments.len().max(1) as f32;
        let clearly_heard = plan.strokes.len().min((plan.strokes.len() / CLEARLY_HEARD_SHARE).max(2));
        let mut strengths: Vec<f32> = strums.iter().map(|strum| strum.strength_db).collect();
        let usual_db = median_f32(&mut strengths);
        if moments.iter().any(|moment| moment.bad) {
            Some(Reason::BadSamples)
        } else if moments.iter().any(|moment| moment.gap) {
            Some(Reason::Gap)
        } else if moments.last().is_none_or(|moment| moment.end_s < needed_s) {
            Some(Reason::TooShort)
        } else if clipped > OVERDRIVEN_SHARE {
            Some(Reason::Clipped)
        } else if loudest < SILENCE_BELOW_DB {
            Some(Reason::Silence)
        } else if plan.strokes.len() < FEW_STROKES && !self.struck {
            Some(Reason::TooFaint)
        } else if plan.strokes.len() < FEW_STROKES && strums.last().is_some_and(|last| self.goes_on_after(last)) {
            Some(Reason::Unclear)
        } else if strums.is_empty() || strums.iter().filter(|strum| strum.certain).count() < clearly_heard {
            Some(if self.struck { Reason::Unclear } else { Reason::TooFaint })
        } else if self.is_ours(usual_db) {
            Some(Reason::OwnSound)
        } else {
            None
        }
    }

    /// Whether it goes on as loud as it began.
    fn goes_on_after(&self, strum: &Strum) -> bool {
        let levels = |(from_s, to_s): (f64, f64)| -> Vec<f32> {
            let within = |moment: &&Moment| (strum.at_s + from_s..strum.at_s + to_s).contains(&moment.end_s);
            self.moments.iter().filter(within).map(|moment| moment.level_db).collect()
        };
        let (mut struck, mut later) = (levels(AT_THE_STRUM_S), levels(LATER_S));
        let usual_db = median_f32(&mut struck).zip(median_f32(&mut later));
        later.len() >= LEAST_LATER && usual_db.is_some_and(|(struck_db, later_db)| struck_db - later_db < DIES_AWAY_DB)
    }

    /// Whether what was heard may be our own sound rather than the player's.
    fn is_ours(&self, usual_db: Option<f32>) -> bool {
        match self.leftover {
            Some(leftover) => leftover.may_be_ours(),
            None => self.own_sound_db.zip(usual_db).is_some_and(|(own, usual)| own > usual - OWN_SOUND_BELOW_DB),
        }
    }
}
