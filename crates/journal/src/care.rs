//! How the hands felt, as the learner said.

use rusqlite::{OptionalExtension as _, params};
use sixrung_practice::{Felt, Moment};

use crate::codes;
use crate::error::JournalError;
use crate::open::Journal;

impl Journal {
    /// Keeps an answer to the question whether anything hurts.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn record_felt(&self, felt: Felt, at: Moment) -> Result<(), JournalError> {
        let sql = "INSERT INTO care (player, felt, at) VALUES (?1, ?2, ?3)";
        self.db.prepare_cached(sql)?.execute(params![self.player, codes::felt_word(felt), at.0])?;
        Ok(())
    }

    /// The last answer, and when it was given.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn last_felt(&self) -> Result<Option<(Felt, Moment)>, JournalError> {
        let sql = "SELECT felt, at FROM care WHERE player = ?1 ORDER BY at DESC, id DESC LIMIT 1";
        let mut query = self.db.prepare_cached(sql)?;
        let row = query.query_row([self.player], |row| Ok((row.get::<_, String>(0)?, row.get(1)?)));
        row.optional()?.map(|(word, at)| Ok((codes::felt(&word)?, Moment(at)))).transpose()
    }
}
