//! A lesson's score, a tempo and a loop compiled to exact events, cues and expected strokes.
//!
//! Phases: [`sixrung_lesson::Score`] → `compile` → [`Plan`]. Musical time stays in integer ticks; [`TempoGrid`]
//! turns a tick into a frame with one rounding and none carried on. Pure: no clock, no devices.

mod event;
mod frames;
mod timeline;

pub use event::{ClickKind, Cue, Event, EventKind, ExpectedStroke};
pub use frames::{FineFrames, Frames, TempoGrid};
pub use timeline::{Between, Plan, Request, Timeline};
/// The words of the lesson that events are written in, so that the performer needs no lesson.
pub use sixrung_lesson::{Direction, Pitch, Tempo, Tick};
