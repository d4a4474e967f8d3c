//! A stretch in which only we sound, and the path it shows.

use super::fit::{Others, Pair};
use super::path::{LARGEST_LAG_S, LENGTH_S, OwnPath};
use crate::listener::Caught;

/// At most so much is learned from, in seconds: a count-in of two slow bars, or half of a short section.
const LONGEST_S: f64 = 16.0;
/// What was played before the stretch still sounds in it for so long.
const LEAD_S: f64 = LARGEST_LAG_S + LENGTH_S;
/// This much of a stretch is fitted to measure on the rest, before all of it is.
const FITTED_SHARE: f64 = 0.6;
/// Of our sound at least so much must be removed, in decibels: less is as good as nothing of us heard.
const LEAST_REMOVED_DB: f64 = 3.0;
/// A path that no longer removes so much of what another one could is given up, in decibels.
const GIVEN_UP_DB: f64 = 6.0;
/// A stretch with so large a share of others in it was no silence of the player.
const MOST_OTHERS: f64 = 0.5;
/// Below this nothing was played: −80 dB re full scale, as a power.
const SILENCE: f64 = 1e-8;

/// Gathers microphone and playback of a stretch in which the player is silent.
#[derive(Clone, Debug)]
pub struct Learning {
    from_s: f64,
    to_s: f64,
    first_s: f64,
    rate: f64,
    heard: Vec<f32>,
    played: Vec<f32>,
}

/// What a stretch taught.
#[derive(Clone, Debug, PartialEq)]
pub enum Learned {
    /// A path, new or bettered.
    Path(OwnPath),
    /// Nothing was played, or nothing of it was heard.
    NotHeard,
    /// Something else sounded over most of it.
    Disturbed,
}

impl Learning {
    /// Will learn from what sounds from `from_s` to `to_s`, in seconds on the listener's clock; of a longer stretch
    /// from its last 16 s.
    #[must_use]
    pub fn new(from_s: f64, to_s: f64) -> Self {
        let from_s = from_s.max(to_s - LONGEST_S);
        Self { from_s, to_s, first_s: 0.0, rate: 0.0, heard: Vec::new(), played: Vec::new() }
    }

    /// Keeps what was caught of the stretch, with what was taken off put back. A block of which it is not known what
    /// was played makes it begin anew.
    pub fn take_in(&mut self, caught: Caught<'_>) {
        let sound = caught.sound;
        let jumped = !self.heard.is_empty() && (self.ends_s() - sound.at_s).abs() * sound.rate > 0.5;
        if jumped || self.rate != sound.rate || caught.played.len() != sound.samples.len() {
            self.heard.clear();
            self.played.clear();
            self.rate = sound.rate;
            if caught.played.len() != sound.samples.len() {
                return;
            }
        }
        #[expect(clippy::cast_precision_loss, reason = "a block")]
        for (index, sample) in sound.samples.iter().enumerate() {
            let at_s = sound.at_s + index as f64 / sound.rate;
            if at_s < self.from_s - LEAD_S || at_s >= self.to_s {
                continue;
            }
            if self.heard.is_empty() {
                self.first_s = at_s;
                self.make_room();
            }
            self.heard.push(sample + caught.removed.get(index).copied().unwrap_or(0.0));
            self.played.push(caught.played[index]);
        }
    }

    /// Whether the stretch is over.
    #[must_use]
    pub fn is_over(&self, listener: &crate::Listener) -> bool {
        listener.settled_until_s() >= self.to_s
    }

    /// The path this stretch shows: `old` bettered by what it leaves, or another one when `old` fits no more. Takes
    /// some hundredths of a second.
    #[must_use]
    pub fn learn(&self, old: Option<&OwnPath>) -> Learned {
        let power: f64 = self.played.iter().map(|sample| f64::from(*sample).powi(2)).sum();
        #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
        if self.usable_from() >= self.heard.len() || power < SILENCE * self.played.len() as f64 {
            return Learned::NotHeard;
        }
        let bettered = old.filter(|old| old.rate == self.rate).map(|old| self.fit(Some(old)));
        match bettered {
            Some(Learned::Path(path)) if f64::from(path.removes_db) >= GIVEN_UP_DB => Learned::Path(path),
            _ => self.fit(None),
        }
    }

    fn fit(&self, old: Option<&OwnPath>) -> Learned {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "thousands")]
        let count = (LENGTH_S * self.rate) as usize;
        let heard = Pair::new(&self.heard, &self.played, self.rate);
        let lag = old.map_or_else(|| heard.lag(), |old| old.lag);
        let all: Vec<f64> = heard.heard.clone();
        let pair = match old {
            Some(old) => heard.without(old),
            None => heard,
        };
        let from = self.usable_from();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a share"
        )]
        let cut = from + ((pair.heard.len() - from) as f64 * FITTED_SHARE) as usize;
        let first = pair.until(cut).fit(lag, count, from, Others::LeaveOut);
        let own = pair.along(&first.taps, lag);
        let power = |of: &dyn Fn(usize) -> f64| (cut..all.len()).map(|index| of(index).powi(2)).sum::<f64>();
        let (before, after) = (power(&|index| all[index]), power(&|index| pair.heard[index] - own[index]));
        let removes_db = 10.0 * (before / after.max(f64::MIN_POSITIVE)).max(f64::MIN_POSITIVE).log10();
        let fitted = pair.fit(lag, count, from, Others::LeaveOut);
        if fitted.others > MOST_OTHERS {
            return Learned::Disturbed;
        }
        if removes_db < LEAST_REMOVED_DB {
            return Learned::NotHeard;
        }
        let old_taps = |index: usize| old.map_or(0.0, |old| f64::from(old.taps[index]));
        #[expect(clippy::cast_possible_truncation, reason = "taps and decibels")]
        let taps = fitted.taps.iter().enumerate().map(|(index, tap)| (tap + old_taps(index)) as f32).collect();
        #[expect(clippy::cast_possible_truncation, reason = "taps and decibels")]
        Learned::Path(OwnPath { rate: self.rate, lag, taps, removes_db: removes_db as f32 })
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a second of samples")]
    fn usable_from(&self) -> usize {
        ((self.from_s - self.first_s) * self.rate).round().max(0.0) as usize
    }

    #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
    fn ends_s(&self) -> f64 {
        self.first_s + self.heard.len() as f64 / self.rate
    }

    /// Room for the whole stretch, so that it does not grow piece by piece.
    fn make_room(&mut self) {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of samples")]
        let samples = ((self.to_s - self.first_s).clamp(0.0, LONGEST_S + LEAD_S) * self.rate) as usize + 1;
        self.heard.reserve(samples);
        self.played.reserve(samples);
    }
}
