//! Shared by the tests.

use sixrung_learners::{Chance, Traits};
use sixrung_lesson::Tempo;

pub(crate) const PIECE: &str = "Verse";

pub(crate) fn bpm(bpm: f64) -> Tempo {
    Tempo::from_bpm(bpm).expect("tests use tempi in range")
}

/// A learner's traits without chance in them: nothing is forgotten, nothing tires, every pass teaches as much.
pub(crate) fn steady() -> Traits {
    Traits { pace: 1.0, harm: 0.0, forgets: 0.0, tires: 0.0, ..Traits::draw(&mut Chance::new(11, 0)) }
}
