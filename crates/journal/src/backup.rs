//! Copies of the file, one a day, and going back to the newest.

use std::ffi::OsString;
use std::fs::{self, File};
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use sixrung_practice::Day;

use crate::error::JournalError;
use crate::open::{Notice, connect};

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
        let (year, month, day) = civil(day);
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

    /// A copy under this name: written beside, synced, then renamed, so that a copy is whole or not there.
    pub(crate) fn make(&self, db: &Connection, name: &str) -> Result<PathBuf, JournalError> {
        fs::create_dir_all(&self.folder).map_err(|error| JournalError::io(&self.folder, &error))?;
        let path = self.path_of(name);
        let unfinished = path.with_extension("unfinished");
        remove_if_there(&unfinished)?;
        let into = unfinished.to_str().ok_or_else(|| JournalError::Unwritable {
            path: unfinished.clone(),
            why: "its name is not valid Unicode".into(),
        })?;
        db.execute("VACUUM INTO ?1", [into])?;
        settle(&unfinished, &path)?;
        Ok(path)
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

    fn oldest_first(&self) -> Vec<PathBuf> {
        let Ok(folder) = fs::read_dir(&self.folder) else { return Vec::new() };
        let mut copies: Vec<PathBuf> = folder
            .filter_map(|entry| entry.ok().map(|entry| entry.path()))
            .filter(|path| path.extension().is_some_and(|extension| extension == "sqlite"))
            .collect();
        copies.sort();
        copies
    }
}

/// Looks at a copy of the copy, since checking a file may leave a log beside it.
fn is_sound(copy: &Path) -> bool {
    let probe = copy.with_extension("probe");
    let sound = fs::copy(copy, &probe).is_ok() && connect(&probe).is_ok();
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
fn with_logs(path: &Path) -> [PathBuf; 3] {
    ["", "-wal", "-shm"].map(|suffix| {
        let mut name = OsString::from(path);
        name.push(suffix);
        name.into()
    })
}

fn settle(unfinished: &Path, path: &Path) -> Result<(), JournalError> {
    File::open(unfinished)
        .and_then(|file| file.sync_all())
        .and_then(|()| fs::rename(unfinished, path))
        .map_err(|error| JournalError::io(path, &error))
}

fn remove_if_there(path: &Path) -> Result<(), JournalError> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != std::io::ErrorKind::NotFound => Err(JournalError::io(path, &error)),
        _ => Ok(()),
    }
}

/// Year, month and day of the proleptic Gregorian calendar, from days since 1970-01-01 (the era arithmetic of
/// Hinnant, "chrono-Compatible Low-Level Date Algorithms").
fn civil(day: Day) -> (i64, i64, i64) {
    let shifted = day.0 + 719_468;
    let era = shifted.div_euclid(146_097);
    let day_of_era = shifted.rem_euclid(146_097);
    let year_of_era = (day_of_era - day_of_era / 1_460 + day_of_era / 36_524 - day_of_era / 146_096) / 365;
    let day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    let from_march = (5 * day_of_year + 2) / 153;
    let day = day_of_year - (153 * from_march + 2) / 5 + 1;
    let month = if from_march < 10 { from_march + 3 } else { from_march - 9 };
    (year_of_era + era * 400 + i64::from(month <= 2), month, day)
}

#[cfg(test)]
mod tests {
    use super::civil;
    use sixrung_practice::Day;

    /// Unix day numbers as `date -u -d @$((86400*n)) +%F` prints them.
    #[test]
    fn days_have_their_calendar_dates() {
        let check = |day, expected| assert_eq!(civil(Day(day)), expected);
        check(0, (1970, 1, 1));
        check(-1, (1969, 12, 31));
        check(11_016, (2000, 2, 29));
        check(19_782, (2024, 2, 29));
        check(20_664, (2026, 7, 30));
        check(47_540, (2100, 2, 28));
        check(47_541, (2100, 3, 1));
    }
}
