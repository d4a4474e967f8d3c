//! Settings: words under names, whatever they mean to whoever sets them.

use std::collections::BTreeMap;

use rusqlite::OptionalExtension as _;

use crate::error::JournalError;
use crate::open::Journal;

impl Journal {
    /// The setting of this name.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn setting(&self, key: &str) -> Result<Option<String>, JournalError> {
        let mut query = self.db.prepare_cached("SELECT value FROM settings WHERE key = ?1")?;
        Ok(query.query_row([key], |row| row.get(0)).optional()?)
    }

    /// All settings.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn settings(&self) -> Result<BTreeMap<String, String>, JournalError> {
        let mut query = self.db.prepare_cached("SELECT key, value FROM settings")?;
        let rows = query.query_map([], |row| Ok((row.get(0)?, row.get(1)?)))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Sets one.
    ///
    /// # Errors
    /// When the file cannot be written; the old value stays.
    pub fn set(&self, key: &str, value: &str) -> Result<(), JournalError> {
        let sql = "INSERT INTO settings (key, value) VALUES (?1, ?2) ON CONFLICT DO UPDATE SET value = excluded.value";
        self.db.prepare_cached(sql)?.execute([key, value])?;
        Ok(())
    }
}
