//! Copies the player asks for, and going back to one.

use std::fs;
use std::mem;
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use sixrung_practice::Day;

use crate::backup::{copy_to, remove_if_there, settle, with_logs};
use crate::error::JournalError;
use crate::open::{Depth, Journal, Notice, connect};
use crate::{players, schema};

impl Journal {
    /// Writes a copy of all there is to `path`, in place of what is there: whole, or not at all.
    ///
    /// # Errors
    /// When it cannot be written there, or `path` is the journal itself.
    pub fn back_up_to(&self, path: &Path) -> Result<(), JournalError> {
        let same = |path: &Path| fs::canonicalize(path).ok();
        if same(path).is_some_and(|path| Some(path) == same(&self.path)) {
            let why = "that is the journal itself".to_owned();
            return Err(JournalError::Unwritable { path: path.to_owned(), why });
        }
        copy_to(&self.db, path)
    }

    /// Takes a copy in the journal's place; the file it was is kept among the daily copies, under the name given back.
    /// The copy is checked first, all of it, and brought to the present form; the file it is read from stays as it is.
    ///
    /// # Errors
    /// When the copy is damaged, newer or none of ours, or the disk fails; the journal is as it was then.
    pub fn restore_from(&mut self, copy: &Path, today: Day) -> Result<PathBuf, JournalError> {
        let unfinished = self.path.with_extension("restoring");
        let taken = self.checked_copy(copy, &unfinished).and_then(|()| {
            let kept = self.backups.make_another(&self.db, &format!("{}-before", self.backups.name_of(today)))?;
            self.swap(&unfinished)?;
            // What damage later today goes back to is no longer what was given up. Without it, to this morning.
            drop(self.backups.make(&self.db, &self.backups.name_of(today)));
            Ok(kept)
        });
        for leftover in with_logs(&unfinished) {
            // One that stays is overwritten by the next.
            drop(remove_if_there(&leftover));
        }
        taken
    }

    /// A sound copy of `copy` in the present form at `unfinished`, without logs.
    fn checked_copy(&self, copy: &Path, unfinished: &Path) -> Result<(), JournalError> {
        with_logs(unfinished).iter().try_for_each(|file| remove_if_there(file))?;
        // A journal that some program has open keeps its newest passes in the log beside it.
        for (from, to) in with_logs(copy).iter().zip(with_logs(unfinished)).take(2) {
            if from == copy || from.exists() {
                fs::copy(from, &to).map_err(|error| JournalError::io(from, &error))?;
            }
        }
        let named = |error: JournalError| match error {
            JournalError::Newer { found, known, .. } => JournalError::Newer { path: copy.to_owned(), found, known },
            JournalError::NotAJournal { .. } => JournalError::NotAJournal { path: copy.to_owned() },
            JournalError::Damaged { what } => JournalError::BadCopy { path: copy.to_owned(), what },
            other => other,
        };
        let mut db = connect(unfinished, Depth::Whole).map_err(named)?;
        if schema::form(&db)? == 0 {
            return Err(JournalError::NotAJournal { path: copy.to_owned() });
        }
        schema::migrate(&mut db)?;
        // Closing writes the log into the file.
        db.close().map_err(|(_, error)| error.into())
    }

    /// Puts `unfinished` in the place of the file. What was there was copied before.
    fn swap(&mut self, unfinished: &Path) -> Result<(), JournalError> {
        self.let_go()?;
        // The last one to close it takes the log away. One left behind is somebody's who has the journal open, and would
        // be read into the file that takes its place.
        let is_free = with_logs(&self.path)[1..].iter().all(|log| !log.exists());
        let swapped = if is_free { settle(unfinished, &self.path) } else { Err(JournalError::Busy) };
        self.take_up()?;
        swapped
    }

    /// Goes back to the newest sound copy after damage was found while the journal was in use.
    pub(crate) fn mend(&mut self, today: Day) -> Result<Notice, JournalError> {
        self.let_go()?;
        let notice = self.backups.restore(&self.path, today)?;
        self.take_up()?;
        Ok(notice)
    }

    /// Closes the file; until it is taken up again there is an empty journal in memory.
    fn let_go(&mut self) -> Result<(), JournalError> {
        let file = mem::replace(&mut self.db, Connection::open_in_memory()?);
        file.close().map_err(|(_, error)| error.into())
    }

    fn take_up(&mut self) -> Result<(), JournalError> {
        let mut db = connect(&self.path, Depth::Whole)?;
        schema::migrate(&mut db)?;
        self.player = players::chosen(&db)?;
        self.db = db;
        self.checked = true;
        Ok(())
    }

    /// The daily copies that are there, oldest first.
    #[must_use]
    pub fn copies(&self) -> Vec<PathBuf> {
        self.backups.oldest_first()
    }
}
