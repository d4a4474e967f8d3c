//! What is remembered: passes, climbs, settings, measured round trips and sound checks, in one file that survives a crash.
//!
//! [`Journal`] is the file: each pass is one commit, with its strokes and the climb it led to. [`JournalWorker`] keeps
//! it on a thread of its own, so that nobody waits for the disk. Opening checks the file, restores a damaged one from
//! its newest backup and says so, and refuses one written by a newer version.
//!
//! ```
//! use sixrung_journal::Journal;
//! use sixrung_practice::{Moment, UtcOffset};
//!
//! let folder = tempfile::tempdir()?;
//! let today = Moment(1_900_000_000).day(UtcOffset::default());
//! let opened = Journal::open(&folder.path().join("journal.sqlite"), today)?;
//! assert!(opened.notices.is_empty());
//! opened.journal.set("volume.click", "0.6")?;
//! assert_eq!(opened.journal.setting("volume.click")?.as_deref(), Some("0.6"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

// The tests inside share their made-up passes with the tests outside, which know the crate by its name.
#[cfg(test)]
extern crate self as sixrung_journal;

mod backup;
mod care;
mod changes;
mod climbs;
mod codes;
mod deleting;
mod error;
mod export;
mod learned;
mod look_back;
mod open;
mod passes;
mod players;
mod restore;
mod round_trips;
mod schema;
mod settings;
mod since;
mod sound_checks;
mod steps;
mod stretches;
mod strokes;
mod worker;

pub use changes::{ChangePair, PlayedChange};
pub use error::JournalError;
pub use export::{LEFT_OUT, Table};
pub use learned::LearnedKey;
pub use look_back::{
    BarTrouble, ChangeDay, ChangeHistory, HeldRung, KeptPass, LAST_PASSES, LookBack, PassPlace, PlayingDay,
    PracticeDay, SectionHistory, Wanted,
};
pub use open::{Journal, Notice, Opened};
pub use passes::{PassId, PassRecord, PlayedPass};
pub use players::{Player, PlayerId};
pub use round_trips::{DevicePair, Measured, RoundTrip};
pub use sound_checks::SoundCheck;
pub use stretches::{LessonRef, StretchKey};
pub use strokes::{BarCount, Counts, StrokeMark, Strokes};
pub use worker::{Full, JournalWorker, Status};
