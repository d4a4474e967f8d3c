//! A disk that is full, which only the database itself can play, and damage that is found while the file is in use.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::mpsc::sync_channel;
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use sixrung_practice::Day;

use super::check::Outcome;
use super::scribe::Scribe;
use super::{JournalWorker, Status, Write};
use crate::changes::{ChangePair, PlayedChange};
use crate::error::JournalError;
use crate::open::{Journal, Notice};

#[path = "../../tests/support/mod.rs"]
mod support;

/// SQLite reports a file at its largest allowed size as it reports a full disk (SQLITE_FULL).
#[test]
fn a_full_disk_is_told_and_what_could_not_be_written_comes_back() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let mut journal = Journal::open(&path, Day(20_000)).expect("opens").journal;
    journal.record(&support::record(0)).expect("there is room yet");
    let pages: i64 = journal.db.pragma_query_value(None, "page_count", |row| row.get(0)).expect("a count");
    journal.db.pragma_update(None, "max_page_count", pages).expect("a limit");
    let mut large = support::record(1);
    large.strokes.extras_ms = vec![0; 50_000];
    assert_eq!(journal.record(&large), Err(JournalError::DiskFull));
    assert_eq!(journal.count_passes(), Ok(1), "nothing of it was kept");

    let worker = JournalWorker::start(journal, Day(20_000)).expect("starts");
    worker.record(large.clone()).expect("the queue is empty");
    let patience = Instant::now();
    while worker.status().trouble != Some(JournalError::DiskFull) {
        assert!(patience.elapsed() < Duration::from_mins(1), "the full disk was never told");
        std::thread::sleep(Duration::from_millis(5));
    }
    worker.record(support::record(2)).expect("the queue takes it while the disk is full");
    assert_eq!(worker.finish(), [large, support::record(2)]);
    let reopened = Journal::open(&path, Day(20_000)).expect("opens").journal;
    assert_eq!(reopened.count_passes(), Ok(1));
}

const TODAY: Day = Day(20_664);

/// A journal of 60 passes with a copy of 40 of them, opened as a large file is: checked but for its passes.
struct Large {
    folder: tempfile::TempDir,
    path: PathBuf,
}

impl Large {
    fn new() -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        let path = folder.path().join("journal.sqlite");
        let mut journal = Journal::open(&path, TODAY).expect("opens").journal;
        for number in 0..60 {
            journal.record(&support::record(number)).expect("written");
            if number == 39 {
                journal.back_up(TODAY).expect("copied");
            }
        }
        Self { folder, path }
    }

    /// Overwrites the page the strokes begin on: nothing but their table is damaged.
    fn damage_strokes(&self) {
        let db = rusqlite::Connection::open(&self.path).expect("opens");
        let root: u64 = db
            .query_row("SELECT rootpage FROM sqlite_schema WHERE name = 'strokes'", [], |row| row.get::<_, i64>(0))
            .expect("there")
            .cast_unsigned();
        let size: i64 = db.pragma_query_value(None, "page_size", |row| row.get(0)).expect("set");
        drop(db);
        let size = usize::try_from(size).expect("small");
        let from = (usize::try_from(root).expect("small") - 1) * size;
        let mut bytes = fs::read(&self.path).expect("read");
        bytes[from..from + size].fill(0xA5);
        fs::write(&self.path, bytes).expect("written");
    }

    fn open(&self) -> Journal {
        let opened = Journal::open_checking(&self.path, TODAY, 0).expect("opens");
        assert_eq!(opened.notices, [], "what practice goes on from is sound");
        assert!(!opened.journal.checked);
        opened.journal
    }

    fn restored(&self) -> Option<Notice> {
        Some(Notice::Restored {
            damaged: self.folder.path().join("journal-damaged-2026-07-30-1.sqlite"),
            backup: Some(self.copy()),
        })
    }

    fn copy(&self) -> PathBuf {
        self.folder.path().join("journal-backups/2026-07-30.sqlite")
    }
}

fn wait_until(worker: &JournalWorker, what: impl Fn(&Status) -> bool) {
    let patience = Instant::now();
    while !what(&worker.status()) {
        assert!(patience.elapsed() < Duration::from_mins(1), "never came about: {:?}", worker.status());
        std::thread::sleep(Duration::from_millis(5));
    }
}

fn passes_in(path: &Path) -> u64 {
    Journal::open(path, TODAY).expect("opens").journal.count_passes().expect("read")
}

#[test]
fn damage_in_the_passes_is_found_while_the_journal_is_used_and_what_is_played_meanwhile_is_kept() {
    let large = Large::new();
    large.damage_strokes();
    let worker = JournalWorker::start(large.open(), TODAY).expect("starts");
    worker.set("theme", "dark").expect("there is room");
    worker.record(support::record(60)).expect("there is room");
    wait_until(&worker, |status| status.restored.is_some() && status.saved == 1);
    assert_eq!(worker.status().restored, large.restored());
    assert_eq!(worker.settings().expect("read")["theme"], "dark");
    assert_eq!(worker.finish(), []);
    assert_eq!(passes_in(&large.path), 41, "the copy's 40 and the one played since");
    assert_eq!(passes_in(&large.copy()), 40, "the damaged file took no copy's place");
}

#[test]
fn what_was_written_before_the_check_was_over_is_written_again() {
    let large = Large::new();
    large.damage_strokes();
    let (_stop, stopped) = sync_channel(1);
    let mut scribe = Scribe {
        journal: large.open(),
        today: TODAY,
        status: Arc::new(Mutex::new(Status::default())),
        stopped,
        stopping: false,
        unsaved: Vec::new(),
        check: None,
        unchecked: Vec::new(),
    };
    scribe.write(Write::Setting("theme".into(), "dark".into()));
    let pair = ChangePair { from: "320003".into(), to: "xx0232".into(), capo: 0 };
    let change = PlayedChange { pair, took_ms: 900, botched: 0, at: support::ended(3) };
    scribe.write(Write::Change(change.clone()));
    scribe.checked(Outcome::Damaged);
    assert_eq!(scribe.journal.setting("theme").expect("read").as_deref(), Some("dark"));
    assert_eq!(scribe.journal.recent_changes(None, 9), Ok(vec![change]));
    assert_eq!(scribe.journal.count_passes(), Ok(40));
    assert_eq!(scribe.status.lock().expect("whole").restored, large.restored());
}

#[test]
fn a_sound_large_file_is_used_at_once_and_copied_when_it_is_checked() {
    let large = Large::new();
    fs::remove_file(large.copy()).expect("removed");
    let worker = JournalWorker::start(large.open(), TODAY).expect("starts");
    worker.record(support::record(60)).expect("there is room");
    wait_until(&worker, |_| large.copy().exists());
    assert_eq!(worker.status().restored, None);
    assert_eq!(worker.finish(), []);
    assert!(passes_in(&large.copy()) >= 60);
    assert_eq!(passes_in(&large.path), 61);
}
