//! Passes: one commit each, with its strokes and the climb it led to.

use rusqlite::{OptionalExtension as _, Row, params};
use sixrung_lesson::{Level, Tempo};
use sixrung_practice::{ClimbState, Marked, Moment, Step, UtcOffset, Verdict};

use crate::climbs;
use crate::codes;
use crate::error::JournalError;
use crate::open::Journal;
use crate::stretches::{self, StretchKey};
use crate::strokes::{Counts, Strokes};

/// Names a stored pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PassId(pub i64);

/// A pass to be kept: all of it is kept, or none.
#[derive(Clone, Debug, PartialEq)]
pub struct PassRecord {
    /// The pass.
    pub pass: PlayedPass,
    /// Its strokes; empty where nothing was listened to.
    pub strokes: Strokes,
    /// Where the climb stands after it; `None` where it belongs to none.
    pub climb: Option<ClimbState>,
}

/// A pass without its strokes.
#[derive(Clone, Debug, PartialEq)]
pub struct PlayedPass {
    /// What it was played on.
    pub key: StretchKey,
    /// Which step it was played for.
    pub step: Step,
    /// When it ended.
    pub ended: Moment,
    /// How long it was played, in milliseconds.
    pub duration_ms: u32,
    /// The tempo.
    pub tempo: Tempo,
    /// The rung the player stood on before it.
    pub rung: Option<Tempo>,
    /// The rung the player stood on after it: higher after a climb, lower after a fall.
    pub rung_after: Option<Tempo>,
    /// The outcome.
    pub verdict: Verdict,
    /// Who says so.
    pub marked: Marked,
    /// The timing window.
    pub level: Level,
    /// Faults the criterion allowed.
    pub allowed_faults: u32,
    /// What was found.
    pub counts: Counts,
    /// Median of the offsets in milliseconds, early is negative.
    pub median_offset_ms: Option<f64>,
    /// Spread of the offsets in milliseconds.
    pub spread_ms: Option<f64>,
    /// Which devices, and how their round trip was found, in words.
    pub sound: String,
}

/// What [`pass_from`] reads.
pub(crate) const COLUMNS: &str = "kind, section, first_bar, end_bar, arrangement, hash, title,
    passes.id, ended, duration_ms, tempo, rung, rung_after, verdict, reason, marked, level, allowed_faults,
    expected, in_time, early, late, missed, extra, wrong_chord, median_offset_ms, spread_ms, sound, step";
/// Where it reads from. The passes come first, in whatever order an index of theirs gives.
pub(crate) const JOINED: &str =
    "passes CROSS JOIN stretches ON stretches.id = stretch JOIN lessons ON lessons.id = lesson";

impl Journal {
    /// Keeps a pass, its strokes and its climb in one commit. Once this returns it is on the disk.
    ///
    /// # Errors
    /// When the file cannot be written; nothing of the pass is kept then.
    pub fn record(&mut self, record: &PassRecord) -> Result<PassId, JournalError> {
        let player = self.player;
        let commit = self.db.transaction()?;
        let id = insert(&commit, player, record)?;
        commit.commit()?;
        Ok(id)
    }

    /// Keeps passes that come together, in one commit: all of them or none. How many there were.
    ///
    /// # Errors
    /// When the file cannot be written; nothing of them is kept then.
    pub fn record_all(&mut self, records: impl IntoIterator<Item = PassRecord>) -> Result<u64, JournalError> {
        let player = self.player;
        let commit = self.db.transaction()?;
        let mut count = 0;
        for record in records {
            insert(&commit, player, &record)?;
            count += 1;
        }
        commit.commit()?;
        Ok(count)
    }

