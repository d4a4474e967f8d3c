//! Spoken words by espeak-ng, where it is installed: a second voice that is not of our making.

use std::path::Path;
use std::process::{Command, Stdio};

use crate::dice::Dice;
use crate::level::rms;
use crate::song::Syllable;
use crate::synth::RATE;

const WORDS: [&str; 14] =
    ["la", "day", "low", "go", "sea", "light", "night", "home", "you", "time", "stay", "hold", "shore", "true"];
/// As loud as a sung vowel of this module's neighbour, by RMS.
const LEVEL: f32 = 0.25;

/// One word, silence around it cut off.
#[derive(Clone, Debug)]
pub(crate) struct Word {
    samples: Vec<f32>,
    rate: f64,
}

/// Speaks all words in a high or a low voice; none where espeak-ng is missing.
pub(crate) fn words(high: bool, scratch: &Path) -> Vec<Word> {
    WORDS.iter().filter_map(|word| speak(word, if high { "en+f3" } else { "en+m3" }, scratch)).collect()
}

fn speak(word: &str, voice: &str, scratch: &Path) -> Option<Word> {
    let sound = scratch.join("word.wav");
    let said = Command::new("espeak-ng")
        .args(["-v", voice, "-s", "130", "-w"])
        .args([sound.as_os_str(), word.as_ref()])
        .stdin(Stdio::null())
        .output();
    if !said.ok()?.status.success() {
        return None;
    }
    let mut reader = hound::WavReader::open(&sound).ok()?;
    let rate = f64::from(reader.spec().sample_rate);
    let samples: Vec<f32> =
        reader.samples::<i16>().map(|sample| sample.map(|s| f32::from(s) / 32768.0)).collect::<Result<_, _>>().ok()?;
    let loud = samples.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs())) * 0.02;
    let from = samples.iter().position(|sample| sample.abs() > loud)?;
    let to = samples.iter().rposition(|sample| sample.abs() > loud)?;
    let mut samples = samples[from..=to].to_vec();
    let gain = LEVEL / rms(&samples).max(1e-6);
    samples.iter_mut().for_each(|sample| *sample *= gain);
    Some(Word { samples, rate })
}

impl Word {
    /// The word at the length of a syllable at most, up to a fifth higher or lower.
    pub(crate) fn spoken(&self, syllable: &Syllable, dice: &mut Dice) -> Vec<f32> {
        let step = self.rate / f64::from(RATE) * dice.between(0.8, 1.25);
        let frames = syllable.for_s * f64::from(RATE);
        let fade = 0.03 * f64::from(RATE);
        let mut sound = Vec::new();
        for frame in 0_u32.. {
            let place = f64::from(frame) * step;
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "below the word's length")]
            let index = place as usize;
            let left = (frames - f64::from(frame)) / fade;
            let (Some(one), Some(two), true) = (self.samples.get(index), self.samples.get(index + 1), left > 0.0)
            else {
                break;
            };
            #[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
            let (share, fade) = (place.fract() as f32, left.min(1.0) as f32);
            sound.push((one + share * (two - one)) * fade);
        }
        sound
    }
}
