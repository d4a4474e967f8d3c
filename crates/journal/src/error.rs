//! What can go wrong with the journal, and what to try.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

/// What went wrong.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum JournalError {
    /// The folder or file cannot be made, read or written.
    Unwritable {
        /// Which.
        path: PathBuf,
        /// The system's word for it.
        why: String,
    },
    /// There is no room left on the disk.
    DiskFull,
    /// Another program keeps the file locked.
    Busy,
    /// The file was written by a newer version of this program.
    Newer {
        /// Which file.
        path: PathBuf,
        /// The form it has.
        found: i64,
        /// The newest form known here.
        known: i64,
    },
    /// The file is a database of some other program.
    NotAJournal {
        /// Which file.
        path: PathBuf,
    },
    /// The file does not hold what it should.
    Damaged {
        /// What was found.
        what: String,
    },
    /// A copy to go back to does not hold what it should.
    BadCopy {
        /// Which file.
        path: PathBuf,
        /// What was found.
        what: String,
    },
    /// A player cannot be called so.
    BadName {
        /// Why not.
        why: String,
    },
    /// There is no such player.
    NoSuchPlayer,
    /// The journal is closed: its thread has ended.
    Closed,
    /// Anything else the database reports.
    Other {
        /// The database's word for it.
        why: String,
    },
}

impl JournalError {
    /// What to try, as one short sentence without a period.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self {
            Self::Unwritable { .. } => "check that the folder exists and that you may write to it",
            Self::DiskFull => "make room on the disk; what you play is kept in memory until then",
            Self::Busy => "close other programs that have the journal open, then try again",
            Self::Newer { .. } => "install the newest version of sixrung; the journal is left as it is",
            Self::NotAJournal { .. } => "move that file away or choose another place for the journal",
            Self::Damaged { .. } => "start sixrung again: it restores the newest backup and keeps the damaged file",
            Self::BadCopy { .. } => "choose another copy; the journal is left as it is",
            Self::BadName { .. } => "choose another name",
            Self::NoSuchPlayer => "choose one of the players listed",
            Self::Closed => "start sixrung again",
            Self::Other { .. } => "start sixrung again; if it stays, keep the journal file and report this message",
        }
    }

    /// Whether trying again later may help.
    #[must_use]
    pub const fn may_pass(&self) -> bool {
        matches!(self, Self::Unwritable { .. } | Self::DiskFull | Self::Busy)
    }

    pub(crate) fn io(path: &Path, error: &io::Error) -> Self {
        match error.kind() {
            io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => Self::DiskFull,
            _ => Self::Unwritable { path: path.to_owned(), why: error.to_string() },
        }
    }

    pub(crate) fn damaged(what: impl Into<String>) -> Self {
        Self::Damaged { what: what.into() }
    }
}

impl fmt::Display for JournalError {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unwritable { path, why } => write!(out, "cannot write {}: {why}", path.display()),
            Self::DiskFull => write!(out, "cannot write the journal: the disk is full"),
            Self::Busy => write!(out, "cannot write the journal: another program keeps it locked"),
            Self::Newer { path, found, known } => write!(
                out,
                "{} was written by a newer version of sixrung (form {found}, this version knows up to {known})",
                path.display()
            ),
            Self::NotAJournal { path } => write!(out, "{} is not a journal of sixrung", path.display()),
            Self::Damaged { what } => write!(out, "the journal is damaged: {what}"),
            Self::BadCopy { path, what } => write!(out, "{} is no sound copy of a journal: {what}", path.display()),
            Self::BadName { why } => write!(out, "{why}"),
            Self::NoSuchPlayer => write!(out, "there is no such player"),
            Self::Closed => write!(out, "the journal is closed"),
            Self::Other { why } => write!(out, "the journal reports: {why}"),
        }
    }
}

impl std::error::Error for JournalError {}

impl From<rusqlite::Error> for JournalError {
    fn from(error: rusqlite::Error) -> Self {
        let why = error.to_string();
        match error.sqlite_error_code() {
            Some(ErrorCode::DiskFull) => Self::DiskFull,
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Busy,
            Some(ErrorCode::NotADatabase | ErrorCode::DatabaseCorrupt) => Self::Damaged { what: why },
            Some(
                ErrorCode::ReadOnly | ErrorCode::CannotOpen | ErrorCode::PermissionDenied | ErrorCode::SystemIoFailure,
            ) => Self::Unwritable { path: "the journal".into(), why },
            _ => Self::Other { why },
        }
    }
}
