//! Checks the whole file and keeps the day's copy, beside the thread that writes: a file of a hundred thousand passes is
//! read for half a second, and nobody waits for it.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::{self, JoinHandle};

use rusqlite::{Connection, InterruptHandle};
use sixrung_practice::Day;

use crate::backup::Backups;
use crate::error::JournalError;
use crate::open::{self, Depth, Journal};

/// What came of it.
#[derive(Debug)]
pub(super) enum Outcome {
    /// The file is sound, and the day has its copy.
    Sound,
    /// The file is sound, and no copy could be written.
    NoCopy(JournalError),
    /// The file is damaged.
    Damaged,
    /// It was told to stop.
    Stopped,
}

/// Stops a check.
#[derive(Clone)]
pub(super) struct StopCheck {
    stopping: Arc<AtomicBool>,
    interrupt: Arc<InterruptHandle>,
}

/// A check that runs; dropping it stops it and waits until the file is let go.
pub(super) struct Check {
    stop: StopCheck,
    thread: Option<JoinHandle<Outcome>>,
}

impl Check {
    /// Begins.
    pub(super) fn start(journal: &Journal, today: Day) -> Result<Self, JournalError> {
        let other = |error: std::io::Error| JournalError::Other { why: error.to_string() };
        let db = Connection::open(&journal.path)?;
        let stop =
            StopCheck { stopping: Arc::new(AtomicBool::new(false)), interrupt: Arc::new(db.get_interrupt_handle()) };
        let (path, backups, checked) = (journal.path.clone(), journal.backups.clone(), journal.checked);
        let work = Work { db, path, backups, checked, today, stopping: Arc::clone(&stop.stopping) };
        let thread = thread::Builder::new().name("journal check".into());
        let thread = thread.spawn(move || work.outcome()).map_err(other)?;
        Ok(Self { stop, thread: Some(thread) })
    }

    /// Whether it is over, and the file let go.
    pub(super) fn is_over(&self) -> bool {
        self.thread.as_ref().is_none_or(JoinHandle::is_finished)
    }

    /// Waits for its outcome.
    pub(super) fn outcome(mut self) -> Outcome {
        // A thread that panicked has told nobody anything: the next opening checks again.
        self.thread.take().and_then(|thread| thread.join().ok()).unwrap_or(Outcome::Stopped)
    }

    pub(super) fn stopper(&self) -> StopCheck {
        self.stop.clone()
    }
}

impl StopCheck {
    /// The check ends as soon as it looks up.
    pub(super) fn stop(&self) {
        self.stopping.store(true, Ordering::Relaxed);
        self.interrupt.interrupt();
    }
}

impl std::fmt::Debug for StopCheck {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_struct("StopCheck").finish_non_exhaustive()
    }
}

impl Drop for Check {
    fn drop(&mut self) {
        self.stop.stop();
        if let Some(thread) = self.thread.take() {
            drop(thread.join());
        }
    }
}

struct Work {
    db: Connection,
    path: PathBuf,
    backups: Backups,
    checked: bool,
    today: Day,
    stopping: Arc<AtomicBool>,
}

impl Work {
    fn outcome(self) -> Outcome {
        if !self.checked
            && let Err(error) = self.check()
        {
            return self.stopped_or(match error {
                JournalError::Damaged { .. } => Outcome::Damaged,
                error => Outcome::NoCopy(error),
            });
        }
        // Only a sound file takes a place among the copies.
        match self.backups.make_daily(&self.db, self.today) {
            Ok(_) => Outcome::Sound,
            Err(error) => self.stopped_or(Outcome::NoCopy(error)),
        }
    }

    fn check(&self) -> Result<(), JournalError> {
        open::prepare(&self.db, &self.path)?;
        open::check(&self.db, Depth::Whole)
    }

    fn stopped_or(&self, outcome: Outcome) -> Outcome {
        if self.stopping.load(Ordering::Relaxed) { Outcome::Stopped } else { outcome }
    }
}
