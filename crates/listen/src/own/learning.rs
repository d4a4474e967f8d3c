//! A stretch in which only we sound, and the path it shows.

use std::collections::VecDeque;

use super::fit::{Others, Pair};
use super::path::{LARGEST_LAG_S, LENGTH_S, OwnPath};
use crate::listener::Caught;

/// At most so much is learned from, in seconds: a count-in of two slow bars, or half of a short section.
const LONGEST_S: f64 = 16.0;
/// What was played before the stretch still sounds in it for so long.
const LEAD_S: f64 = LARGEST_LAG_S + LENGTH_S;
/// So much is remembered, in seconds: the longest stretch, what was played before it, and what comes until it is asked
/// for.
const KEPT_S: f64 = LONGEST_S + LEAD_S + 4.0;
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

/// Remembers microphone and playback of the last seconds, to learn from where the player was silent.
#[derive(Clone, Debug, Default)]
pub struct Learning {
    rate: f64,
    /// When the first sample kept was, in seconds on the listener's clock.
    first_s: f64,
    heard: VecDeque<f32>,
    played: VecDeque<f32>,
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
    /// Remembers nothing yet.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Keeps what was caught, with what was taken off put back. A block of which it is not known what was played makes
    /// it begin anew.
    ///
    /// Allocates only when it begins.
    pub fn take_in(&mut self, caught: Caught<'_>) {
        let sound = caught.sound;
        let known = caught.played.len() == sound.samples.len();
        let jumped = (self.ends_s() - sound.at_s).abs() * sound.rate > 0.5;
        if !known || self.heard.is_empty() || jumped || self.rate != sound.rate {
            self.begin(sound.at_s, sound.rate);
        }
        if !known {
            return;
        }
        for (index, sample) in sound.samples.iter().enumerate() {
            if self.heard.len() == self.heard.capacity() {
                self.heard.pop_front();
                self.played.pop_front();
                self.first_s += 1.0 / self.rate;
            }
            self.heard.push_back(sample + caught.removed.get(index).copied().unwrap_or(0.0));
            self.played.push_back(caught.played[index]);
        }
    }

    /// The path that what sounded from `from_s` to `to_s` on the listener's clock shows, the player being silent: `old`
    /// bettered by what it leaves, or another one when `old` fits no more. Takes some hundredths of a second.
    #[must_use]
    pub fn learn(&self, from_s: f64, to_s: f64, old: Option<&OwnPath>) -> Learned {
        let from_s = from_s.max(to_s - LONGEST_S);
        let (begin, from, to) = (self.index(from_s - LEAD_S), self.index(from_s), self.index(to_s));
        let stretch = Stretch {
            heard: self.heard.range(begin..to).copied().collect(),
            played: self.played.range(begin..to).copied().collect(),
            rate: self.rate,
            usable_from: from - begin,
        };
        let power: f64 = stretch.played.iter().map(|sample| f64::from(*sample).powi(2)).sum();
        #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
        if from >= to || power < SILENCE * stretch.played.len() as f64 {
            return Learned::NotHeard;
        }
        let bettered = old.filter(|old| old.rate == self.rate).map(|old| stretch.fit(Some(old)));
        match bettered {
            Some(Learned::Path(path)) if f64::from(path.removes_db) >= GIVEN_UP_DB => Learned::Path(path),
            _ => stretch.fit(None),
        }
    }

    fn begin(&mut self, at_s: f64, rate: f64) {
        self.heard.clear();
        self.played.clear();
        (self.rate, self.first_s) = (rate, at_s);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "seconds of samples")]
        let room = (KEPT_S * rate) as usize;
        self.heard.reserve_exact(room.saturating_sub(self.heard.capacity()));
        self.played.reserve_exact(room.saturating_sub(self.played.capacity()));
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "cut to what is kept")]
    fn index(&self, at_s: f64) -> usize {
        (((at_s - self.first_s) * self.rate).round().max(0.0) as usize).min(self.heard.len())
    }

    #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
    fn ends_s(&self) -> f64 {
        self.first_s + self.heard.len() as f64 / self.rate
    }
}

/// What is learned from.
struct Stretch {
    rate: f64,
    heard: Vec<f32>,
    played: Vec<f32>,
    /// Before this, of `heard`, the player may have sounded.
    usable_from: usize,
}

impl Stretch {
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
        let from = self.usable_from;
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
}
