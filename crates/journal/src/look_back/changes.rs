//! How long each change of chord took, day by day.

use std::collections::BTreeMap;

use rusqlite::params;
use sixrung_practice::{Day, Moment, UtcOffset};

use super::{begins, median};
use crate::changes::ChangePair;
use crate::error::JournalError;
use crate::open::Journal;

/// A change of chord over time.
#[derive(Clone, Debug, PartialEq)]
pub struct ChangeHistory {
    /// From which shape to which.
    pub pair: ChangePair,
    /// Days in order, those on which it was not drilled left out.
    pub days: Vec<ChangeDay>,
}

/// A change of chord on one practice day.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChangeDay {
    /// The day.
    pub day: Day,
    /// How often it was drilled.
    pub times: u32,
    /// The median of how long it took, in milliseconds.
    pub median_ms: f64,
}

impl Journal {
    /// How long a change took day by day, from `since` on.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn change_history(
        &self,
        pair: &ChangePair,
        since: Option<Day>,
        zone: UtcOffset,
    ) -> Result<ChangeHistory, JournalError> {
        let sql = "SELECT at, took_ms FROM changes
                   WHERE player = ?1 AND from_frets = ?2 AND to_frets = ?3 AND capo = ?4 AND at >= ?5 ORDER BY at";
        let mut query = self.db.prepare_cached(sql)?;
        let mut rows = query.query(params![self.player, pair.from, pair.to, pair.capo, begins(since, zone)])?;
        let mut days = BTreeMap::<Day, Vec<f64>>::new();
        while let Some(row) = rows.next()? {
            days.entry(Moment(row.get(0)?).day(zone)).or_default().push(f64::from(row.get::<_, u32>(1)?));
        }
        let day = |(day, mut took_ms): (Day, Vec<f64>)| {
            let times = u32::try_from(took_ms.len()).unwrap_or(u32::MAX);
            Some(ChangeDay { day, times, median_ms: median(&mut took_ms)? })
        };
        Ok(ChangeHistory { pair: pair.clone(), days: days.into_iter().filter_map(day).collect() })
    }
}
