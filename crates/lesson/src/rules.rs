//! What a teacher may set for climbing and for "clean".

use crate::units::Tempo;

/// How patient the timing window is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Level {
    /// ± 80 ms.
    #[default]
    Beginner,
    /// ± 60 ms.
    Improver,
    /// ± 40 ms.
    Advanced,
}

/// What counts as a clean pass.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Criterion {
    /// The timing window.
    pub level: Level,
    /// Faults allowed in a pass; `None` for the default, one in sixteen strokes and at least one from eight strokes on.
    pub allowed_faults: Option<u16>,
}

/// How the ladder is built and climbed.
#[derive(Clone, Debug, PartialEq)]
pub struct LadderRules {
    /// Share of the original tempo at the first rung, 0.2 to 1.
    pub start: f64,
    /// Number of rungs, 1 to 24, the last being the original tempo.
    pub rungs: u8,
    /// Rungs named outright, rising, instead of `start` and `rungs`; the original tempo is added if it is not the last.
    pub named: Vec<Tempo>,
    /// Where the ladder ends, when not at the original tempo: what an assignment asks for. No lesson text says so.
    pub goal: Option<Tempo>,
    /// Clean passes in a row that climb.
    pub up_after: u8,
    /// Passes not clean in a row that fall.
    pub down_after: u8,
}

impl Default for LadderRules {
    /// Six geometric rungs from 60 %, three clean up, two not clean down. These are design choices of ours: no study
    /// found shows one tempo plan ahead of another (Henley 2001, JRME, finds no significant difference).
    fn default() -> Self {
        Self { start: 0.6, rungs: 6, named: Vec::new(), goal: None, up_after: 3, down_after: 2 }
    }
}
