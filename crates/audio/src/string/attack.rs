//! The bright beginning of a note: a second, quickly dying vibration, drawn beforehand and played beside the loop.
//!
//! Steel strings lose most of their brightness within 300 ms, faster than one loss filter can follow: the string also
//! swings in a second plane that the bridge drains sooner (two polarisations: Weinreich 1977; J. O. Smith, *Physical
//! Audio Signal Processing*). Because it is over so soon it needs no loop of its own on the audio thread.

use sixrung_timeline::Direction;

use super::excite::excitation;
use super::model::{ALLPASSES, Character, Loop};

/// How long it is heard.
const LENGTH_S: f64 = 0.3;
/// Its decay times, at the fundamental and at 3 kHz, in seconds (this and the next two fitted to recorded strings with
/// the characters of [`crate::Instrument`]).
const T60_S: (f64, f64) = (0.45, 0.20);
/// How much brighter its excitation is than the string's own.
const BRIGHTER: f64 = 5.0;
/// Its level beside the string's own.
const LEVEL: f32 = 1.0;

/// The samples of the beginning of a note of `f0` hertz, at full velocity; empty when the rate can't carry it.
pub(crate) fn attack(rate: f64, f0: f64, open: f64, character: &Character, seed: u32) -> Box<[f32]> {
    let bright = Character {
        t60_s: T60_S.0.min(character.t60_s),
        treble_t60_s: T60_S.1.min(character.treble_t60_s),
        excitation_hz: BRIGHTER * character.excitation_hz,
        ..*character
    };
    let Some(tuned) = Loop::design(rate, f0, open, &bright) else { return Box::new([]) };
    let struck = excitation(rate, tuned.period, &bright, Direction::Down, seed);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a table's length")]
    let length = (LENGTH_S * rate) as usize;
    let mut sound = ring(&tuned, &struck, length);
    fade_out(&mut sound);
    sound.into()
}

/// `length` samples of the loop struck with `excitation`: one lane of the bank, in plain words.
pub(crate) fn ring(tuned: &Loop, excitation: &[f32], length: usize) -> Vec<f32> {
    let mut sound: Vec<f32> = Vec::with_capacity(length);
    let mut last = [0.0_f32; ALLPASSES + 1];
    for index in 0..length {
        let back = index.checked_sub(tuned.delay).map_or(0.0, |at| sound[at]);
        let mut wave = tuned.input * back + tuned.feedback * last[0];
        for (stage, a) in tuned.allpass.into_iter().enumerate() {
            let out = (a * wave + last[stage]) - a * last[stage + 1];
            last[stage] = wave;
            wave = out;
        }
        last[ALLPASSES] = wave;
        sound.push(wave + excitation.get(index).copied().unwrap_or(0.0));
    }
    sound
}

/// Scales it and brings its second half down to nothing.
#[expect(clippy::cast_precision_loss, reason = "far below 2^24 samples")]
fn fade_out(sound: &mut [f32]) {
    let length = sound.len() as f32;
    for (index, sample) in sound.iter_mut().enumerate() {
        *sample *= LEVEL * (2.0 - 2.0 * (index + 1) as f32 / length).min(1.0);
    }
}
