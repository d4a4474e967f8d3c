//! A performance as MIDI: each string has two voices, so that the old note can die away under the attack of the new.

use crate::player::Performance;
use crate::smf::{Message, Smf, VOICES};
use crate::synth::{Onsets, Program};

/// Most strings that have two voices each.
pub const MAX_STRINGS: usize = VOICES / 2;

/// A plectrum or a finger silences a string within about so long.
pub(crate) const TOUCH_MS: u32 = 8;
pub(crate) const DAMP_MS: u32 = 24;
/// A deadened string rings so long in full, and then dies away.
pub(crate) const DEAD_MS: (u32, u32) = (12, 40);

/// What happens to a string.
#[derive(Clone, Copy)]
pub(crate) enum Deed {
    Strike { key: u8, velocity: u8, tell_ms: u32, dead: bool },
    Damp,
}

/// Writes the file. A sound font's own release lasts seconds, so strings are stopped by fading their voice out.
#[must_use]
pub fn midi(done: &Performance, program: Program, strings: usize, onsets: &Onsets, end_ms: u32) -> Vec<u8> {
    let mut smf = Smf::default();
    for string in 0..strings.min(MAX_STRINGS) {
        for voice in [2 * string, 2 * string + 1] {
            smf.tell(0, voice, Message::Program(program.number()));
            if let Some(cents) = done.tuning_cents.get(string) {
                smf.tune(0, voice, *cents);
            }
        }
        let mut turn = 0;
        let mut ringing = None;
        for (at_ms, deed) in deeds(done, string, onsets) {
            if let Some((voice, key)) = ringing.take() {
                fade(&mut smf, voice, key, at_ms, if matches!(deed, Deed::Damp) { DAMP_MS } else { TOUCH_MS });
            }
            let Deed::Strike { key, velocity, tell_ms, dead } = deed else { continue };
            let voice = 2 * string + turn;
            turn = 1 - turn;
            smf.tell(tell_ms, voice, Message::Expression(127));
            smf.tell(tell_ms, voice, Message::NoteOn(key, velocity));
            if dead {
                fade(&mut smf, voice, key, at_ms + DEAD_MS.0 + DEAD_MS.1, DEAD_MS.1);
            } else {
                ringing = Some((voice, key));
            }
        }
    }
    smf.bytes(end_ms)
}

/// What happens to one string, in milliseconds of when it is heard, by time.
pub(crate) fn deeds(done: &Performance, string: usize, onsets: &Onsets) -> Vec<(u32, Deed)> {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes, from 0 on")]
    let ms = |seconds: f64| (seconds * 1000.0).round().max(0.0) as u32;
    let notes = done.struck.iter().flat_map(|struck| &struck.notes).filter(|note| note.string == string);
    let strikes = notes.map(|note| {
        let heard_ms = ms(onsets.heard_s(note.tell_ms, note.key));
        let (key, velocity, tell_ms, dead) = (note.key, note.velocity, note.tell_ms, note.dead);
        (heard_ms, Deed::Strike { key, velocity, tell_ms, dead })
    });
    let damps = done.damps.iter().filter(|damp| damp.string == string).map(|damp| (ms(damp.at_s), Deed::Damp));
    let mut deeds: Vec<_> = strikes.chain(damps).collect();
    deeds.sort_by_key(|deed| deed.0);
    deeds
}

/// Lowers a voice to silence over `last_ms`, ending at `end_ms`, along half a cosine.
fn fade(smf: &mut Smf, voice: usize, key: u8, end_ms: u32, last_ms: u32) {
    for step in (0..last_ms).step_by(2) {
        let share = f64::from(step) / f64::from(last_ms);
        let gain = 0.5 + 0.5 * (std::f64::consts::PI * share).cos();
        // Expression is a concave curve of 40 dB a decade (Recommended Practice CA-018), so its root is taken.
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 127")]
        let value = (127.0 * gain.sqrt()).round() as u8;
        smf.tell((end_ms + step).saturating_sub(last_ms), voice, Message::Expression(value));
    }
    smf.tell(end_ms, voice, Message::NoteOff(key));
    smf.tell(end_ms, voice, Message::AllSoundOff);
}
