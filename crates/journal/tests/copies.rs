//! Copies asked for, and going back to one: nothing is given up before the copy is known to be sound.

mod support;

use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use sixrung_journal::{Journal, JournalError, JournalWorker};
use sixrung_practice::Day;
use tempfile::TempDir;

use support::{key, record};

/// 2026-07-30.
const TODAY: Day = Day(20_664);

/// A journal of five passes, and a copy of it with two.
fn with_copy() -> (TempDir, Journal, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let mut journal = Journal::open(&folder.path().join("journal.sqlite"), TODAY).expect("opens").journal;
    journal.record_all((0..2).map(record)).expect("written");
    let copy = folder.path().join("elsewhere").with_extension("copy");
    journal.back_up_to(&copy).expect("copied");
    journal.record_all((2..5).map(record)).expect("written");
    (folder, journal, copy)
}

fn passes_in(path: &Path) -> u64 {
    Journal::open(path, TODAY).expect("opens").journal.count_passes().expect("read")
}

#[test]
fn going_back_takes_the_copy_and_keeps_what_was_there() {
    let (folder, mut journal, copy) = with_copy();
    let bytes = fs::read(&copy).expect("read");
    let kept = journal.restore_from(&copy, TODAY).expect("restored");
    assert_eq!(kept, folder.path().join("journal-backups/2026-07-30-before.sqlite"));
    assert_eq!(journal.count_passes(), Ok(2));
    assert_eq!(journal.climb(&key()).expect("read"), record(1).climb);
    assert_eq!(fs::read(&copy).expect("read"), bytes, "the copy is as it was");
    // It goes on from there, and what was given up can be gone back to.
    journal.record(&record(2)).expect("written");
    let again = journal.restore_from(&kept, TODAY).expect("restored");
    assert_eq!(again, folder.path().join("journal-backups/2026-07-30-before-2.sqlite"));
    assert_eq!(journal.count_passes(), Ok(5));
    drop(journal);
    assert_eq!(passes_in(&folder.path().join("journal.sqlite")), 5);
    assert_eq!(passes_in(&again), 3);
}

#[test]
fn an_older_form_is_brought_to_the_present_one() {
    let (_folder, mut journal, _) = with_copy();
    let stored = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/journal-v1.sqlite");
    journal.restore_from(&stored, TODAY).expect("restored");
    assert_eq!(journal.count_passes(), Ok(12));
    journal.record(&record(12)).expect("written");
}

#[test]
fn a_copy_of_a_journal_in_use_has_its_newest_passes() {
    let (folder, mut journal, _) = with_copy();
    let other = folder.path().join("other.sqlite");
    let mut used = Journal::open(&other, TODAY).expect("opens").journal;
    used.record_all((0..9).map(record)).expect("written");
    journal.restore_from(&other, TODAY).expect("restored");
    assert_eq!(journal.count_passes(), Ok(9));
    assert_eq!(used.count_passes(), Ok(9));
}

#[test]
fn a_copy_that_is_no_good_is_refused_and_nothing_changes() {
    let (folder, mut journal, copy) = with_copy();
    let made = |name: &str, change: &dyn Fn(&Path)| {
        let path = folder.path().join(name);
        fs::copy(&copy, &path).expect("copied");
        change(&path);
        path
    };
    let damaged = made("damaged", &|path| {
        let mut bytes = fs::read(path).expect("read");
        let middle = bytes.len() / 2;
        bytes[middle..].fill(0xA5);
        fs::write(path, bytes).expect("written");
    });
    let text = made("text", &|path| fs::write(path, "not a copy of anything, only some words").expect("written"));
    let empty = made("empty", &|path| fs::write(path, "").expect("written"));
    let newer = made("newer", &|path| {
        Connection::open(path).expect("opens").pragma_update(None, "user_version", 99).expect("set");
    });
    let others = made("others", &|path| {
        fs::remove_file(path).expect("removed");
        Connection::open(path).expect("opens").execute_batch("CREATE TABLE notes (text TEXT)").expect("made");
    });
    let missing = folder.path().join("missing");
    let is_bad = |path: &PathBuf, error: &JournalError| match error {
        JournalError::BadCopy { path: named, .. } => named == path,
        _ => false,
    };
    for path in [&damaged, &text] {
        let refused = journal.restore_from(path, TODAY).expect_err("no good");
        assert!(is_bad(path, &refused), "{refused:?}");
    }
    for path in [&empty, &others] {
        assert_eq!(journal.restore_from(path, TODAY), Err(JournalError::NotAJournal { path: path.clone() }));
    }
    let refused = journal.restore_from(&newer, TODAY).expect_err("newer");
    assert_eq!(refused, JournalError::Newer { path: newer, found: 99, known: 5 });
    assert!(matches!(journal.restore_from(&missing, TODAY), Err(JournalError::Unwritable { .. })));
    assert_eq!(journal.count_passes(), Ok(5));
    assert_eq!(journal.climb(&key()).expect("read"), record(4).climb);
    journal.record(&record(5)).expect("written");
    let left: Vec<_> = fs::read_dir(folder.path())
        .expect("read")
        .map(|entry| entry.expect("read").file_name().into_string().expect("text"))
        .filter(|name| name.contains("restoring"))
        .collect();
    assert_eq!(left, Vec::<String>::new(), "nothing is left lying about");
}

#[test]
fn while_another_program_has_the_journal_open_it_is_not_exchanged() {
    let (folder, mut journal, copy) = with_copy();
    let other = Journal::open(&folder.path().join("journal.sqlite"), TODAY).expect("opens").journal;
    assert_eq!(other.count_passes(), Ok(5));
    assert_eq!(journal.restore_from(&copy, TODAY), Err(JournalError::Busy));
    assert_eq!(journal.count_passes(), Ok(5));
    drop(other);
    journal.restore_from(&copy, TODAY).expect("restored");
    assert_eq!(journal.count_passes(), Ok(2));
}

#[test]
fn a_copy_is_not_written_over_the_journal_itself() {
    let (folder, journal, _) = with_copy();
    let refused = journal.back_up_to(&folder.path().join("journal.sqlite")).expect_err("itself");
    assert!(matches!(refused, JournalError::Unwritable { .. }), "{refused:?}");
    assert_eq!(journal.count_passes(), Ok(5));
}

#[test]
fn behind_the_queue_too() {
    let (folder, journal, copy) = with_copy();
    let worker = JournalWorker::start(journal, TODAY).expect("starts");
    worker.record(record(5)).expect("there is room");
    worker.restore_from(copy, TODAY).expect("restored");
    worker.record(record(2)).expect("there is room");
    assert_eq!(worker.recent_passes(None, 9).expect("read").len(), 3);
    let out = folder.path().join("out.sqlite");
    worker.back_up_to(out.clone()).expect("copied");
    assert_eq!(worker.finish(), []);
    assert_eq!(passes_in(&out), 3);
    assert_eq!(passes_in(&folder.path().join("journal-backups/2026-07-30-before.sqlite")), 6);
}
