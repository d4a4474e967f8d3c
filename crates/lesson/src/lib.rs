//! What a lesson is, how its text is read, what is wrong with it, and what its shapes sound.
//!
//! Phases: text → permissive file form (`file`) → checked [`Lesson`] (`read`) → [`Score`] (`layout`), the flat
//! form that the timeline compiles and the stand draws. Pure: no disk, no clock.
//!
//! ```
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
//!     sections: [(
//!         name: "Verse",
//!         entries: [(chord: "D", pattern: "plain", times: 2), (chord: "A", pattern: "plain", times: 2)],
//!         words: ["^Warm my hands and ^warm my feet"],
//!     )],
//! )"#;
//! let read = sixrung_lesson::read(text.as_bytes()).expect("nothing is wrong with it");
//! assert_eq!(read.lesson.title, "Two chords by the stove");
//! assert!(read.warnings.is_empty());
//!
//! let findings = sixrung_lesson::read(text.replace("\"A\", pattern", "\"Am\", pattern").as_bytes()).unwrap_err();
//! assert_eq!(
//!     findings[0].to_string(),
//!     "14:69: error[unknown-chord]: there is no shape \"Am\"\nhint: did you mean \"A\"?"
//! );
//! ```

mod build;
mod check;
mod chord;
mod counts;
mod diagnostic;
mod file;
mod findings;
mod hash;
mod layout;
mod lesson;
mod locate;
mod meter;
mod nearest;
mod pattern;
mod pitch;
mod read;
mod rules;
mod score;
mod section;
mod shape;
mod simpler;
mod text;
mod tuning;
mod units;

pub use chord::{ChordSymbol, Degree, DegreeChange, Kind, Note, Tone, raised_name};
pub use counts::{Count, TripletCount, counts, pendulum};
pub use diagnostic::{Caret, Diagnostic, Place, Severity};
pub use hash::content_hash;
pub use layout::{LayoutError, MAX_BARS, layout, section_bars};
pub use lesson::{Arrangement, Lesson};
pub use meter::{BeatUnit, Meter};
pub use nearest::did_you_mean;
pub use pattern::{Action, Direction, Dynamic, Grid, Pattern, Stroke};
pub use pitch::Pitch;
pub use read::{Read, read};
pub use rules::{Criterion, LadderRules, Level};
pub use score::{Bar, Change, Line, Score, Slot, Stretch, SungSyllable};
pub use section::{ChordRef, Entry, Exception, Occasion, Optional, Play, Section, Syllable, WordLine};
pub use shape::{Barre, Finger, MuteNote, Shape, StringUse};
pub use text::frets::frets_text;
pub use text::strokes::strokes_text;
pub use tuning::Tuning;
pub use units::{TICKS_PER_QUARTER, Tempo, Tick};
