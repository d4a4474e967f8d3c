//! Passes taken out, and the last of them put back.

use rusqlite::params;
use sixrung_practice::Moment;

use crate::error::JournalError;
use crate::open::Journal;
use crate::passes::PassId;

impl Journal {
    /// Takes passes out of everything that is shown, counted or handed on; how many there were. They can be put back
    /// until the next ones are taken out: then these are gone for good. Where a climb stands, and what it holds, does
    /// not change.
    ///
    /// # Errors
    /// When the file cannot be written; nothing is taken out then.
    pub fn delete_passes(&mut self, passes: &[PassId], now: Moment) -> Result<u64, JournalError> {
        let player = self.player;
        let commit = self.db.transaction()?;
        commit.execute("DELETE FROM passes WHERE player = ?1 AND deleted IS NOT NULL", [player])?;
        let mut count = 0;
        {
            let sql = "UPDATE passes SET deleted = ?1 WHERE id = ?2 AND player = ?3";
            let mut delete = commit.prepare_cached(sql)?;
            for pass in passes {
                count += delete.execute(params![now.0, pass.0, player])? as u64;
            }
        }
        commit.commit()?;
        Ok(count)
    }

    /// Puts back the passes that were taken out last, also after the program was closed; how many there were.
    ///
    /// # Errors
    /// When the file cannot be written; nothing is put back then.
    pub fn undo_delete(&mut self) -> Result<u64, JournalError> {
        let sql = "UPDATE passes SET deleted = NULL WHERE player = ?1 AND deleted IS NOT NULL";
        Ok(self.db.prepare_cached(sql)?.execute([self.player])? as u64)
    }

    /// How many passes could be put back.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn deleted_passes(&self) -> Result<u64, JournalError> {
        let sql = "SELECT count(*) FROM passes WHERE player = ?1 AND deleted IS NOT NULL";
        let count: i64 = self.db.prepare_cached(sql)?.query_row([self.player], |row| row.get(0))?;
        Ok(count.unsigned_abs())
    }
}
