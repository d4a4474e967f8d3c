//! A singing voice: glottal pulses through formants (Fant 1960, the source-filter model), consonants as noise.

use std::f64::consts::TAU;

use crate::dice::Dice;
use crate::level::narrow;
use crate::song::{Onset, Syllable};
use crate::speech::Word;
use crate::synth::RATE;

/// Formants of men's vowels in hertz: Peterson and Barney 1952, table II (heed, hid, head, had, hod, hawed, hood,
/// who'd, hud).
const VOWELS: [[f64; 3]; 9] = [
    [270.0, 2290.0, 3010.0],
    [390.0, 1990.0, 2550.0],
    [530.0, 1840.0, 2480.0],
    [660.0, 1720.0, 2410.0],
    [730.0, 1090.0, 2440.0],
    [570.0, 840.0, 2410.0],
    [440.0, 1020.0, 2240.0],
    [300.0, 870.0, 2240.0],
    [640.0, 1190.0, 2390.0],
];
/// The upper formants hardly move (Klatt 1980), and bandwidths as there.
const UPPER_HZ: [f64; 2] = [3300.0, 3750.0];
const WIDTHS_HZ: [f64; 5] = [60.0, 90.0, 150.0, 200.0, 200.0];
/// The folds are open for this share of a period: Rosenberg's pulse (1971).
const OPEN_SHARE: f64 = 0.6;
const RISE_SHARE: f64 = 0.4;

/// One singer.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Singer {
    /// Middle of the range, a MIDI key.
    pub(crate) middle: u8,
    vibrato_hz: f64,
    vibrato_cents: f64,
    /// A shorter throat moves all formants up.
    throat: f64,
    breath: f64,
}

impl Singer {
    /// A low voice (middle around C3) or a high one (around A3); vibrato of 5 to 6 Hz, up to half a semitone deep.
    pub(crate) fn draw(dice: &mut Dice) -> Self {
        let high = dice.chance(0.5);
        let off = u8::try_from(dice.below(5)).unwrap_or(0);
        Self {
            middle: if high { 57 } else { 48 } + off,
            vibrato_hz: dice.between(5.0, 6.0),
            vibrato_cents: dice.between(15.0, 50.0),
            throat: if high { dice.between(1.12, 1.2) } else { dice.between(0.97, 1.03) },
            breath: dice.between(0.005, 0.03),
        }
    }

    /// Whether it is a high voice.
    pub(crate) const fn is_high(&self) -> bool {
        self.middle >= 55
    }

    /// Sings: one channel of `frames` frames.
    pub(crate) fn sing(&self, song: &[Syllable], words: &[Word], frames: usize, dice: &mut Dice) -> Vec<f32> {
        let mut sound = vec![0.0; frames];
        let mut before: Option<&Syllable> = None;
        for syllable in song {
            let word = dice.pick(words).filter(|_| syllable.spoken);
            let sung = match word {
                Some(word) => word.spoken(syllable, dice),
                None => self.syllable(syllable, before, dice),
            };
            let lead_s = if word.is_some() { 0.0 } else { syllable.onset.lead_s() };
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "takes last minutes, from 0 on"
            )]
            let from = ((syllable.at_s - lead_s).max(0.0) * f64::from(RATE)) as usize;
            for (sample, sung) in sound.iter_mut().skip(from).zip(sung) {
                *sample += sung;
            }
            before = Some(syllable);
        }
        sound
    }

    fn syllable(&self, now: &Syllable, before: Option<&Syllable>, dice: &mut Dice) -> Vec<f32> {
        let lead_s = now.onset.lead_s();
        let mut formants = [Resonator::default(); 5];
        let from = VOWELS[dice.below(VOWELS.len())];
        let to = if dice.chance(0.25) { VOWELS[dice.below(VOWELS.len())] } else { from };
        let glide_from =
            before.filter(|_| now.onset == Onset::Glide).map_or(f64::from(now.key), |old| f64::from(old.key));
        let scoop = if now.onset == Onset::Glide { 0.0 } else { dice.between(-1.0, 0.0) };
        let (wander, loudness) = (dice.between(-0.15, 0.15), dice.between(0.6, 1.0));
        let (mut phase, mut flow, mut drift) = (0.0_f64, 0.0, 0.0_f64);
        let consonant = Consonant::draw(now.onset, dice);
        let mut noise = consonant.filter;
        let rate = f64::from(RATE);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a syllable lasts seconds")]
        let frames = ((lead_s + now.for_s) * rate) as u32;
        let mut sound = Vec::new();
        for frame in 0..frames {
            let at_s = f64::from(frame) / rate - lead_s;
            if frame % 32 == 0 {
                let share = (at_s / now.for_s).clamp(0.0, 1.0);
                let vowel = |index: usize| self.throat * (from[index] + share * (to[index] - from[index]));
                let hertz = [vowel(0), vowel(1), vowel(2), self.throat * UPPER_HZ[0], self.throat * UPPER_HZ[1]];
                for (formant, (hertz, width)) in formants.iter_mut().zip(hertz.into_iter().zip(WIDTHS_HZ)) {
                    formant.tune(hertz, width);
                }
                drift = 0.995 * drift + dice.between(-0.01, 0.01);
            }
            let settle = (-at_s.max(0.0) / 0.05).exp();
            let vibrato = ((at_s - 0.15) / 0.2).clamp(0.0, 1.0) * (TAU * self.vibrato_hz * at_s).sin();
            let key = f64::from(now.key) + (glide_from - f64::from(now.key) + scoop) * settle + wander + drift;
            let hertz = 440.0 * ((key - 69.0) / 12.0 + vibrato * self.vibrato_cents / 1200.0).exp2();
            phase = (phase + hertz / rate).fract();
            let opened = pulse(phase);
            let white = dice.between(-1.0, 1.0);
            let source = (opened - flow) * rate / (4000.0) + self.breath * white * opened;
            flow = opened;
            let voiced = loudness * envelope(now, at_s);
            let hum = if now.onset == Onset::Nasal && at_s < 0.0 { 0.25 } else { 1.0 };
            let mut sample = source * voiced * hum;
            for formant in &mut formants {
                sample = formant.run(sample);
            }
            let hiss = noise.run(white) * consonant.level * consonant.envelope(at_s);
            sound.push(narrow(sample + hiss));
        }
        sound
    }
}

