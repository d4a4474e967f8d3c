//! The journal as tables for other programs: numbers and names, no sound, no path, no device.

mod csv;
mod json;

use std::fs::File;
use std::io::{self, BufWriter, Write};
use std::path::Path;

use rusqlite::Row;
use rusqlite::types::ValueRef;

use crate::backup::{remove_if_there, settle};
use crate::error::JournalError;
use crate::open::Journal;

/// What none of the tables holds.
pub const LEFT_OUT: [&str; 4] =
    ["the strokes of each pass", "sound devices and their round trips", "what the ear learned", "settings"];

/// One file to write.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Table {
    /// The passes, one a line, comma-separated (RFC 4180).
    PassesCsv,
    /// The changes of chord, one a line, comma-separated (RFC 4180).
    ChangesCsv,
    /// Passes, changes, rungs, steps and how the hands felt in one JSON text (RFC 8259).
    Json,
}

/// A question whose columns are named as they are to be written.
struct Query {
    name: &'static str,
    sql: &'static str,
}

/// Moments as dates and times in UTC (ISO 8601), tempi in beats a minute, so that a table can be read by itself.
const PASSES: Query = Query {
    name: "passes",
    sql: "SELECT strftime('%Y-%m-%dT%H:%M:%SZ', ended, 'unixepoch') AS ended, title AS lesson,
                 printf('%016x', hash) AS lesson_hash, kind AS stretch, section,
                 CASE kind WHEN 'bars' THEN first_bar + 1 END AS first_bar,
                 CASE kind WHEN 'bars' THEN end_bar END AS last_bar,
                 arrangement, step, duration_ms / 1000.0 AS seconds, tempo / 1000.0 AS bpm,
                 rung_after / 1000.0 AS rung_after_bpm, verdict, reason, marked, level, allowed_faults, expected,
                 in_time, early, late, missed, extra, wrong_chord, round(median_offset_ms, 1) AS median_offset_ms,
                 round(spread_ms, 1) AS spread_ms
          FROM passes CROSS JOIN stretches ON stretches.id = stretch JOIN lessons ON lessons.id = lesson
          WHERE player = ?1 AND deleted IS NULL ORDER BY passes.ended, passes.id",
};

const CHANGES: Query = Query {
    name: "changes",
    sql: "SELECT strftime('%Y-%m-%dT%H:%M:%SZ', at, 'unixepoch') AS at, from_frets, to_frets, capo,
                 took_ms / 1000.0 AS seconds, botched
          FROM changes WHERE player = ?1 ORDER BY changes.at, id",
};

const RUNGS: Query = Query {
    name: "rungs",
    sql: "SELECT title AS lesson, kind AS stretch, section, arrangement, tempo / 1000.0 AS bpm, known AS climbed,
                 strftime('%Y-%m-%dT%H:%M:%SZ', last_played, 'unixepoch') AS last_played,
                 strftime('%Y-%m-%dT%H:%M:%SZ', held_at, 'unixepoch') AS held_since, held_marked
          FROM rungs JOIN stretches ON stretches.id = stretch JOIN lessons ON lessons.id = lesson
          WHERE player = ?1 ORDER BY title, section, first_bar, end_bar, arrangement, tempo",
};

const STEPS: Query = Query {
    name: "steps",
    sql: "SELECT title AS lesson, kind AS stretch, section, arrangement, step, how,
                 strftime('%Y-%m-%dT%H:%M:%SZ', at, 'unixepoch') AS at
          FROM steps JOIN stretches ON stretches.id = stretch JOIN lessons ON lessons.id = lesson
          WHERE player = ?1 ORDER BY title, section, first_bar, end_bar, arrangement, steps.at",
};

const HANDS: Query = Query {
    name: "hands",
    sql: "SELECT strftime('%Y-%m-%dT%H:%M:%SZ', at, 'unixepoch') AS at, felt FROM care
          WHERE player = ?1 ORDER BY care.at, id",
};

impl Journal {
    /// Writes one table of the player whose turn it is.
    ///
    /// # Errors
    /// When the journal cannot be read, or `out` not be written.
    pub fn export(&self, table: Table, out: &mut impl Write) -> Result<(), JournalError> {
        match table {
            Table::PassesCsv => csv::write(self, &PASSES, out),
            Table::ChangesCsv => csv::write(self, &CHANGES, out),
            Table::Json => json::write(self, &[PASSES, CHANGES, RUNGS, STEPS, HANDS], out),
        }
    }

    /// Writes one table into a file: whole, or not at all.
    ///
    /// # Errors
    /// When the journal cannot be read, or the file not be written.
    pub fn export_to(&self, table: Table, path: &Path) -> Result<(), JournalError> {
        let unfinished = path.with_extension("unfinished");
        let written = self.export_whole(table, &unfinished).and_then(|()| settle(&unfinished, path));
        if written.is_err() {
            // What is left of it is nobody's; the error that stopped it is told.
            drop(remove_if_there(&unfinished));
        }
        written
    }

    fn export_whole(&self, table: Table, path: &Path) -> Result<(), JournalError> {
        let failed = |error: io::Error| JournalError::io(path, &error);
        let mut out = BufWriter::new(File::create(path).map_err(failed)?);
        self.export(table, &mut out)?;
        out.flush().map_err(failed)
    }

    /// The names of a question's columns, then each of its rows.
    fn each_row(
        &self,
        query: &Query,
        mut row: impl FnMut(&[String], &Row<'_>) -> Result<(), JournalError>,
    ) -> Result<Vec<String>, JournalError> {
        let mut prepared = self.db.prepare(query.sql)?;
        let names: Vec<String> = prepared.column_names().map(str::to_owned).collect();
        let mut rows = prepared.query([self.player])?;
        while let Some(next) = rows.next()? {
            row(&names, next)?;
        }
        Ok(names)
    }
}

/// Where the text of a column goes wrong: only a damaged file holds what is no text.
fn text<'a>(value: ValueRef<'a>) -> Result<&'a str, JournalError> {
    value.as_str().map_err(|error| JournalError::damaged(error.to_string()))
}

fn unwritten(error: &io::Error) -> JournalError {
    JournalError::io(Path::new("the table"), error)
}
