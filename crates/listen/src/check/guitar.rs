//! A few strums into a quiet room, the last one left ringing.

use super::{GATED_DB, band, is_cut_off};
use crate::level::{MOMENT_S, Moment};
use crate::listener::Listener;
use crate::median::median_f32;
use crate::onset::Onset;
use crate::sound::PassSound;
use crate::verdict::{Processing, Reason};

/// The player is quiet so long, then strums, then lets ring: in seconds.
const QUIET_S: f64 = 2.0;
const LENGTH_S: f64 = 12.0;
/// A strum rises at least so far, in decibels, and is at most so much weaker than the strongest.
const LEAST_RISE_DB: f32 = 9.0;
const WEAKER_DB: f32 = 15.0;
/// Rises nearer together than this, in seconds, are one strum.
const APART_S: f64 = 0.25;
/// The guitar must stand so far above the room, in decibels: a design choice of ours, between the 12 dB at which far
/// takes can't be judged and the 28 at which takes in a room can.
const LEAST_ABOVE_ROOM_DB: f32 = 18.0;
/// The last strum's ring is looked at from here on, in seconds after it, and needs so long to tell anything.
const RING_FROM_S: f64 = 0.25;
const LEAST_RING_S: f64 = 1.0;
const LONGEST_RING_S: f64 = 3.0;
/// A ring that falls by less than this a second, in decibels, is held up: open strings of the takes lose 6 to 38.
const SLOWEST_DB_A_SECOND: f64 = 2.5;
/// A fall of so many decibels in 100 ms, to so much below the room, is a gate's; a hand on the strings leaves the room.
const CLIFF_DB: f32 = 20.0;
const BELOW_ROOM_DB: f32 = 6.0;
/// The room's noise louder by this after the ring than before the strums was turned up, in decibels.
const TURNED_UP_DB: f32 = 10.0;
/// A tenth of a second, in moments.
const TENTH: usize = 5;

/// Listens to a sound check.
#[derive(Debug)]
pub struct SoundCheck {
    listener: Listener,
    onsets: Vec<Onset>,
    moments: Vec<Moment>,
    sound: PassSound,
    frames: u64,
    rate: u32,
}

impl SoundCheck {
    /// One that has heard nothing yet; `None` where the rate is outside [`crate::RATES`].
    #[must_use]
    pub fn new(rate: u32) -> Option<Self> {
        let (onsets, moments, sound) = (Vec::new(), Vec::new(), PassSound::with_room(LENGTH_S + 1.0));
        Some(Self { listener: Listener::new(rate)?, onsets, moments, sound, frames: 0, rate })
    }

    /// How long the player is to be quiet first, and how long it all takes, in seconds.
    #[must_use]
    pub const fn lengths_s() -> (f64, f64) {
        (QUIET_S, LENGTH_S)
    }

    /// Takes in the microphone's next samples.
    pub fn take_in(&mut self, samples: &[f32]) {
        let caught = self.listener.feed(self.frames, samples);
        self.onsets.extend_from_slice(caught.onsets);
        self.moments.extend_from_slice(caught.moments);
        self.sound.append(caught.sound.at_s, caught.sound.rate, caught.sound.samples);
        self.frames += samples.len() as u64;
    }

    /// Whether all of it was heard.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "seconds of frames")]
    pub fn is_complete(&self) -> bool {
        self.frames as f64 >= LENGTH_S * f64::from(self.rate)
    }

