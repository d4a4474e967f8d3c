//! What a report asks of the journal beside passes and changes: how the hands felt since a day, and how the sound was
//! measured.

use rusqlite::{OptionalExtension as _, params};
use sixrung_practice::{Felt, Moment};

use crate::codes;
use crate::error::JournalError;
use crate::open::Journal;
use crate::round_trips::{RoundTrip, measured_how};

impl Journal {
    /// The answers to the question whether anything hurts since `from`, oldest first.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn felt_since(&self, from: Moment) -> Result<Vec<(Felt, Moment)>, JournalError> {
        let sql = "SELECT felt, at FROM care WHERE player = ?1 AND at >= ?2 ORDER BY at, id";
        let mut query = self.db.prepare_cached(sql)?;
        let mut rows = query.query(params![self.player, from.0])?;
        let mut answers = Vec::new();
        while let Some(row) = rows.next()? {
            answers.push((codes::felt(&row.get::<_, String>(0)?)?, Moment(row.get(1)?)));
        }
        Ok(answers)
    }

    /// The round trip that was measured last, of whatever pair of devices, not after `until`.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn newest_round_trip(&self, until: Moment) -> Result<Option<RoundTrip>, JournalError> {
        let sql = "SELECT ms, spread_ms, how, measured FROM round_trips WHERE measured <= ?1
                   ORDER BY measured DESC, output, input LIMIT 1";
        let mut query = self.db.prepare_cached(sql)?;
        let row = query
            .query_row([until.0], |row| Ok((row.get(0)?, row.get(1)?, row.get::<_, String>(2)?, row.get(3)?)))
            .optional()?;
        let Some((ms, spread_ms, how, measured)) = row else { return Ok(None) };
        Ok(Some(RoundTrip { ms, spread_ms, how: measured_how(&how)?, measured: Moment(measured) }))
    }
}
