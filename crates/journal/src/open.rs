//! Opening the file: made when missing, restored when damaged, refused when newer.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OptionalExtension as _};
use sixrung_practice::Day;

use crate::backup::Backups;
use crate::error::JournalError;
use crate::players;
use crate::schema;

/// How long a write waits for another program to let go of the file.
const BUSY_TIMEOUT: Duration = Duration::from_secs(2);

/// A file up to this size is checked whole before it is used: reading so much takes some hundredths of a second, and it
/// holds some thousand passes. Of a larger one everything but the passes themselves is; the rest is checked while it is
/// used already. A design choice of ours.
const CHECKED_AT_ONCE: u64 = 4 << 20;

/// The file of the players' memory.
#[derive(Debug)]
pub struct Journal {
    pub(crate) db: Connection,
    pub(crate) player: i64,
    pub(crate) path: PathBuf,
    pub(crate) backups: Backups,
    /// Whether all of the file was checked when it was opened.
    pub(crate) checked: bool,
}

/// How much of a file is checked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Depth {
    /// Every page.
    Whole,
    /// What practice goes on from: all tables but those that grow with every pass.
    Standing,
}

/// A journal, and what is to be told about it.
#[derive(Debug)]
pub struct Opened {
    /// The journal.
    pub journal: Journal,
    /// What happened on opening; mostly nothing.
    pub notices: Vec<Notice>,
}

/// Something that happened on opening.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Notice {
    /// The file was damaged; it was renamed, and a backup taken in its place.
    Restored {
        /// Where the damaged file is now.
        damaged: PathBuf,
        /// The backup taken; `None` when there was none and the journal begins anew.
        backup: Option<PathBuf>,
    },
    /// The file was brought to a newer form; the old one is kept.
    Migrated {
        /// The old form.
        from: i64,
        /// A copy of the file as it was.
        backup: PathBuf,
    },
}

impl Journal {
    /// Opens the journal at `path`, making it and its folder when missing.
    ///
    /// `today` names backups: the first opening of a day keeps a copy of the file in a folder beside it.
    ///
    /// # Errors
    /// When the file can be neither read, made nor restored, is locked, belongs to another program or to a newer
    /// version of this one. A file refused is left as it is.
    pub fn open(path: &Path, today: Day) -> Result<Opened, JournalError> {
        Self::open_checking(path, today, CHECKED_AT_ONCE)
    }

    pub(crate) fn open_checking(path: &Path, today: Day, at_once: u64) -> Result<Opened, JournalError> {
        let backups = Backups::beside(path);
        let mut notices = Vec::new();
        let folder = path.parent().unwrap_or(Path::new(""));
        if !folder.as_os_str().is_empty() {
            fs::create_dir_all(folder).map_err(|error| JournalError::io(folder, &error))?;
        }
        let is_small = fs::metadata(path).map_or(true, |file| file.len() <= at_once);
        let mut depth = if is_small { Depth::Whole } else { Depth::Standing };
        let db = match connect(path, depth) {
            Err(JournalError::Damaged { .. }) => {
                notices.push(backups.restore(path, today)?);
                depth = Depth::Whole;
                connect(path, depth)
            }
            other => other,
        };
        let mut db = db?;
        let from = schema::form(&db)?;
        if from > 0 && from < schema::CURRENT {
            let backup = backups.make(&db, &format!("{}-form{from}", backups.name_of(today)))?;
            notices.push(Notice::Migrated { from, backup });
        }
        schema::migrate(&mut db).map_err(|error| at(path, error))?;
        let player = players::chosen(&db)?;
        let journal = Self { db, player, path: path.to_owned(), backups, checked: depth == Depth::Whole };
        Ok(Opened { journal, notices })
    }

    /// Keeps a copy of the file as it is now, unless `today` already has one. Old copies go, the newest stay.
    ///
    /// # Errors
    /// When the copy cannot be written; the journal itself is none the worse.
    pub fn back_up(&self, today: Day) -> Result<Option<PathBuf>, JournalError> {
        self.backups.make_daily(&self.db, today)
    }
}

/// Opens and checks one file without changing what it holds.
pub(crate) fn connect(path: &Path, depth: Depth) -> Result<Connection, JournalError> {
    let db = Connection::open(path).map_err(|error| at(path, error.into()))?;
    prepare(&db, path).and_then(|()| check(&db, depth)).map_err(|error| at(path, error))?;
    Ok(db)
}

/// Sees that the file is ours, and sets how it is written.
pub(crate) fn prepare(db: &Connection, path: &Path) -> Result<(), JournalError> {
    db.busy_timeout(BUSY_TIMEOUT)?;
    // Damage is met where it lies rather than further on.
    db.pragma_update(None, "cell_size_check", true)?;
    let application: i32 = db.pragma_query_value(None, "application_id", |row| row.get(0))?;
    let tables: i64 = db.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    if application != schema::APPLICATION_ID && (application != 0 || tables > 0) {
        return Err(JournalError::NotAJournal { path: path.to_owned() });
    }
    let found = schema::form(db)?;
    if found > schema::CURRENT {
        return Err(JournalError::Newer { path: path.to_owned(), found, known: schema::CURRENT });
    }
    let mode: String = db.pragma_update_and_check(None, "journal_mode", "wal", |row| row.get(0))?;
    if mode != "wal" {
        return Err(JournalError::Other { why: format!("the file system takes no write-ahead log (mode {mode})") });
    }
    // A pass that was acknowledged is on the disk: one sync a commit.
    db.pragma_update(None, "synchronous", "full")?;
    db.pragma_update(None, "foreign_keys", true)?;
    Ok(())
}

/// Reads the file and sees that it holds together.
pub(crate) fn check(db: &Connection, depth: Depth) -> Result<(), JournalError> {
    /// These grow with every pass and every change of chord; the others stay a few pages.
    const LONG: [&str; 3] = ["passes", "strokes", "changes"];
    if depth == Depth::Whole {
        return quick_check(db, "1");
    }
    let mut query = db.prepare("SELECT name FROM sqlite_schema WHERE type = 'table'")?;
    let tables: Vec<String> = query.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    let short = tables.iter().filter(|table| !LONG.contains(&table.as_str()));
    short.into_iter().try_for_each(|table| quick_check(db, table))
}

/// All of it with `1`, at the first fault; or one table by its name.
fn quick_check(db: &Connection, what: &str) -> Result<(), JournalError> {
    let found: Option<String> =
        db.query_row(&format!("PRAGMA quick_check({what})"), [], |row| row.get(0)).optional()?;
    match found.filter(|found| found != "ok") {
        Some(fault) => Err(JournalError::damaged(fault)),
        None => Ok(()),
    }
}

/// Names the file in an error that does not know it.
fn at(path: &Path, error: JournalError) -> JournalError {
    match error {
        JournalError::Unwritable { why, .. } => JournalError::Unwritable { path: path.to_owned(), why },
        other => other,
    }
}
