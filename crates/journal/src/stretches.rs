//! What is practised: a stretch of a lesson in one arrangement.

use rusqlite::{Connection, OptionalExtension as _, Row, params};
use sixrung_lesson::Stretch;

use crate::error::JournalError;

/// A lesson as the journal knows it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct LessonRef {
    /// Hash of its text: another text, another lesson.
    pub hash: u64,
    /// Title as printed.
    pub title: String,
}

/// What a pass was played on and a climb belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct StretchKey {
    /// The lesson.
    pub lesson: LessonRef,
    /// The stretch of it.
    pub stretch: Stretch,
    /// Name of the arrangement.
    pub arrangement: String,
}

/// A stretch in columns: kind, section, first bar, end bar.
pub(crate) fn columns(stretch: &Stretch) -> (&'static str, &str, u32, u32) {
    match stretch {
        Stretch::Whole => ("whole", "", 0, 0),
        Stretch::Section(section) => ("section", section, 0, 0),
        Stretch::Bars { section, first, end } => ("bars", section, *first, *end),
    }
}

/// The columns `kind, section, first_bar, end_bar, arrangement, hash, title`, from `at` on.
pub(crate) fn key_from(row: &Row<'_>, at: usize) -> rusqlite::Result<StretchKey> {
    let section = row.get::<_, String>(at + 1)?;
    let stretch = match row.get::<_, String>(at)?.as_str() {
        "whole" => Stretch::Whole,
        "section" => Stretch::Section(section),
        _ => Stretch::Bars { section, first: row.get(at + 2)?, end: row.get(at + 3)? },
    };
    let lesson = LessonRef { hash: row.get::<_, i64>(at + 5)?.cast_unsigned(), title: row.get(at + 6)? };
    Ok(StretchKey { lesson, stretch, arrangement: row.get(at + 4)? })
}

/// The stretch's row, if it was ever practised.
pub(crate) fn find(db: &Connection, key: &StretchKey) -> Result<Option<i64>, JournalError> {
    let (kind, section, first, end) = columns(&key.stretch);
    let sql = "SELECT stretches.id FROM stretches JOIN lessons ON lessons.id = lesson
               WHERE hash = ?1 AND kind = ?2 AND section = ?3 AND first_bar = ?4 AND end_bar = ?5 AND arrangement = ?6";
    let values = params![key.lesson.hash.cast_signed(), kind, section, first, end, key.arrangement];
    Ok(db.prepare_cached(sql)?.query_row(values, |row| row.get(0)).optional()?)
}

/// The stretch's row, made when missing.
pub(crate) fn find_or_make(db: &Connection, key: &StretchKey) -> Result<i64, JournalError> {
    if let Some(found) = find(db, key)? {
        return Ok(found);
    }
    let hash = key.lesson.hash.cast_signed();
    db.prepare_cached("INSERT INTO lessons (hash, title) VALUES (?1, ?2) ON CONFLICT DO NOTHING")?
        .execute(params![hash, key.lesson.title])?;
    let (kind, section, first, end) = columns(&key.stretch);
    let sql = "INSERT INTO stretches (lesson, kind, section, first_bar, end_bar, arrangement)
               SELECT id, ?2, ?3, ?4, ?5, ?6 FROM lessons WHERE hash = ?1";
    db.prepare_cached(sql)?.execute(params![hash, kind, section, first, end, key.arrangement])?;
    Ok(db.last_insert_rowid())
}

/// The row a climb goes on from: this stretch's own, else that of the lesson of the same title practised last, so
/// that a corrected word in a lesson does not send its learners back to the first rung.
pub(crate) fn find_climb(db: &Connection, player: i64, key: &StretchKey) -> Result<Option<i64>, JournalError> {
    let (kind, section, first, end) = columns(&key.stretch);
    let sql = "SELECT climbs.stretch FROM climbs
               JOIN stretches ON stretches.id = climbs.stretch JOIN lessons ON lessons.id = lesson
               WHERE player = ?1 AND (hash = ?2 OR title = ?3)
                 AND kind = ?4 AND section = ?5 AND first_bar = ?6 AND end_bar = ?7 AND arrangement = ?8
               ORDER BY hash = ?2 DESC, last_pass DESC, climbs.stretch DESC LIMIT 1";
    let hash = key.lesson.hash.cast_signed();
    let values = params![player, hash, key.lesson.title, kind, section, first, end, key.arrangement];
    Ok(db.prepare_cached(sql)?.query_row(values, |row| row.get(0)).optional()?)
}

/// A row of a stretch, or of a loop within it.
pub(crate) struct Found {
    pub(crate) id: i64,
    /// Whether it is a loop of a few bars of what was asked for.
    pub(crate) is_loop: bool,
    /// The bar of the section it begins on.
    pub(crate) first_bar: u32,
}

/// The rows of this stretch: its own, and those of other texts of the lesson, told by its title.
pub(crate) fn same(db: &Connection, key: &StretchKey) -> Result<Vec<i64>, JournalError> {
    let found = with_loops(db, key)?;
    Ok(found.into_iter().filter(|found| !found.is_loop).map(|found| found.id).collect())
}

/// The same, and of a section the loops within it too.
pub(crate) fn with_loops(db: &Connection, key: &StretchKey) -> Result<Vec<Found>, JournalError> {
    let (kind, section, first, end) = columns(&key.stretch);
    let sql = "SELECT stretches.id, kind <> ?3, first_bar FROM stretches JOIN lessons ON lessons.id = lesson
               WHERE (hash = ?1 OR title = ?2) AND section = ?4 AND arrangement = ?7
                 AND ((kind = ?3 AND first_bar = ?5 AND end_bar = ?6) OR (?3 = 'section' AND kind = 'bars'))
               ORDER BY stretches.id";
    let hash = key.lesson.hash.cast_signed();
    let values = params![hash, key.lesson.title, kind, section, first, end, key.arrangement];
    let mut query = db.prepare_cached(sql)?;
    let rows =
        query.query_map(values, |row| Ok(Found { id: row.get(0)?, is_loop: row.get(1)?, first_bar: row.get(2)? }))?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The rows of all stretches of a lesson, told by its title.
pub(crate) fn of_lesson(db: &Connection, title: &str) -> Result<Vec<i64>, JournalError> {
    let sql = "SELECT stretches.id FROM stretches JOIN lessons ON lessons.id = lesson WHERE title = ?1";
    let mut query = db.prepare_cached(sql)?;
    let rows = query.query_map([title], |row| row.get(0))?;
    Ok(rows.collect::<Result<_, _>>()?)
}
