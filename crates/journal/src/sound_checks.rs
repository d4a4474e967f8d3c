//! What a sound check found, for each pair of devices.

use rusqlite::{OptionalExtension as _, params};
use sixrung_practice::{Moment, Reason};

use crate::codes::{reason, reason_word};
use crate::error::JournalError;
use crate::open::Journal;
use crate::round_trips::DevicePair;

/// A sound check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SoundCheck {
    /// What stood in the way; empty when nothing did.
    pub found: Vec<Reason>,
    /// Whether the player goes on regardless.
    pub overruled: bool,
    /// When.
    pub at: Moment,
}

/// Between two words.
const BETWEEN: char = ' ';

impl Journal {
    /// The last sound check of this pair.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn sound_check(&self, pair: &DevicePair) -> Result<Option<SoundCheck>, JournalError> {
        let sql = "SELECT found, overruled, at FROM sound_checks
                   WHERE output = ?1 AND input = ?2 AND rate_hz = ?3 AND buffer_frames = ?4";
        let mut query = self.db.prepare_cached(sql)?;
        let found = query.query_row(params![pair.output, pair.input, pair.rate_hz, pair.buffer_frames], |row| {
            Ok((row.get::<_, String>(0)?, row.get(1)?, Moment(row.get(2)?)))
        });
        let Some((words, overruled, at)) = found.optional()? else { return Ok(None) };
        let found = words.split(BETWEEN).filter(|word| !word.is_empty()).map(reason).collect::<Result<_, _>>()?;
        Ok(Some(SoundCheck { found, overruled, at }))
    }

    /// Keeps a sound check of this pair in place of any before.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn set_sound_check(&self, pair: &DevicePair, check: &SoundCheck) -> Result<(), JournalError> {
        let sql = "INSERT OR REPLACE INTO sound_checks VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)";
        self.db.prepare_cached(sql)?.execute(params![
            pair.output,
            pair.input,
            pair.rate_hz,
            pair.buffer_frames,
            check.found.iter().map(|found| reason_word(*found)).collect::<Vec<_>>().join(&BETWEEN.to_string()),
            check.overruled,
            check.at.0,
        ])?;
        Ok(())
    }
}
