//! Shared by the tests.

use sixrung_lesson::{LadderRules, Tempo};
use sixrung_practice::Ladder;

pub(crate) fn bpm(bpm: f64) -> Tempo {
    Tempo::from_bpm(bpm).expect("tests use tempi in range")
}

/// 76 84 93 103 114 126.
pub(crate) fn ladder() -> Ladder {
    Ladder::new(&LadderRules::default(), bpm(126.0))
}
