//! A lesson's score, a tempo and a loop compiled to exact events, cues and expected strokes.
//!
//! Phases: [`sixrung_lesson::Score`] → [`compile`] → [`Plan`]. Musical time stays in integer ticks; [`TempoGrid`]
//! turns a tick into a frame with one rounding and none carried on. Pure: no clock, no devices.

mod clicks;
mod compile;
mod cursor;
mod event;
mod expect;
mod frames;
mod hand;
mod timeline;

pub use clicks::default_count_in_bars;
pub use compile::{CompileError, compile};
pub use cursor::Cursor;
pub use event::{ClickKind, Cue, Event, EventKind, ExpectedStroke};
pub use expect::expected_seconds;
pub use frames::{FineFrames, Frames, TempoGrid};
/// The words of the lesson that events are written in, so that the performer needs no lesson.
pub use sixrung_lesson::{Direction, Pitch, Tempo, Tick};
pub use timeline::{Between, Plan, Request, Timeline};
