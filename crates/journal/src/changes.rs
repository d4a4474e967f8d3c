//! How long changes from chord to chord took, one by one.

use rusqlite::{Connection, params};
use sixrung_practice::Moment;

use crate::error::JournalError;
use crate::open::Journal;

/// A change of chord, whichever lesson asks for it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct ChangePair {
    /// The frets of the shape it leaves, as a lesson writes them, from the capo.
    pub from: String,
    /// Those of the shape it comes to.
    pub to: String,
    /// The capo's fret, 0 for none.
    pub capo: u8,
}

/// A change as it was played.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlayedChange {
    /// From which shape to which.
    pub pair: ChangePair,
    /// From the last stroke of the old chord to the first clean one of the new, in milliseconds.
    pub took_ms: u32,
    /// Strokes between that sounded neither.
    pub botched: u32,
    /// When.
    pub at: Moment,
}

impl Journal {
    /// Keeps a change.
    ///
    /// # Errors
    /// When the file cannot be written.
    pub fn record_change(&self, change: &PlayedChange) -> Result<(), JournalError> {
        insert(&self.db, self.player, change)
    }

    /// Keeps changes that come together, in one commit: all of them or none.
    ///
    /// # Errors
    /// When the file cannot be written; nothing of them is kept then.
    pub fn record_changes(&mut self, changes: impl IntoIterator<Item = PlayedChange>) -> Result<(), JournalError> {
        let player = self.player;
        let commit = self.db.transaction()?;
        changes.into_iter().try_for_each(|change| insert(&commit, player, &change))?;
        Ok(commit.commit()?)
    }

    /// The newest changes, newest first, of one pair or of all.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn recent_changes(&self, pair: Option<&ChangePair>, limit: u32) -> Result<Vec<PlayedChange>, JournalError> {
        let sql = "SELECT from_frets, to_frets, capo, took_ms, botched, at FROM changes
                   WHERE player = ?1 AND (?2 IS NULL OR (from_frets = ?2 AND to_frets = ?3 AND capo = ?4))
                   ORDER BY at DESC, id DESC LIMIT ?5";
        let (from, to) = (pair.map(|pair| &pair.from), pair.map(|pair| &pair.to));
        let capo = pair.map_or(0, |pair| pair.capo);
        let mut query = self.db.prepare_cached(sql)?;
        let rows = query.query_map(params![self.player, from, to, capo, limit], |row| {
            Ok(PlayedChange {
                pair: ChangePair { from: row.get(0)?, to: row.get(1)?, capo: row.get(2)? },
                took_ms: row.get(3)?,
                botched: row.get(4)?,
                at: Moment(row.get(5)?),
            })
        })?;
        Ok(rows.collect::<Result<_, _>>()?)
    }
}

fn insert(db: &Connection, player: i64, change: &PlayedChange) -> Result<(), JournalError> {
    let sql = "INSERT INTO changes (player, from_frets, to_frets, capo, took_ms, botched, at)
               VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)";
    let PlayedChange { pair, took_ms, botched, at } = change;
    db.prepare_cached(sql)?.execute(params![player, pair.from, pair.to, pair.capo, took_ms, botched, at.0])?;
    Ok(())
}
