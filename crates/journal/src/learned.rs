//! What the ear learned of the player's shapes and strokes, guitar by guitar.

use rusqlite::{OptionalExtension as _, params};
use sixrung_practice::Moment;

use crate::error::JournalError;
use crate::open::Journal;

/// What something learned belongs to. The player is the journal's own.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LearnedKey {
    /// The guitar, as the player calls it.
    pub guitar: String,
    /// Whose shapes: a lesson by its title, so that a corrected word loses nothing.
    pub lesson: String,
}

impl Journal {
    /// What was learned, in whatever form it was kept, and when.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn learned(&self, key: &LearnedKey) -> Result<Option<(String, Moment)>, JournalError> {
        let sql = "SELECT value, at FROM learned WHERE player = ?1 AND guitar = ?2 AND lesson = ?3";
        let mut query = self.db.prepare_cached(sql)?;
        let found =
            query.query_row(params![self.player, key.guitar, key.lesson], |row| Ok((row.get(0)?, Moment(row.get(1)?))));
        Ok(found.optional()?)
    }

    /// Keeps it in place of any before.
    ///
    /// # Errors
    /// When the file cannot be written; what was kept before stays.
    pub fn set_learned(&self, key: &LearnedKey, value: &str, at: Moment) -> Result<(), JournalError> {
        let sql = "INSERT OR REPLACE INTO learned (player, guitar, lesson, value, at) VALUES (?1, ?2, ?3, ?4, ?5)";
        self.db.prepare_cached(sql)?.execute(params![self.player, key.guitar, key.lesson, value, at.0])?;
        Ok(())
    }

    /// Forgets it.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn forget_learned(&self, key: &LearnedKey) -> Result<(), JournalError> {
        let sql = "DELETE FROM learned WHERE player = ?1 AND guitar = ?2 AND lesson = ?3";
        self.db.prepare_cached(sql)?.execute(params![self.player, key.guitar, key.lesson])?;
        Ok(())
    }

    /// The player's guitars that anything was learned of, by name.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn guitars(&self) -> Result<Vec<String>, JournalError> {
        let sql = "SELECT DISTINCT guitar FROM learned WHERE player = ?1 ORDER BY guitar";
        let mut query = self.db.prepare_cached(sql)?;
        let rows = query.query_map([self.player], |row| row.get(0))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}
