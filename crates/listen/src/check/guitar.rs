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
/// At a stream's start its noise sets in, which is no strum: so much is not listened to, in seconds.
const START_S: f64 = 0.25;
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
        let clear = self.onsets.iter().filter(|onset| onset.at_s >= START_S && onset.rise_db >= LEAST_RISE_DB);
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

#[cfg(test)]
mod tests {
    use std::f32::consts::TAU;

    use super::SoundCheck;
    use crate::verdict::{Processing, Reason};

    const RATE: u32 = 12_000;
    const STRUMS_S: [f32; 4] = [2.5, 3.5, 4.5, 5.5];

    /// Strings that lose `falls_db` a second, struck four times after some quiet, the last left ringing; hiss 66 dB
    /// under full scale. `partials_below` is where they end, in hertz.
    fn strummed(falls_db: f32, hiss: f32, partials_below: f32) -> Vec<f32> {
        let mut state = 1_u32;
        let mut sound = Vec::new();
        for frame in 0..12 * RATE {
            let time_s = frame as f32 / RATE as f32;
            // A linear congruential generator (Press et al., Numerical Recipes): -1 to 1.
            state = state.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
            let noise = (state >> 8) as f32 / (1 << 23) as f32 - 1.0;
            let since_s = STRUMS_S.iter().rev().map(|at_s| time_s - at_s).find(|since| *since >= 0.0);
            let strings = since_s.map_or(0.0, |since_s| {
                let fall = 10.0_f32.powf(-falls_db * since_s / 20.0) * (since_s / 0.000_5).min(1.0);
                let string = |hertz: f32| {
                    let partials = (1..40_u8).map(f32::from).take_while(|k| k * hertz < partials_below);
                    partials.map(|k| (TAU * k * hertz * since_s).sin() / k).sum::<f32>()
                };
                0.05 * fall * [110.0, 164.8, 220.0].map(string).iter().sum::<f32>()
            });
            sound.push(strings + hiss * noise);
        }
        sound
    }

    fn check(sound: &[f32], expected: &[Reason]) {
        let mut check = SoundCheck::new(RATE).expect("a rate we take");
        assert!(!check.is_complete());
        for block in sound.chunks(441) {
            check.take_in(block);
        }
        assert!(check.is_complete());
        assert_eq!(check.findings(), expected);
    }

    /// A guitar as it should be heard.
    fn good() -> Vec<f32> {
        strummed(14.0, 0.000_5, 5_500.0)
    }

    fn changed(change: impl Fn(f32, f32) -> f32) -> Vec<f32> {
        let sound = good();
        sound.iter().enumerate().map(|(frame, sample)| change(frame as f32 / RATE as f32, *sample)).collect()
    }

    #[test]
    fn nothing_stands_in_the_way_of_a_guitar_in_a_quiet_room() {
        check(&good(), &[]);
    }

    #[test]
    fn what_is_overdriven_is_told_also_when_it_was_turned_down_afterwards() {
        check(&changed(|_, sample| (12.0 * sample).clamp(-1.0, 1.0)), &[Reason::Clipped]);
        check(&changed(|_, sample| 0.2 * (12.0 * sample).clamp(-1.0, 1.0)), &[Reason::Clipped]);
    }

    #[test]
    fn strings_cut_off_while_they_ring_are_noise_suppression() {
        let rings = |time_s: f32| STRUMS_S.iter().any(|at_s| (0.0..0.4).contains(&(time_s - at_s)));
        let gated = changed(|time_s, sample| if rings(time_s) { sample } else { 0.0 });
        check(&gated, &[Reason::Processed(Processing::NoiseSuppression)]);
    }

    #[test]
    fn strings_that_do_not_die_away_are_automatic_gain() {
        check(&strummed(1.0, 0.000_5, 5_500.0), &[Reason::Processed(Processing::AutoGain)]);
    }

    #[test]
    fn a_telephones_band_and_a_room_nearly_as_loud_are_told() {
        check(&strummed(14.0, 0.000_01, 3_400.0), &[Reason::Processed(Processing::NarrowBand)]);
        check(&strummed(14.0, 0.022, 5_500.0), &[Reason::TooFaint]);
    }

    #[test]
    fn silence_and_what_is_no_sound_are_told_apart() {
        check(&[0.0; 12 * RATE as usize], &[Reason::Silence]);
        check(&changed(|time_s, sample| if time_s == 4.0 { f32::NAN } else { sample }), &[Reason::BadSamples]);
    }
}
