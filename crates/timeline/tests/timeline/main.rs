//! Scores compiled to exact events, cues and expected strokes.

mod backing;
mod chords_ahead;
mod clicks;
mod cursor;
mod demos;
mod exact;
mod hands;
mod support;
mod windows;
