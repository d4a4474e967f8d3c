//! The asked shape against what it may have been instead.

use crate::plan::PlannedShape;
use crate::verdict::ChordFinding;

use super::book::{Meaning, confusions};
use super::fit::{Heard, Voicing, fit};
use super::spans::Looks;
use super::spectrum::Rows;
use super::strings::Strings;

/// What was decided of a span.
pub(super) struct Decision {
    pub finding: ChordFinding,
    pub sounded_like: Option<String>,
}

impl Decision {
    const UNSURE: Self = Self { finding: ChordFinding::Unsure, sounded_like: None };
}

/// The shape asked for, and others.
pub(super) struct Candidates {
    /// Shapes that count as the one asked for.
    asked: Vec<Voicing>,
    others: Vec<Other>,
}

struct Other {
    name: String,
    voicing: Voicing,
    /// Whether it holds a pitch class the asked chord has not.
    foreign: bool,
}

const SURE_RIGHT: f32 = 1.0;
const SURE_WRONG: f32 = 6.0;

impl Candidates {
    pub(super) fn new(shapes: &[PlannedShape], index: usize) -> Self {
        let shape = &shapes[index];
        let meaning = Meaning::of(shape);
        let mut candidates = Self { asked: vec![voicing(shape)], others: Vec::new() };
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
        } else {
            self.others.push(Other { name: other.name.clone(), voicing, foreign });
        }
    }

    pub(super) fn decide(&self, rows: Rows, strings: &Strings, looks: &Looks) -> Decision {
        let Some(heard) = Heard::new(rows) else { return Decision::UNSURE };
        let score = |voicing: &Voicing| fit(&heard, voicing, strings, looks.all_strings);
        let asked = self.asked.iter().map(score).fold(f32::MIN, f32::max);
        let scored = self.others.iter().map(|other| (other, score(&other.voicing)));
        let best = scored.max_by(|one, other| one.1.total_cmp(&other.1));
        let Some((other, best)) = best else { return Decision::UNSURE };
        let odds = asked - best;
        if odds >= SURE_RIGHT {
            Decision { finding: ChordFinding::Right, sounded_like: None }
        } else if odds <= -SURE_WRONG {
            Decision { finding: ChordFinding::Wrong, sounded_like: Some(other.name.clone()) }
        } else {
            Decision::UNSURE
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