impl Onset {
    /// How long its consonant lasts before the vowel, in seconds.
    const fn lead_s(self) -> f64 {
        match self {
            Self::Soft | Self::Glide => 0.0,
            Self::Nasal => 0.07,
            Self::Hiss => 0.11,
            Self::Burst => 0.025,
        }
    }
}

/// How loud the voice is, 0 to 1, `at_s` after its vowel began.
fn envelope(now: &Syllable, at_s: f64) -> f64 {
    let (rise_s, from_s) = match now.onset {
        Onset::Soft => (0.06, 0.0),
        Onset::Glide => (0.03, 0.0),
        Onset::Nasal => (0.03, -0.07),
        Onset::Hiss => (0.03, -0.01),
        Onset::Burst => (0.015, 0.0),
    };
    let rise = ((at_s - from_s) / rise_s).clamp(0.0, 1.0);
    rise * ((now.for_s - at_s) / 0.08).clamp(0.0, 1.0)
}

/// The glottal flow at a phase of 0 to 1.
fn pulse(phase: f64) -> f64 {
    if phase < RISE_SHARE {
        0.5 - 0.5 * (TAU / 2.0 * phase / RISE_SHARE).cos()
    } else if phase < OPEN_SHARE {
        (TAU / 4.0 * (phase - RISE_SHARE) / (OPEN_SHARE - RISE_SHARE)).cos()
    } else {
        0.0
    }
}

/// Noise before a vowel: a hiss of 2.5 to 7 kHz, or a burst of 1 to 4 kHz a few milliseconds long; some 10 dB under the
/// vowel, as strong consonants are (common knowledge of phonetics, no source).
struct Consonant {
    filter: Resonator,
    level: f64,
    from_s: f64,
    to_s: f64,
    decay_s: f64,
}

impl Consonant {
    fn draw(onset: Onset, dice: &mut Dice) -> Self {
        let mut filter = Resonator::default();
        let (hertz, width, level, from_s, to_s, decay_s) = match onset {
            Onset::Hiss => (dice.between(2500.0, 7000.0), 1800.0, dice.between(0.07, 0.25), -0.11, 0.01, 1.0),
            Onset::Burst => (dice.between(1000.0, 4000.0), 1200.0, dice.between(0.25, 1.1), -0.025, 0.03, 0.008),
            Onset::Soft | Onset::Nasal | Onset::Glide => (3000.0, 1000.0, 0.0, 0.0, 0.0, 1.0),
        };
        filter.tune(hertz, width);
        Self { filter, level, from_s, to_s, decay_s }
    }

    fn envelope(&self, at_s: f64) -> f64 {
        if at_s < self.from_s || at_s > self.to_s {
            return 0.0;
        }
        let rise = ((at_s - self.from_s) / if self.decay_s < 1.0 { 0.001 } else { 0.03 }).min(1.0);
        let fall = ((self.to_s - at_s) / 0.01).min(1.0);
        rise * fall * (-(at_s - self.from_s) / self.decay_s).exp()
    }
}

/// A resonator with unity gain at 0 Hz (Klatt 1980, equation 1).
#[derive(Clone, Copy, Debug, Default)]
struct Resonator {
    gain: f64,
    back: [f64; 2],
    held: [f64; 2],
}

impl Resonator {
    fn tune(&mut self, hertz: f64, width_hz: f64) {
        let radius = (-TAU / 2.0 * width_hz / f64::from(RATE)).exp();
        self.back = [2.0 * radius * (TAU * hertz / f64::from(RATE)).cos(), -radius * radius];
        self.gain = 1.0 - self.back[0] - self.back[1];
    }

    fn run(&mut self, sample: f64) -> f64 {
        let out = self.gain * sample + self.back[0] * self.held[0] + self.back[1] * self.held[1];
        self.held = [out, self.held[0]];
        out
    }
}

#[cfg(test)]
mod tests {
    use super::Singer;
    use crate::dice::Dice;
    use crate::level::rms;
    use crate::song::{Onset, Syllable};

    /// RMS of the loudest 10 ms before the vowel and of the vowel, as a mean over voices.
    fn loudness(onset: Onset) -> (f32, f32) {
        let (mut before, mut after) = (0.0, 0.0);
        for seed in 0..40_u8 {
            let mut dice = Dice::new(seed.into());
            let singer = Singer::draw(&mut dice);
            let syllable = Syllable { at_s: 0.2, for_s: 0.4, key: singer.middle, onset, spoken: false };
            let sound = singer.sing(&[syllable], &[], 40_000, &mut dice);
            before += sound[..9600].chunks(480).map(rms).fold(0.0, f32::max) / 40.0;
            after += rms(&sound[12_000..24_000]) / 40.0;
        }
        (before, after)
    }

    #[test]
    fn consonants_are_heard_before_vowels_and_softer() {
        for onset in [Onset::Nasal, Onset::Hiss, Onset::Burst] {
            let (before, after) = loudness(onset);
            assert!((0.15..0.5).contains(&(before / after)), "{onset:?}: {before} before a vowel of {after}");
        }
        assert_eq!(loudness(Onset::Soft).0, 0.0);
    }
}
