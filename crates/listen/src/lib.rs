//! Microphone blocks to what was heard, and expected strokes plus what was heard to a verdict.

mod verdict;

pub use verdict::{ChordFinding, Finding, PassVerdict, Reason, StrokeFinding, Verdict};
