//! A lesson's score, a tempo and a loop compiled to exact events, cues and expected strokes.
//!
//! Phases: [`sixrung_lesson::Score`] → [`compile`] → [`Plan`]. Musical time stays in integer ticks; [`TempoGrid`]
//! turns a tick into a frame with one rounding and none carried on. Pure: no clock, no devices.
//!
//! ```
//! use sixrung_lesson::{Arrangement, Stretch, layout, read};
//! use sixrung_timeline::{Between, Clicks, Request, compile};
//!
//! let text = r#"
//! Lesson(
//!     version: 1,
//!     title: "Two chords by the stove",
//!     tempo: 92,
//!     meter: "4/4",
//!     shapes: [
//!         (name: "D", frets: "xx0232", fingers: "---132"),
//!         (name: "A", frets: "x02220", fingers: "--123-"),
//!     ],
//!     patterns: [(name: "plain", grid: "eighths", strokes: "D - D> U - U D> U")],
//!     sections: [(name: "Verse", entries: [(chord: "D", pattern: "plain"), (chord: "A", pattern: "plain")])],
//! )"#;
//! let lesson = read(text.as_bytes()).expect("nothing is wrong with it").lesson;
//! let score = layout(&lesson, &Stretch::Whole, &Arrangement::default()).expect("a checked lesson can be laid out");
//! let between = Between::Seamless;
//! let (clicks, passes) = (Clicks::default(), None);
//! let tempo = lesson.tempo;
//! let request = Request { id: 1, rate: 48_000, tempo, count_in_bars: 1, between, passes, clicks, backing: false };
//! let plan = compile(&lesson, &score, &request).expect("the request is in range");
//! assert_eq!(plan.expected.len(), 12);
//! assert_eq!(plan.cues.len(), 2);
//! ```

mod alone;
mod backing;
mod clicks;
mod compile;
mod cursor;
mod event;
mod expect;
mod frames;
mod hand;
mod timeline;

pub use alone::{Alone, alone};
pub use clicks::{Clicks, Division, Thinned, default_count_in_bars};
pub use compile::{CompileError, compile, compile_with};
pub use cursor::Cursor;
pub use event::{Brush, ClickKind, Cue, Event, EventKind, ExpectedStroke};
pub use expect::expected_seconds;
pub use frames::{FineFrames, Frames, TempoGrid};
pub use hand::Feel;
/// The words of the lesson that events are written in, so that the performer needs no lesson.
pub use sixrung_lesson::{Direction, Pitch, Tempo, Tick};
pub use timeline::{Between, Plan, Request, Timeline};
