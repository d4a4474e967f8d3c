//! A player of flesh and blood, by the numbers: what is struck when, mistakes and all.

use sixrung_lesson::{Action, Direction, Dynamic};

use crate::dice::Dice;
use crate::hands::{Hand, Hands};
use crate::mistakes::{Mistake, Planted, off_range_s};
use crate::part::{Asked, Chord, Part};
use crate::synth::Onsets;

/// Spread of a stroke's time, in milliseconds, and where it is clipped.
const NOISE_MS: (f64, f64) = (15.0, 40.0);
/// A sweep never takes more than this share of a slot: the hand has to come back in time.
const SWEEP_SHARE: f64 = 0.45;

/// One player's habits.
#[derive(Clone, Copy, Debug)]
pub struct Style {
    /// Always early (negative) or late by this, in milliseconds.
    pub bias_ms: f64,
    /// From string to string of a stroke, in milliseconds, 2 to 15.
    pub sweep_ms: f64,
    /// Half the window of the level played for, in milliseconds: planted late strokes lie outside it.
    pub level_ms: f64,
}

impl Style {
    /// Draws a player. Half of them have no bias, the others up to 45 ms either way.
    #[must_use]
    pub fn draw(level_ms: f64, dice: &mut Dice) -> Self {
        let biased = dice.chance(0.5);
        let bias_ms = dice.between(-45.0, 45.0);
        Self { bias_ms: if biased { bias_ms } else { 0.0 }, sweep_ms: dice.between(2.0, 15.0), level_ms }
    }
}

/// Everything the player does in a take.
#[derive(Clone, Debug, Default)]
pub struct Performance {
    /// The strokes, in the order of the part; extras stand after the stroke they follow.
    pub struck: Vec<Struck>,
    /// Strings stopped by a hand.
    pub damps: Vec<Damp>,
    /// The part's chords, then those that were played for them.
    pub chords: Vec<Chord>,
    /// How far off each string is, in cents, the heaviest first; empty when they are in tune.
    pub tuning_cents: Vec<f64>,
}

/// One stroke as played.
#[derive(Clone, Debug)]
pub struct Struck {
    /// Pass, from 0.
    pub pass: usize,
    /// Stroke of the pass, from 0; for an extra the one before it.
    pub stroke: usize,
    /// Whether nobody asked for it.
    pub extra: bool,
    /// What was planted on it.
    pub mistakes: Vec<Mistake>,
    /// The string a wrong fret or a muted string is on, as an index, the heaviest first.
    pub string: Option<usize>,
    /// Index of the chord played, in [`Performance::chords`].
    pub chord: Option<usize>,
    /// The notes, none when it was missed.
    pub notes: Vec<Note>,
}

impl Struck {
    /// A note by itself.
    pub(crate) fn alone(note: Note) -> Self {
        let mistakes = Vec::new();
        Self { pass: 0, stroke: 0, extra: false, mistakes, string: None, chord: None, notes: vec![note] }
    }
}

/// One string struck.
#[derive(Clone, Copy, Debug)]
pub struct Note {
    /// Index, the heaviest first.
    pub string: usize,
    /// MIDI key.
    pub key: u8,
    /// 1 to 127.
    pub velocity: u8,
    /// When the synthesiser is told.
    pub tell_ms: u32,
    /// Whether it is deadened at once.
    pub dead: bool,
}

/// A string stopped.
#[derive(Clone, Copy, Debug)]
pub struct Damp {
    /// Index, the heaviest first.
    pub string: usize,
    /// When, in seconds.
    pub at_s: f64,
}

/// Plays `part` `passes` times from `starts_at_s` on, making the planted mistakes.
#[must_use]
pub fn perform(
    part: &Part,
    passes: usize,
    starts_at_s: f64,
    style: Style,
    planted: &[Planted],
    onsets: &Onsets,
    dice: &mut Dice,
) -> Performance {
    let hands: Vec<Hands> = (0..passes).map(|pass| Hands::draw(part, pass, planted, dice)).collect();
    let mut chords = part.chords.clone();
    chords.extend(hands.iter().flat_map(|hands| hands.others.iter().cloned()));
    let done = Performance { chords, ..Performance::default() };
    let mut player = Playing { part, style, onsets, dice, done };
    for (pass, hands) in hands.iter().enumerate() {
        let begins_s = starts_at_s + part.pass_s * f64::from(u32::try_from(pass).unwrap_or(u32::MAX));
        for (stroke, hands) in hands.of_strokes.iter().enumerate() {
            let here = |planted: &&Planted| planted.pass == pass && planted.stroke == stroke;
            let mut mistakes: Vec<_> = planted.iter().filter(here).map(|planted| planted.mistake).collect();
            let extra = mistakes.contains(&Mistake::Extra);
            mistakes.retain(|mistake| mistake.is_of_time() && *mistake != Mistake::Extra);
            mistakes.extend(hands.iter().map(Hand::mistake));
            player.stroke(pass, stroke, begins_s, mistakes, hands);
            if extra {
                player.extra(pass, stroke, begins_s, hands);
            }
        }
        for stop in &part.stops_s {
            let at_s = begins_s + stop + player.lateness_s();
            player.done.damps.extend((0..part.open.len()).map(|string| Damp { string, at_s }));
        }
    }
    player.done
}

struct Playing<'a> {
    part: &'a Part,
    style: Style,
    onsets: &'a Onsets,
    dice: &'a mut Dice,
    done: Performance,
}

