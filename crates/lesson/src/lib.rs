//! What a lesson is, how its text is read, what is wrong with it, and what its shapes sound.
//!
//! Phases: text → permissive file form (`file`) → checked [`Lesson`] (`read`) → [`Score`] (`layout`), the flat
//! form that the timeline compiles and the stand draws. Pure: no disk, no clock.

mod counts;
mod diagnostic;
mod layout;
mod lesson;
mod meter;
mod pattern;
mod pitch;
mod rules;
mod score;
mod section;
mod shape;
mod tuning;
mod units;

pub use counts::{Count, TripletCount, counts, pendulum};
pub use diagnostic::{Caret, Diagnostic, Place, Severity};
pub use layout::{LayoutError, MAX_BARS, layout, section_bars};
pub use lesson::{Arrangement, Lesson};
pub use meter::{BeatUnit, Meter};
pub use pattern::{Action, Direction, Dynamic, Grid, Pattern, Stroke};
pub use pitch::Pitch;
pub use rules::{Criterion, LadderRules, Level};
pub use score::{Bar, Change, Line, Score, Slot, Stretch, SungSyllable};
pub use section::{ChordRef, Entry, Exception, Occasion, Optional, Play, Section, Syllable, WordLine};
pub use shape::{Barre, Finger, MuteNote, Shape, StringUse};
pub use tuning::Tuning;
pub use units::{TICKS_PER_QUARTER, Tempo, Tick};
