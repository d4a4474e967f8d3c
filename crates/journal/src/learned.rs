//! What the ear learned of the player's shapes and strokes, guitar by guitar.

use rusqlite::{OptionalExtension as _, params};
use sixrung_practice::Moment;

use crate::error::JournalError;
use crate::open::Journal;

/// What something learned belongs to. The player is the journal's own. In the file the last part stands in the column
/// `lesson`, from when it was kept lesson by lesson.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct LearnedKey {
    /// The guitar, as the player calls it.
    pub guitar: String,
    /// What was learned, by any name its owner tells it apart by: a shape, the directions of strokes.
    pub what: String,
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
            query.query_row(params![self.player, key.guitar, key.what], |row| Ok((row.get(0)?, Moment(row.get(1)?))));
        Ok(found.optional()?)
    }

    /// Keeps it in place of any before.
    ///
    /// # Errors
    /// When the file cannot be written; what was kept before stays.
    pub fn set_learned(&self, key: &LearnedKey, value: &str, at: Moment) -> Result<(), JournalError> {
        let sql = "INSERT OR REPLACE INTO learned (player, guitar, lesson, value, at) VALUES (?1, ?2, ?3, ?4, ?5)";
        self.db.prepare_cached(sql)?.execute(params![self.player, key.guitar, key.what, value, at.0])?;
        Ok(())
    }

    /// Forgets it.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn forget_learned(&self, key: &LearnedKey) -> Result<(), JournalError> {
        let sql = "DELETE FROM learned WHERE player = ?1 AND guitar = ?2 AND lesson = ?3";
        self.db.prepare_cached(sql)?.execute(params![self.player, key.guitar, key.what])?;
        Ok(())
    }

    /// All that was learned of a guitar: what, in whatever form it was kept, and when.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn all_learned(&self, guitar: &str) -> Result<Vec<(String, String, Moment)>, JournalError> {
        let sql = "SELECT lesson, value, at FROM learned WHERE player = ?1 AND guitar = ?2 ORDER BY lesson";
        let mut query = self.db.prepare_cached(sql)?;
        let row = |row: &rusqlite::Row<'_>| Ok((row.get(0)?, row.get(1)?, Moment(row.get(2)?)));
        let rows = query.query_map(params![self.player, guitar], row)?;
        Ok(rows.collect::<Result<_, _>>()?)
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
