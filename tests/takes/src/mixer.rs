//! A second player: the sound font's recorded notes, mixed string by string with envelopes of our own.
//!
//! What an ear learned from one synthesiser's attacks, dampings and filters does not help it here.

use crate::player::Performance;
use crate::sound_font::Zone;
use crate::strings::{DAMP_MS, DEAD_MS, Deed, TOUCH_MS, deeds};
use crate::synth::{Onsets, RATE};

/// A plucked string dies away by 60 dB within so long: low and high E of a steel-strung guitar, roughly (choices of
/// ours within what guitars do; the recordings' own decay comes on top).
const DECAY_S: (f64, f64) = (9.0, 4.0);
const LOWEST_KEY: f64 = 40.0;
const OCTAVES: f64 = 3.0;

/// Mixes a performance to one channel of `frames` frames.
pub(crate) fn mix(done: &Performance, zones: &[Zone], strings: usize, onsets: &Onsets, frames: usize) -> Vec<f32> {
    let mut sound = vec![0.0; frames];
    for string in 0..strings {
        let deeds = deeds(done, string, onsets);
        for (index, (_, deed)) in deeds.iter().enumerate() {
            let Deed::Strike { key, velocity, tell_ms, dead } = *deed else { continue };
            let next = deeds
                .get(index + 1)
                .map(|next| (next.0, if matches!(next.1, Deed::Damp) { DAMP_MS } else { TOUCH_MS }));
            let end = if dead { Some((deeds[index].0 + DEAD_MS.0 + DEAD_MS.1, DEAD_MS.1)) } else { next };
            let cents = done.tuning_cents.get(string).copied().unwrap_or(0.0);
            let note = Note { key: f64::from(key) + cents / 100.0, velocity, end };
            let here = zones.iter().filter(|zone| (zone.keys.0..=zone.keys.1).contains(&key));
            for zone in here.filter(|zone| (zone.velocities.0..=zone.velocities.1).contains(&velocity)) {
                note.add(zone, tell_ms, &mut sound);
            }
        }
    }
    sound
}

struct Note {
    key: f64,
    velocity: u8,
    /// When it is silent, and how long it takes to be, in milliseconds.
    end: Option<(u32, u32)>,
}

impl Note {
    fn add(&self, zone: &Zone, tell_ms: u32, sound: &mut [f32]) {
        let rate = f64::from(RATE);
        let step = ((self.key - zone.root) / 12.0).exp2() * zone.rate / rate;
        let share = f64::from(self.velocity) / 127.0;
        // Harder strokes are louder and brighter: 30 dB over the range, and a one-pole filter from 2 to 14 kHz.
        let level = 0.25 * 10.0_f64.powf(1.5 * (share - 1.0)) / 32768.0;
        let smooth = 1.0 - (-std::f64::consts::TAU * (2000.0 + 12_000.0 * share * share) / rate).exp();
        let octave = ((self.key - LOWEST_KEY) / 12.0 / OCTAVES).clamp(0.0, 1.0);
        let decay_s = DECAY_S.0 + octave * (DECAY_S.1 - DECAY_S.0);
        let fade = 10.0_f64.powf(-3.0 / (decay_s * rate));
        let from = (tell_ms * (RATE / 1000)) as usize;
        let (mut place, mut level, mut held) = (0.0, level, 0.0);
        for (frame, sample) in (from..).zip(sound.iter_mut().skip(from)) {
            let Some(raw) = read(zone, place) else { break };
            let gain = self.end.map_or(1.0, |(end_ms, last_ms)| {
                let left = f64::from(end_ms) - frame as f64 * 1000.0 / rate;
                let share = (left / f64::from(last_ms)).clamp(0.0, 1.0);
                share * share * (3.0 - 2.0 * share)
            });
            if gain == 0.0 {
                break;
            }
            held += smooth * (raw - held);
            #[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
            let out = (held * level * gain) as f32;
            *sample += out;
            level *= fade;
            place += step;
            if let Some((begin, end)) = zone.round {
                let length = (end - begin) as f64;
                while place >= end as f64 {
                    place -= length;
                }
            }
        }
    }
}

/// Between samples along Catmull and Rom's cubic (1974).
fn read(zone: &Zone, place: f64) -> Option<f64> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a place within the recording")]
    let index = place as usize;
    let at = |index: usize| zone.samples.get(index).copied().map(f64::from);
    let (b, c, d) = (at(index)?, at(index + 1)?, at(index + 2)?);
    let a = index.checked_sub(1).and_then(at).unwrap_or(b);
    let t = place.fract();
    Some(b + 0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a))))
}