    /// The newest passes of a stretch, or of everything, newest first.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn recent_passes(
        &self,
        key: Option<&StretchKey>,
        limit: u32,
    ) -> Result<Vec<(PassId, PlayedPass)>, JournalError> {
        let stretch = match key.map(|key| stretches::find(&self.db, key)).transpose()? {
            Some(None) => return Ok(Vec::new()),
            found => found.flatten(),
        };
        let of_stretch = if stretch.is_some() { "AND stretch = ?2" } else { "AND ?2 IS NULL" };
        let sql = format!(
            "SELECT {COLUMNS} FROM {JOINED} WHERE player = ?1 AND deleted IS NULL {of_stretch}
             ORDER BY ended DESC, passes.id DESC LIMIT ?3"
        );
        let mut query = self.db.prepare_cached(&sql)?;
        let mut rows = query.query(params![self.player, stretch, limit])?;
        let mut passes = Vec::new();
        while let Some(row) = rows.next()? {
            passes.push(pass_from(row)?);
        }
        Ok(passes)
    }

    /// The strokes of a pass; `None` when there is no such pass.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn strokes(&self, pass: PassId) -> Result<Option<Strokes>, JournalError> {
        let mut query = self.db.prepare_cached("SELECT marks, extras FROM strokes WHERE pass = ?1")?;
        let row = query.query_row([pass.0], |row| Ok((row.get::<_, Vec<u8>>(0)?, row.get::<_, Vec<u8>>(1)?)));
        row.optional()?.map(|(marks, extras)| Strokes::from_bytes(&marks, &extras)).transpose()
    }

    /// How many passes are kept.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn count_passes(&self) -> Result<u64, JournalError> {
        let sql = "SELECT count(*) FROM passes WHERE player = ?1 AND deleted IS NULL";
        let count: i64 = self.db.query_row(sql, [self.player], |row| row.get(0))?;
        Ok(count.unsigned_abs())
    }

    /// Whole minutes played on the practice day of `now`, where local time is `zone`.
    ///
    /// # Errors
    /// When the file cannot be read.
    pub fn minutes_today(&self, now: Moment, zone: UtcOffset) -> Result<u32, JournalError> {
        let begins = now.day(zone).begins(zone);
        let sql =
            "SELECT coalesce(sum(duration_ms), 0) FROM passes WHERE player = ?1 AND deleted IS NULL AND ended >= ?2";
        let ms: i64 = self.db.prepare_cached(sql)?.query_row([self.player, begins.0], |row| row.get(0))?;
        Ok(u32::try_from(ms / 60_000).unwrap_or(u32::MAX))
    }
}

fn insert(db: &rusqlite::Connection, player: i64, record: &PassRecord) -> Result<PassId, JournalError> {
    let stretch = stretches::find_or_make(db, &record.pass.key)?;
    insert_pass(db, player, stretch, &record.pass)?;
    let id = db.last_insert_rowid();
    let (marks, extras) = record.strokes.to_bytes();
    db.prepare_cached("INSERT INTO strokes VALUES (?1, ?2, ?3)")?.execute(params![id, marks, extras])?;
    if let Some(climb) = &record.climb {
        climbs::write(db, player, stretch, climb)?;
    }
    Ok(PassId(id))
}

fn insert_pass(db: &rusqlite::Connection, player: i64, stretch: i64, pass: &PlayedPass) -> Result<(), JournalError> {
    let (verdict, reason) = codes::verdict_words(pass.verdict);
    let sql = "INSERT INTO passes (player, stretch, ended, duration_ms, tempo, rung, rung_after, verdict, reason, marked,
                   level, allowed_faults, expected, in_time, early, late, missed, extra, wrong_chord,
                   median_offset_ms, spread_ms, sound, step)
               VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18, ?19, ?20, ?21, ?22,
                       ?23)";
    db.prepare_cached(sql)?.execute(params![
        player,
        stretch,
        pass.ended.0,
        pass.duration_ms,
        pass.tempo.milli_bpm(),
        pass.rung.map(Tempo::milli_bpm),
        pass.rung_after.map(Tempo::milli_bpm),
        verdict,
        reason,
        codes::marked_word(pass.marked),
        codes::level_word(pass.level),
        pass.allowed_faults,
        pass.counts.expected,
        pass.counts.in_time,
        pass.counts.early,
        pass.counts.late,
        pass.counts.missed,
        pass.counts.extra,
        pass.counts.wrong_chord,
        pass.median_offset_ms,
        pass.spread_ms,
        pass.sound,
        codes::step_word(pass.step),
    ])?;
    Ok(())
}

pub(crate) fn pass_from(row: &Row<'_>) -> Result<(PassId, PlayedPass), JournalError> {
    let word = |column: &str| row.get::<_, String>(column);
    let rung = |column: &str| row.get::<_, Option<u32>>(column)?.map(codes::tempo).transpose();
    let pass = PlayedPass {
        key: stretches::key_from(row, 0)?,
        step: codes::step(&word("step")?)?,
        ended: Moment(row.get("ended")?),
        duration_ms: row.get("duration_ms")?,
        tempo: codes::tempo(row.get("tempo")?)?,
        rung: rung("rung")?,
        rung_after: rung("rung_after")?,
        verdict: codes::verdict(&word("verdict")?, row.get::<_, Option<String>>("reason")?.as_deref())?,
        marked: codes::marked(&word("marked")?)?,
        level: codes::level(&word("level")?)?,
        allowed_faults: row.get("allowed_faults")?,
        counts: Counts {
            expected: row.get("expected")?,
            in_time: row.get("in_time")?,
            early: row.get("early")?,
            late: row.get("late")?,
            missed: row.get("missed")?,
            extra: row.get("extra")?,
            wrong_chord: row.get("wrong_chord")?,
        },
        median_offset_ms: row.get("median_offset_ms")?,
        spread_ms: row.get("spread_ms")?,
        sound: word("sound")?,
    };
    Ok((PassId(row.get("id")?), pass))
}
