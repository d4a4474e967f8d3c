//! Copies, going back to one, and tables for other programs, through the queue.

use std::path::PathBuf;
use std::time::Duration;

use sixrung_practice::Day;

use super::{Job, JournalWorker};
use crate::error::JournalError;
use crate::export::Table;

/// How long a whole file may take to be written and read on a slow disk.
const PATIENCE: Duration = Duration::from_secs(30);

impl JournalWorker {
    /// See [`crate::Journal::back_up_to`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within half a minute.
    pub fn back_up_to(&self, path: PathBuf) -> Result<(), JournalError> {
        self.answer(PATIENCE, Job::Ask, move |journal| journal.back_up_to(&path))
    }

    /// See [`crate::Journal::restore_from`]. What was loaded before belongs to the journal given up: load it anew.
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within half a minute.
    pub fn restore_from(&self, copy: PathBuf, today: Day) -> Result<PathBuf, JournalError> {
        self.answer(PATIENCE, Job::Alone, move |journal| journal.restore_from(&copy, today))
    }

    /// See [`crate::Journal::export_to`].
    ///
    /// # Errors
    /// As there, and `Busy` when the disk does not answer within half a minute.
    pub fn export_to(&self, table: Table, path: PathBuf) -> Result<(), JournalError> {
        self.answer(PATIENCE, Job::Ask, move |journal| journal.export_to(table, &path))
    }
}
