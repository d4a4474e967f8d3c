//! The asked shape, and others it may have been instead.

use crate::learned::Keys;
use crate::plan::PlannedShape;

use super::book::{Classes, Meaning, confusions};
use super::fit::Voicing;

/// The shape asked for, and others.
pub(super) struct Candidates {
    /// Shapes that count as the one asked for, and what each of their strings sounds.
    pub(super) asked: Vec<Voicing>,
    pub(super) asked_keys: Vec<Keys>,
    pub(super) others: Vec<Other>,
}

/// Another shape.
pub(super) struct Other {
    pub(super) name: String,
    pub(super) voicing: Voicing,
    pub(super) keys: Keys,
    /// Whether it holds a pitch class the asked chord has not.
    pub(super) foreign: bool,
    /// How many pitch classes it sounds that the asked shape does not, and the other way round.
    pub(super) classes_more: usize,
    pub(super) classes_less: usize,
}

impl Candidates {
    pub(super) fn new(shapes: &[PlannedShape], index: usize) -> Self {
        let shape = &shapes[index];
        let meaning = Meaning::of(shape);
        let mut candidates = Self { asked: vec![voicing(shape)], asked_keys: vec![keys(shape)], others: Vec::new() };
        let lesson = shapes.iter().enumerate().filter(|(other, _)| *other != index).map(|(_, other)| other.clone());
        for other in lesson.chain(confusions(shape, &meaning)) {
            candidates.add(&other, &meaning);
        }
        candidates
    }

    fn add(&mut self, other: &PlannedShape, asked: &Meaning) {
        let voicing = voicing(other);
        let known = self.asked.contains(&voicing) || self.others.iter().any(|other| other.voicing == voicing);
        let sounds = Meaning::of(other).sounds;
        let foreign = !sounds.is_within(asked.allows);
        if known || voicing.sounding.is_empty() {
        } else if !foreign && asked.sounds.is_within(sounds) {
            self.asked.push(voicing);
            self.asked_keys.push(keys(other));
        } else {
            let (classes_more, classes_less) = (sounds.without(asked.sounds), asked.sounds.without(sounds));
            let (classes_more, classes_less) = (Classes::count(classes_more), Classes::count(classes_less));
            let (name, keys) = (other.name.clone(), keys(other));
            self.others.push(Other { name, voicing, keys, foreign, classes_more, classes_less });
        }
    }
}

fn voicing(shape: &PlannedShape) -> Voicing {
    let strings = || shape.strings.iter().zip(&shape.open);
    Voicing {
        sounding: shape.strings.iter().flatten().map(|pitch| pitch.0).collect(),
        mute: strings().filter(|(pitch, _)| pitch.is_none()).map(|(_, open)| open.0).collect(),
    }
}

fn keys(shape: &PlannedShape) -> Keys {
    shape.strings.iter().map(|pitch| pitch.map(|pitch| pitch.0)).collect()
}
