//! Several players on one machine: each has passes, climbs, steps and changes of chord of their own; devices, what was
//! measured of them, and settings belong to all.

use rusqlite::{Connection, OptionalExtension as _, params};

use crate::error::JournalError;
use crate::open::Journal;

/// The setting that says whose turn it is.
const CHOSEN: &str = "player";
/// A name no longer than a line: a design choice of ours.
const LONGEST_NAME: usize = 60;

/// Names a player.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PlayerId(pub i64);

/// Someone who plays.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Player {
    /// Which.
    pub id: PlayerId,
    /// What they are called.
    pub name: String,
}

impl Journal {
    /// Everyone, in the order they came.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn players(&self) -> Result<Vec<Player>, JournalError> {
        let mut query = self.db.prepare_cached("SELECT id, name FROM players ORDER BY id")?;
        let rows = query.query_map([], |row| Ok(Player { id: PlayerId(row.get(0)?), name: row.get(1)? }))?;
        Ok(rows.collect::<Result<_, _>>()?)
    }

    /// Whose passes are kept and read now.
    #[must_use]
    pub const fn player(&self) -> PlayerId {
        PlayerId(self.player)
    }

    /// Someone new, who is not yet chosen.
    ///
    /// # Errors
    /// When the name is empty, too long or taken, or the file cannot be written.
    pub fn add_player(&mut self, name: &str) -> Result<PlayerId, JournalError> {
        let name = self.free_name(name, None)?;
        self.db.prepare_cached("INSERT INTO players (name) VALUES (?1)")?.execute([name])?;
        Ok(PlayerId(self.db.last_insert_rowid()))
    }

    /// Calls a player otherwise.
    ///
    /// # Errors
    /// When the name is empty, too long or taken, there is no such player, or the file cannot be written.
    pub fn rename_player(&mut self, player: PlayerId, name: &str) -> Result<(), JournalError> {
        let name = self.free_name(name, Some(player))?;
        let sql = "UPDATE players SET name = ?1 WHERE id = ?2";
        match self.db.prepare_cached(sql)?.execute(params![name, player.0])? {
            0 => Err(JournalError::NoSuchPlayer),
            _ => Ok(()),
        }
    }

    /// From now on passes are kept and read of this player, also after the next opening.
    ///
    /// # Errors
    /// When there is no such player, or the file cannot be written; the one before stays then.
    pub fn choose_player(&mut self, player: PlayerId) -> Result<(), JournalError> {
        if !self.players()?.iter().any(|known| known.id == player) {
            return Err(JournalError::NoSuchPlayer);
        }
        self.set(CHOSEN, &player.0.to_string())?;
        self.player = player.0;
        Ok(())
    }

    fn free_name(&self, name: &str, but: Option<PlayerId>) -> Result<String, JournalError> {
        let name = name.trim();
        if name.is_empty() || name.chars().count() > LONGEST_NAME {
            return Err(JournalError::BadName { why: format!("a name has 1 to {LONGEST_NAME} letters") });
        }
        let taken = |known: &Player| known.name.to_lowercase() == name.to_lowercase() && Some(known.id) != but;
        if self.players()?.iter().any(taken) {
            return Err(JournalError::BadName { why: format!("there is a player called {name}") });
        }
        Ok(name.to_owned())
    }
}

/// Whose turn it is: the one chosen last, else the first.
pub(crate) fn chosen(db: &Connection) -> Result<i64, JournalError> {
    let sql = "SELECT players.id FROM players JOIN settings ON settings.key = ?1 AND settings.value = players.id";
    let chosen = db.query_row(sql, [CHOSEN], |row| row.get(0)).optional()?;
    chosen.map_or_else(|| Ok(db.query_row("SELECT min(id) FROM players", [], |row| row.get(0))?), Ok)
}