impl Playing<'_> {
    fn lateness_s(&mut self) -> f64 {
        (self.style.bias_ms + self.dice.normal(NOISE_MS.0, NOISE_MS.1)) / 1000.0
    }

    fn stroke(&mut self, pass: usize, stroke: usize, begins_s: f64, mistakes: Vec<Mistake>, hands: &[Hand]) {
        let asked = &self.part.asked[stroke];
        let of_time = mistakes.iter().copied().find(|mistake| mistake.is_of_time());
        let noise_s = self.lateness_s();
        let off = off_range_s(self.style.level_ms, asked.slot_s);
        let off_s = off.map_or(0.0, |(from, to)| self.dice.between(from, to));
        let lateness_s = match of_time {
            Some(Mistake::Early) => self.style.bias_ms / 1000.0 - off_s,
            Some(Mistake::Late) => self.style.bias_ms / 1000.0 + off_s,
            _ => noise_s,
        };
        let at_s = begins_s + asked.at_s + lateness_s;
        let chord = self.chord(asked, hands);
        let other_way = mistakes.contains(&Mistake::WrongDirection);
        self.finger(pass, stroke, chord, at_s);
        let keys = self.keys(chord, asked.action, hands);
        let mut notes = self.sweep(asked, &keys, at_s, other_way);
        let mut string = None;
        for hand in hands {
            let Some(on) = hand.string() else { continue };
            string = Some(on);
            for note in notes.iter_mut().filter(|note| note.string == on) {
                note.dead |= *hand == Hand::Muted(on);
                note.key += u8::from(*hand == Hand::Fret(on));
            }
        }
        if of_time == Some(Mistake::Missed) {
            notes.clear();
        }
        self.done.struck.push(Struck { pass, stroke, extra: false, mistakes, string, chord, notes });
    }

    /// The chord that is held: another than the one asked for where that is the mistake.
    fn chord(&self, asked: &Asked, hands: &[Hand]) -> Option<usize> {
        let named = |name: &str| self.done.chords.iter().position(|chord| chord.name == name);
        let wrong = hands.iter().find_map(|hand| if let Hand::Chord(name) = hand { named(name) } else { None });
        wrong.or(asked.chord)
    }

    /// A stroke in the middle of the way to the next one.
    fn extra(&mut self, pass: usize, stroke: usize, begins_s: f64, hands: &[Hand]) {
        let asked = &self.part.asked[stroke];
        let chord = self.chord(asked, hands);
        let share = self.dice.between(0.45, 0.55);
        let bias_s = self.style.bias_ms / 1000.0;
        let at_s = begins_s + asked.at_s + bias_s + share * self.part.gap_after_s(stroke);
        let keys = self.keys(chord, asked.action, hands);
        let notes = self.sweep(asked, &keys, at_s, true);
        let mistakes = vec![Mistake::Extra];
        self.done.struck.push(Struck { pass, stroke, extra: true, mistakes, string: None, chord, notes });
    }

    /// Lifts the fingers for a new chord: strings that will sound something else are silent shortly before.
    fn finger(&mut self, pass: usize, stroke: usize, chord: Option<usize>, at_s: f64) {
        let before = self.done.struck.iter().rev().find(|struck| !struck.extra);
        let (Some(before), true) = (before, pass + stroke > 0) else { return };
        if before.chord == chord {
            return;
        }
        let keys = |chord: Option<usize>, string: usize| chord.and_then(|chord| self.done.chords[chord].keys[string]);
        let old = before.chord;
        for string in 0..self.part.open.len() {
            let lead_s = self.dice.between(0.015, 0.050);
            if keys(old, string) != keys(chord, string) {
                self.done.damps.push(Damp { string, at_s: at_s - lead_s });
            }
        }
    }

    /// What each string would sound: the open ones without a chord, and one more where a finger fails to mute it.
    fn keys(&self, chord: Option<usize>, action: Action, hands: &[Hand]) -> Vec<Option<u8>> {
        let Some(chord) = chord else { return self.part.open.iter().map(|key| Some(*key)).collect() };
        let mut keys = self.done.chords[chord].keys.clone();
        for hand in hands {
            // A bass stroke aims at one string, whatever else might ring.
            if let (Hand::Open(string), false) = (hand, action == Action::Bass) {
                keys[*string] = Some(self.part.open[*string]);
            }
        }
        keys
    }

    fn sweep(&mut self, asked: &Asked, keys: &[Option<u8>], at_s: f64, other_way: bool) -> Vec<Note> {
        let down = (asked.direction == Direction::Down) != other_way;
        let mut strings = (0..keys.len()).filter(|string| keys[*string].is_some()).collect::<Vec<_>>();
        if !down {
            strings.reverse();
            strings.truncate(3 + self.dice.below(3));
        }
        if asked.action == Action::Bass {
            let lowest = (0..keys.len()).find(|string| keys[*string].is_some());
            strings = lowest.into_iter().collect();
        }
        let steps = f64::from(u32::try_from(strings.len().max(2) - 1).unwrap_or(1));
        let sweep_s = self.style.sweep_ms * self.dice.between(0.8, 1.2) / 1000.0;
        let step_s = sweep_s.min(SWEEP_SHARE * asked.slot_s / steps);
        let dynamic = match asked.dynamic {
            Dynamic::Soft => -18.0,
            Dynamic::Plain => 0.0,
            Dynamic::Accent => 18.0,
        };
        let velocity = 84.0 + dynamic + self.dice.normal(6.0, 15.0) - if down { 0.0 } else { 8.0 };
        let mut notes = Vec::new();
        let mut heard_s = at_s;
        for string in strings {
            let Some(key) = keys[string] else { continue };
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to MIDI's range")]
            let velocity = (velocity + self.dice.normal(4.0, 10.0)).round().clamp(20.0, 127.0) as u8;
            let tell_ms = self.onsets.tell_ms(heard_s, key);
            notes.push(Note { string, key, velocity, tell_ms, dead: asked.action == Action::Chuck });
            heard_s += step_s * self.dice.between(0.85, 1.15);
        }
        notes
    }
}
