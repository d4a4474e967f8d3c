//! Opening the file: made when missing, restored when damaged, refused when newer.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use rusqlite::{Connection, OptionalExtension as _};
use sixrung_practice::Day;

use crate::backup::Backups;
use crate::error::JournalError;
use crate::schema;

/// How long a write waits for another program to let go of the file.
const BUSY_TIMEOUT: Duration = Duration::from_secs(2);

/// The file of one player's memory.
#[derive(Debug)]
pub struct Journal {
    pub(crate) db: Connection,
    pub(crate) player: i64,
    backups: Backups,
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
        let backups = Backups::beside(path);
        let mut notices = Vec::new();
        let folder = path.parent().unwrap_or(Path::new(""));
        if !folder.as_os_str().is_empty() {
            fs::create_dir_all(folder).map_err(|error| JournalError::io(folder, &error))?;
        }
        let db = match connect(path) {
            Err(JournalError::Damaged { .. }) => {
                notices.push(backups.restore(path, today)?);
                connect(path)
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
        let player = db.query_row("SELECT id FROM players ORDER BY id LIMIT 1", [], |row| row.get(0))?;
        let journal = Self { db, player, backups };
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
pub(crate) fn connect(path: &Path) -> Result<Connection, JournalError> {
    let db = Connection::open(path).map_err(|error| at(path, error.into()))?;
    check(&db, path).map_err(|error| at(path, error))?;
    Ok(db)
}

fn check(db: &Connection, path: &Path) -> Result<(), JournalError> {
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
    let fault: Option<String> = db
        .query_row("PRAGMA quick_check(1)", [], |row| row.get::<_, String>(0))
        .optional()?
        .filter(|found| found != "ok");
    fault.map_or(Ok(()), |fault| Err(JournalError::damaged(fault)))
}

/// Names the file in an error that does not know it.
fn at(path: &Path, error: JournalError) -> JournalError {
    match error {
        JournalError::Unwritable { why, .. } => JournalError::Unwritable { path: path.to_owned(), why },
        other => other,
    }
}