    /// What stands in the way of judging, the worst first; empty when nothing does.
    #[must_use]
    pub fn findings(&self) -> Vec<Reason> {
        let strums_s = self.strums_s();
        if self.moments.iter().any(|moment| moment.bad) {
            return vec![Reason::BadSamples];
        }
        let Some(last_s) = strums_s.last().copied().filter(|_| strums_s.len() >= 2) else {
            return vec![Reason::Silence];
        };
        let room_db = self.level_db(0.2, strums_s[0].min(QUIET_S) - 0.1);
        let loud_db = strums_s.iter().filter_map(|at_s| self.level_db(*at_s, at_s + 0.2)).fold(f32::MIN, f32::max);
        let overdriven = self.moments.iter().filter(|moment| moment.clipped > 0.0).count() >= TENTH;
        let played: Vec<Moment> = self.between(strums_s[0], last_s + 1.0).to_vec();
        let mut found = Vec::new();
        if overdriven || is_cut_off(&played) {
            found.push(Reason::Clipped);
        }
        if band::is_narrow(&self.sound, &strums_s) {
            found.push(Reason::Processed(Processing::NarrowBand));
        }
        if self.is_gated(room_db, strums_s[0], last_s) {
            found.push(Reason::Processed(Processing::NoiseSuppression));
        }
        if self.is_held_up(room_db, last_s) {
            found.push(Reason::Processed(Processing::AutoGain));
        }
        if room_db.is_some_and(|room_db| loud_db - room_db < LEAST_ABOVE_ROOM_DB) {
            found.push(Reason::TooFaint);
        }
        found
    }

    /// When the strums were, in seconds.
    fn strums_s(&self) -> Vec<f64> {
        let clear = self.onsets.iter().filter(|onset| onset.rise_db >= LEAST_RISE_DB);
        let strongest = clear.clone().map(|onset| onset.strength_db).fold(f32::MIN, f32::max);
        let mut strums_s: Vec<f64> = Vec::new();
        for onset in clear.filter(|onset| onset.strength_db > strongest - WEAKER_DB) {
            if strums_s.last().is_none_or(|last| onset.at_s - last >= APART_S) {
                strums_s.push(onset.at_s);
            }
        }
        strums_s
    }

    /// Whether a ring is cut off to below what the room sounds by itself.
    fn is_gated(&self, room_db: Option<f32>, first_s: f64, last_s: f64) -> bool {
        let played = self.between(first_s, last_s + LONGEST_RING_S);
        let is_cliff = |(before, after): (&Moment, &Moment)| {
            let below_room = room_db.is_some_and(|room| room > GATED_DB && after.level_db < room - BELOW_ROOM_DB);
            before.level_db - after.level_db >= CLIFF_DB && (after.level_db < GATED_DB || below_room)
        };
        played.iter().zip(played.iter().skip(TENTH)).any(is_cliff)
    }

    /// Whether the last strum's ring does not die away, or the room has become louder by the end.
    fn is_held_up(&self, room_db: Option<f32>, last_s: f64) -> bool {
        let ring = self.between(last_s + RING_FROM_S, last_s + LONGEST_RING_S);
        #[expect(clippy::cast_precision_loss, reason = "a few hundred")]
        let seconds = ring.len() as f64 * MOMENT_S;
        if seconds < LEAST_RING_S {
            return false;
        }
        let third = ring.len() / 3;
        let (early, late) = (middle_db(&ring[..third]), middle_db(&ring[ring.len() - third..]));
        let (Some(early), Some(late)) = (early, late) else { return false };
        let falls = f64::from(early - late) / (seconds * 2.0 / 3.0);
        let is_heard = room_db.is_none_or(|room| late > room + TURNED_UP_DB);
        let end_db = self.moments.len().checked_sub(10 * TENTH).and_then(|from| middle_db(&self.moments[from..]));
        // A ring at the end is no room; what is as loud as half of it, flat, is.
        let turned_up = room_db
            .zip(end_db)
            .is_some_and(|(room, end)| end - room > TURNED_UP_DB && falls < SLOWEST_DB_A_SECOND * 2.0);
        (is_heard && falls < SLOWEST_DB_A_SECOND) || turned_up
    }

    fn between(&self, from_s: f64, to_s: f64) -> &[Moment] {
        let from = self.moments.partition_point(|moment| moment.end_s < from_s);
        let to = self.moments.partition_point(|moment| moment.end_s < to_s);
        &self.moments[from.min(to)..to]
    }

    fn level_db(&self, from_s: f64, to_s: f64) -> Option<f32> {
        middle_db(self.between(from_s, to_s))
    }
}

fn middle_db(moments: &[Moment]) -> Option<f32> {
    let mut levels: Vec<f32> = moments.iter().map(|moment| moment.level_db).collect();
    median_f32(&mut levels)
}
