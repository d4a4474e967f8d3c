//! What the player sings: syllables on chord and passing tones, along the strokes.

use crate::dice::Dice;
use crate::part::Part;

/// How a syllable begins.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Onset {
    /// The vowel alone, swelling.
    Soft,
    /// A hum through closed lips first.
    Nasal,
    /// A hiss first.
    Hiss,
    /// A gap and a burst first.
    Burst,
    /// From the note before, in one glide.
    Glide,
}

/// One syllable.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Syllable {
    /// When its vowel begins, in seconds.
    pub(crate) at_s: f64,
    /// How long it lasts, in seconds.
    pub(crate) for_s: f64,
    /// MIDI key.
    pub(crate) key: u8,
    /// How it begins.
    pub(crate) onset: Onset,
    /// Spoken words stand in for about a quarter of the syllables, where there is a voice to speak them.
    pub(crate) spoken: bool,
}

/// Shortest syllable, in seconds.
const SHORTEST_S: f64 = 0.16;

/// Makes up a song for `passes` of `part`: phrases of 4 to 9 syllables with breaths between, each syllable near a
/// stroke's time (± 30 ms), two notes in three of the chord, the others a step off it; around `middle`, a MIDI key.
pub(crate) fn song(part: &Part, passes: usize, starts_at_s: f64, middle: u8, dice: &mut Dice) -> Vec<Syllable> {
    let mut times = Vec::new();
    for pass in 0..u32::try_from(passes).unwrap_or(u32::MAX) {
        let begins_s = starts_at_s + f64::from(pass) * part.pass_s;
        times.extend(part.asked.iter().map(|asked| (begins_s + asked.at_s, asked.chord)));
    }
    let ends_s = times.last().map_or(0.0, |last| last.0 + 0.8);
    let mut sung: Vec<Syllable> = Vec::new();
    let (mut at, mut left, mut key) = (0, 4 + dice.below(6), middle);
    while at < times.len() {
        let (near_s, chord) = times[at];
        let wanted_s = dice.between(SHORTEST_S, 0.9);
        let mut next = at + 1;
        while next < times.len() && times[next].0 - near_s < wanted_s {
            next += 1;
        }
        let gap_s = times.get(next).map_or(ends_s, |next| next.0) - near_s;
        key = tone(part, chord, key, middle, dice);
        let first = sung.last().is_none_or(|before| before.at_s + before.for_s + 0.05 < near_s);
        let onset = match dice.below(10) {
            0..=2 => Onset::Burst,
            3 | 4 => Onset::Hiss,
            5 | 6 => Onset::Nasal,
            7 | 8 if !first => Onset::Glide,
            _ => Onset::Soft,
        };
        left -= 1;
        let full = if left == 0 { dice.between(0.5, 0.8) } else { dice.between(0.85, 1.0) };
        let at_s = near_s + dice.normal(0.030, 0.080);
        let for_s = (gap_s * full).clamp(SHORTEST_S * 0.8, 1.6);
        sung.push(Syllable { at_s, for_s, key, onset, spoken: dice.chance(0.25) });
        at = next;
        if left == 0 {
            left = 4 + dice.below(6);
            let breath_s = near_s + gap_s + dice.between(0.3, 1.2);
            while at < times.len() && times[at].0 < breath_s {
                at += 1;
            }
        }
    }
    sung
}

/// A tone of the chord near the one before, or a step from it; never further than a seventh from the voice's middle.
fn tone(part: &Part, chord: Option<usize>, before: u8, middle: u8, dice: &mut Dice) -> u8 {
    let classes: Vec<u8> = match chord {
        Some(chord) => part.chords[chord].keys.iter().flatten().map(|key| key % 12).collect(),
        None => part.open.iter().map(|key| key % 12).collect(),
    };
    let near = (middle - 10..=middle + 10).filter(|key| classes.contains(&(key % 12)));
    let mut near: Vec<u8> = near.collect();
    near.sort_by_key(|key| key.abs_diff(before));
    near.truncate(4);
    let chosen = dice.pick(&near).copied().unwrap_or(middle);
    if dice.chance(0.67) {
        return chosen;
    }
    let step = 1 + u8::from(dice.chance(0.7));
    if dice.chance(0.5) { chosen + step } else { chosen - step }
}
