//! Where each climb stands.

use std::collections::BTreeMap;

use rusqlite::{Connection, OptionalExtension as _, Row, params};
use sixrung_lesson::Tempo;
use sixrung_practice::{ClimbState, Held, Moment, RungRecord, Tally, TopOfDay};

use crate::codes;
use crate::error::JournalError;
use crate::open::Journal;
use crate::stretches::{self, StretchKey};

impl Journal {
    /// Where the climb of this stretch stands; `None` when it was never begun.
    ///
    /// A lesson whose text has changed goes on from the climb of the one of the same title.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn climb(&self, key: &StretchKey) -> Result<Option<ClimbState>, JournalError> {
        let Some(stretch) = stretches::find_climb(&self.db, self.player, key)? else { return Ok(None) };
        let sql = "SELECT at, mode, pegs, not_clean, half_rungs, offered, last_pass, stepped_back, tally_passes,
                          tally_falls, recent, top_clean, top_arrived_after
                   FROM climbs WHERE player = ?1 AND stretch = ?2";
        let stored = self
            .db
            .prepare_cached(sql)?
            .query_row([self.player, stretch], |row| StoredClimb::try_from(row))
            .optional()?;
        let Some(stored) = stored else { return Ok(None) };
        stored.into_state(rungs(&self.db, self.player, stretch)?).map(Some)
    }

    /// Keeps where a climb stands when it moved without a pass: by hand, or on a new day.
    ///
    /// # Errors
    /// When the file cannot be written; the old state stays.
    pub fn set_climb(&mut self, key: &StretchKey, state: &ClimbState) -> Result<(), JournalError> {
        let player = self.player;
        let commit = self.db.transaction()?;
        let stretch = stretches::find_or_make(&commit, key)?;
        write(&commit, player, stretch, state)?;
        Ok(commit.commit()?)
    }
}

pub(crate) fn write(db: &Connection, player: i64, stretch: i64, state: &ClimbState) -> Result<(), JournalError> {
    let half_rungs: Vec<String> = state.half_rungs.iter().map(|rung| rung.milli_bpm().to_string()).collect();
    let recent: String = state.tally.recent.iter().map(|clean| if *clean { 'c' } else { 'n' }).collect();
    // Its rungs go with the old row.
    db.prepare_cached("DELETE FROM climbs WHERE player = ?1 AND stretch = ?2")?.execute([player, stretch])?;
    let sql = "INSERT INTO climbs VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15)";
    db.prepare_cached(sql)?.execute(params![
        player,
        stretch,
        state.at.milli_bpm(),
        codes::mode_word(state.mode),
        state.pegs,
        state.not_clean,
        half_rungs.join(" "),
        state.offered.map(Tempo::milli_bpm),
        state.last_pass.map(|moment| moment.0),
        state.stepped_back,
        state.tally.passes,
        state.tally.falls,
        recent,
        state.top.clean,
        state.top.arrived_after,
    ])?;
    let mut insert = db.prepare_cached("INSERT INTO rungs VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)")?;
    for (tempo, record) in &state.rungs {
        insert.execute(params![
            player,
            stretch,
            tempo.milli_bpm(),
            record.last_played.0,
            record.known,
            record.falls,
            record.held.map(|held| held.at.0),
            record.held.map(|held| codes::marked_word(held.marked)),
        ])?;
    }
    Ok(())
}

fn rungs(db: &Connection, player: i64, stretch: i64) -> Result<BTreeMap<Tempo, RungRecord>, JournalError> {
    let sql = "SELECT tempo, last_played, known, falls, held_at, held_marked FROM rungs
               WHERE player = ?1 AND stretch = ?2";
    let mut query = db.prepare_cached(sql)?;
    let mut rows = query.query([player, stretch])?;
    let mut rungs = BTreeMap::new();
    while let Some(row) = rows.next()? {
        let held = match (row.get::<_, Option<i64>>(4)?, row.get::<_, Option<String>>(5)?) {
            (Some(at), Some(word)) => Some(Held { at: Moment(at), marked: codes::marked(&word)? }),
            _ => None,
        };
        let record = RungRecord { last_played: Moment(row.get(1)?), known: row.get(2)?, falls: row.get(3)?, held };
        rungs.insert(codes::tempo(row.get(0)?)?, record);
    }
    Ok(rungs)
}

/// A row of `climbs`, its words and tempi not yet read.
struct StoredClimb {
    at: u32,
    mode: String,
    pegs: u8,
    not_clean: u8,
    half_rungs: String,
    offered: Option<u32>,
    last_pass: Option<i64>,
    stepped_back: bool,
    passes: u8,
    falls: u8,
    recent: String,
    top: TopOfDay,
}

impl TryFrom<&Row<'_>> for StoredClimb {
    type Error = rusqlite::Error;

    fn try_from(row: &Row<'_>) -> Result<Self, Self::Error> {
        Ok(Self {
            at: row.get(0)?,
            mode: row.get(1)?,
            pegs: row.get(2)?,
            not_clean: row.get(3)?,
            half_rungs: row.get(4)?,
            offered: row.get(5)?,
            last_pass: row.get(6)?,
            stepped_back: row.get(7)?,
            passes: row.get(8)?,
            falls: row.get(9)?,
            recent: row.get(10)?,
            top: TopOfDay { clean: row.get(11)?, arrived_after: row.get(12)? },
        })
    }
}

impl StoredClimb {
    fn into_state(self, rungs: BTreeMap<Tempo, RungRecord>) -> Result<ClimbState, JournalError> {
        let half_rung = |word: &str| {
            let milli = word.parse().map_err(|_| JournalError::damaged(format!("no such half-rung: {word}")))?;
            codes::tempo(milli)
        };
        Ok(ClimbState {
            at: codes::tempo(self.at)?,
            mode: codes::mode(&self.mode)?,
            pegs: self.pegs,
            not_clean: self.not_clean,
            half_rungs: self.half_rungs.split_whitespace().map(half_rung).collect::<Result<_, _>>()?,
            offered: self.offered.map(codes::tempo).transpose()?,
            rungs,
            last_pass: self.last_pass.map(Moment),
            stepped_back: self.stepped_back,
            tally: Tally {
                passes: self.passes,
                falls: self.falls,
                recent: self.recent.chars().map(|mark| mark == 'c').collect(),
            },
            top: self.top,
        })
    }
}
