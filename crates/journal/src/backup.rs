//! Copies of the file, one a day, and going back to the newest.

use std::ffi::OsString;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use sixrung_practice::Day;

use crate::error::JournalError;
use crate::open::{Depth, Notice, connect};

/// Daily copies kept.
const KEPT: usize = 7;

/// The folder of copies beside a journal.
#[derive(Clone, Debug)]
pub(crate) struct Backups {
    folder: PathBuf,
}

impl Backups {
    /// `journal.sqlite` keeps its copies in `journal-backups/`.
    pub(crate) fn beside(path: &Path) -> Self {
        let mut name = path.file_stem().unwrap_or(path.as_os_str()).to_owned();
        name.push("-backups");
        Self { folder: path.with_file_name(name) }
    }

    /// A day as `2031-01-28`, so that names sort by time.
    pub(crate) fn name_of(&self, day: Day) -> String {
        let (year, month, day) = day.date();
        format!("{year:04}-{month:02}-{day:02}")
    }

    /// The day's copy, made unless it is there.
    pub(crate) fn make_daily(&self, db: &Connection, today: Day) -> Result<Option<PathBuf>, JournalError> {
        let name = self.name_of(today);
        if self.path_of(&name).exists() {
            return Ok(None);
        }
        let made = self.make(db, &name)?;
        let copies = self.oldest_first();
        for old in copies.iter().take(copies.len().saturating_sub(KEPT)) {
            fs::remove_file(old).map_err(|error| JournalError::io(old, &error))?;
        }
        Ok(Some(made))
    }

    /// A copy under this name, whole or not there.
    pub(crate) fn make(&self, db: &Connection, name: &str) -> Result<PathBuf, JournalError> {
        fs::create_dir_all(&self.folder).map_err(|error| JournalError::io(&self.folder, &error))?;
        let path = self.path_of(name);
        copy_to(db, &path)?;
        Ok(path)
    }

    /// A copy under this name, or the first of `name-2`, `name-3` … that is free.
    pub(crate) fn make_another(&self, db: &Connection, name: &str) -> Result<PathBuf, JournalError> {
        let names = std::iter::once(name.to_owned()).chain((2..).map(|count| format!("{name}-{count}")));
        let free = names.into_iter().find(|name| !self.path_of(name).exists());
        self.make(db, &free.expect("some number is not taken yet"))
    }

    /// Renames a damaged file and takes the newest sound copy in its place, or none.
    pub(crate) fn restore(&self, path: &Path, today: Day) -> Result<Notice, JournalError> {
        let damaged = set_aside(path, &self.name_of(today))?;
        let backup = self.oldest_first().into_iter().rev().find(|copy| is_sound(copy));
        if let Some(backup) = &backup {
            let unfinished = path.with_extension("unfinished");
            fs::copy(backup, &unfinished).map_err(|error| JournalError::io(&unfinished, &error))?;
            settle(&unfinished, path)?;
        }
        Ok(Notice::Restored { damaged, backup })
    }

    fn path_of(&self, name: &str) -> PathBuf {
        self.folder.join(format!("{name}.sqlite"))
    }

    /// The copies there are, by name: days in order.
    pub(crate) fn oldest_first(&self) -> Vec<PathBuf> {
        let Ok(folder) = fs::read_dir(&self.folder) else { return Vec::new() };
        let mut copies: Vec<PathBuf> = folder
            .filter_map(|entry| entry.ok().map(|entry| entry.path()))
            .filter(|path| path.extension().is_some_and(|extension| extension == "sqlite"))
            .collect();
        copies.sort();
        copies
    }
}

/// A copy at `path`: written beside, synced, then renamed, so that it is whole or not there.
pub(crate) fn copy_to(db: &Connection, path: &Path) -> Result<(), JournalError> {
    let unfinished = path.with_extension("unfinished");
    remove_if_there(&unfinished)?;
    let into = unfinished.to_str().ok_or_else(|| JournalError::Unwritable {
        path: unfinished.clone(),
        why: "its name is not valid Unicode".into(),
    })?;
    db.execute("VACUUM INTO ?1", [into])?;
    settle(&unfinished, path)
}

/// Looks at a copy of the copy, since checking a file may leave a log beside it.
fn is_sound(copy: &Path) -> bool {
    let probe = copy.with_extension("probe");
    let sound = fs::copy(copy, &probe).is_ok() && connect(&probe, Depth::Whole).is_ok();
    for leftover in with_logs(&probe) {
        // A probe that stays is overwritten by the next; it is no copy by its name.
        drop(fs::remove_file(leftover));
    }
    sound
}

/// Renames the file and its logs to names that are not taken.
fn set_aside(path: &Path, day: &str) -> Result<PathBuf, JournalError> {
    let stem = path.file_stem().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
    let aside = (1..)
        .map(|count| path.with_file_name(format!("{stem}-damaged-{day}-{count}.sqlite")))
        .find(|aside| !aside.exists())
        .expect("some number is not taken yet");
    for (from, to) in with_logs(path).into_iter().zip(with_logs(&aside)) {
        if from.exists() {
            fs::rename(&from, &to).map_err(|error| JournalError::io(&from, &error))?;
        }
    }
    Ok(aside)
}

/// The file, its write-ahead log and the log's index.
pub(crate) fn with_logs(path: &Path) -> [PathBuf; 3] {
    ["", "-wal", "-shm"].map(|suffix| {
        let mut name = OsString::from(path);
        name.push(suffix);
        name.into()
    })
}

/// The unfinished file becomes the finished one, once it is on the disk.
pub(crate) fn settle(unfinished: &Path, path: &Path) -> Result<(), JournalError> {
    File::open(unfinished)
        .and_then(|file| file.sync_all())
        .and_then(|()| fs::rename(unfinished, path))
        .map_err(|error| JournalError::io(path, &error))
}

pub(crate) fn remove_if_there(path: &Path) -> Result<(), JournalError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(JournalError::io(path, &error)),
        _ => Ok(()),
    }
}
