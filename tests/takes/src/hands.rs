//! What the hands do wrong, stroke by stroke.

use crate::confusions::{confusions, is_another};
use crate::dice::Dice;
use crate::mistakes::{Mistake, Planted};
use crate::part::{Chord, Part};

/// How often a wrong chord is a common confusion, where there is one, rather than another of the lesson's shapes.
const CONFUSED_SHARE: f64 = 0.6;

/// A mistake of the hands on one stroke.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Hand {
    /// Another chord, by name.
    Chord(String),
    /// A string, as an index, the heaviest first, a fret too high.
    Fret(usize),
    /// A string that does not ring.
    Muted(usize),
    /// A string that rings open and should not.
    Open(usize),
    /// The other way.
    OtherWay,
}

impl Hand {
    pub(crate) const fn mistake(&self) -> Mistake {
        match self {
            Self::Chord(_) => Mistake::WrongChord,
            Self::Fret(_) => Mistake::WrongFret,
            Self::Muted(_) => Mistake::MutedString,
            Self::Open(_) => Mistake::OpenString,
            Self::OtherWay => Mistake::WrongDirection,
        }
    }

    /// The string it is on.
    pub(crate) const fn string(&self) -> Option<usize> {
        match self {
            Self::Fret(string) | Self::Muted(string) | Self::Open(string) => Some(*string),
            Self::Chord(_) | Self::OtherWay => None,
        }
    }
}

/// The hands' mistakes of one pass.
#[derive(Clone, Debug)]
pub(crate) struct Hands {
    /// One entry a stroke of the part.
    pub(crate) of_strokes: Vec<Vec<Hand>>,
    /// Chords that are played and not asked for anywhere in the part.
    pub(crate) others: Vec<Chord>,
}

impl Hands {
    /// Draws what the planted mistakes leave open: which chord, which string.
    pub(crate) fn draw(part: &Part, pass: usize, planted: &[Planted], dice: &mut Dice) -> Self {
        let mut hands = Self { of_strokes: vec![Vec::new(); part.asked.len()], others: Vec::new() };
        for planted in planted.iter().filter(|planted| planted.pass == pass && !planted.mistake.is_of_time()) {
            let stroke = planted.stroke;
            let Some(hand) = hands.hand(part, stroke, planted.mistake, dice) else { continue };
            let strokes = if hand == Hand::OtherWay { stroke..stroke + 1 } else { part.span(stroke) };
            for stroke in strokes {
                hands.of_strokes[stroke].push(hand.clone());
            }
        }
        hands
    }

    fn hand(&mut self, part: &Part, stroke: usize, mistake: Mistake, dice: &mut Dice) -> Option<Hand> {
        if mistake == Mistake::WrongDirection {
            return Some(Hand::OtherWay);
        }
        let asked = &part.chords[part.asked[stroke].chord?];
        if mistake == Mistake::WrongChord {
            let chord = other_chord(part, asked, dice)?;
            let name = chord.name.clone();
            if part.chords.iter().chain(&self.others).all(|other| other.name != name) {
                self.others.push(chord);
            }
            return Some(Hand::Chord(name));
        }
        let hand = match mistake {
            Mistake::WrongFret => Hand::Fret,
            Mistake::MutedString => Hand::Muted,
            _ => Hand::Open,
        };
        let sounding = |string: &usize| asked.keys[*string].is_some() != (mistake == Mistake::OpenString);
        // A finger that makes another chord of it would be a wrong chord, not a wrong string.
        let stays = |string: &usize| {
            let mut keys = asked.keys.clone();
            keys[*string] = match mistake {
                Mistake::WrongFret => keys[*string].map(|key| key + 1),
                Mistake::MutedString => None,
                _ => Some(part.open[*string]),
            };
            !is_another(part, &asked.name, &keys)
        };
        let strings: Vec<usize> = (0..asked.keys.len()).filter(sounding).filter(stays).collect();
        dice.pick(&strings).copied().map(hand)
    }
}

fn other_chord(part: &Part, asked: &Chord, dice: &mut Dice) -> Option<Chord> {
    let confused = confusions(part, &asked.name);
    let lesson: Vec<Chord> = part.chords.iter().filter(|chord| chord.keys != asked.keys).cloned().collect();
    let from_table = dice.chance(CONFUSED_SHARE);
    let from = if lesson.is_empty() || (from_table && !confused.is_empty()) { &confused } else { &lesson };
    let chord = dice.pick(from)?;
    // Where the lesson has a shape of that name, it is the lesson's that is played.
    Some(part.chords.iter().find(|own| own.name == chord.name).unwrap_or(chord).clone())
}
