//! Opening a journal that is damaged, newer, locked, somebody else's, or nowhere to be written.

mod support;

use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::Connection;
use sixrung_journal::{Journal, JournalError, Notice};
use sixrung_practice::Day;

use support::{key, record};

/// 2026-07-30.
const TODAY: Day = Day(20_664);

fn with_passes(path: &Path, passes: std::ops::Range<u32>) {
    let mut journal = Journal::open(path, TODAY).expect("opens").journal;
    for number in passes {
        journal.record(&record(number)).expect("written");
    }
}

/// A journal with a copy of 20 passes in a folder, and 5 passes more since.
fn with_backup() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    with_passes(&path, 0..20);
    let made = Journal::open(&path, TODAY).expect("opens").journal.back_up(TODAY).expect("copied");
    assert_eq!(made, Some(folder.path().join("journal-backups/2026-07-30.sqlite")));
    with_passes(&path, 20..25);
    (folder, path)
}

fn overwrite(path: &Path, range: std::ops::Range<usize>) {
    let mut bytes = fs::read(path).expect("read");
    let range = range.start.min(bytes.len())..range.end.min(bytes.len());
    bytes[range].fill(0xA5);
    fs::write(path, bytes).expect("written");
}

fn restores(damage: impl Fn(&Path)) {
    let (folder, path) = with_backup();
    damage(&path);
    let damaged_bytes = fs::read(&path).expect("read");
    let opened = Journal::open(&path, Day(TODAY.0 + 1)).expect("opens all the same");
    let damaged = folder.path().join("journal-damaged-2026-07-31-1.sqlite");
    let backup = Some(folder.path().join("journal-backups/2026-07-30.sqlite"));
    assert_eq!(opened.notices, [Notice::Restored { damaged: damaged.clone(), backup }]);
    assert_eq!(fs::read(damaged).expect("kept"), damaged_bytes, "the damaged file is kept as it was");
    assert_eq!(opened.journal.count_passes(), Ok(20));
    assert_eq!(opened.journal.climb(&key()).expect("read"), record(19).climb);
    drop(opened);
    let again = Journal::open(&path, Day(TODAY.0 + 1)).expect("opens");
    assert_eq!(again.notices, [], "said once");
}

#[test]
fn a_damaged_journal_is_kept_aside_and_the_newest_copy_taken() {
    restores(|path| overwrite(path, 0..100));
    restores(|path| overwrite(path, 4_096..12_288));
    restores(|path| overwrite(path, 0..usize::MAX));
    restores(|path| {
        let bytes = fs::read(path).expect("read");
        fs::write(path, &bytes[..bytes.len() / 2]).expect("written");
    });
}

#[test]
fn a_damaged_copy_is_passed_over() {
    let (folder, path) = with_backup();
    with_passes(&path, 25..26);
    let later = Journal::open(&path, TODAY).expect("opens").journal.back_up(Day(TODAY.0 + 1)).expect("copied");
    overwrite(&later.expect("a new day, a new copy"), 0..8_192);
    overwrite(&path, 0..8_192);
    let opened = Journal::open(&path, Day(TODAY.0 + 2)).expect("opens all the same");
    let Notice::Restored { backup, .. } = &opened.notices[0] else { panic!("not {:?}", opened.notices) };
    assert_eq!(*backup, Some(folder.path().join("journal-backups/2026-07-30.sqlite")));
    assert_eq!(opened.journal.count_passes(), Ok(20));
}

#[test]
fn without_a_copy_a_damaged_journal_begins_anew() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    for count in 1..=2 {
        fs::write(&path, "this was a journal once").expect("written");
        let opened = Journal::open(&path, TODAY).expect("opens all the same");
        let damaged = folder.path().join(format!("journal-damaged-2026-07-30-{count}.sqlite"));
        assert_eq!(opened.notices, [Notice::Restored { damaged, backup: None }]);
        assert_eq!(opened.journal.count_passes(), Ok(0));
    }
}

#[test]
fn one_copy_a_day_is_kept_and_the_last_seven() {
    let (folder, path) = with_backup();
    let journal = Journal::open(&path, TODAY).expect("opens").journal;
    assert_eq!(journal.back_up(TODAY), Ok(None), "today has one");
    for day in 1..10 {
        journal.back_up(Day(TODAY.0 + day)).expect("copied");
    }
    let copies = fs::read_dir(folder.path().join("journal-backups")).expect("read");
    let mut names: Vec<_> = copies.map(|copy| copy.expect("read").file_name()).collect();
    names.sort();
    assert_eq!(names.len(), 7);
    assert_eq!((&names[0], &names[6]), (&"2026-08-02.sqlite".into(), &"2026-08-08.sqlite".into()));
}

#[test]
fn a_journal_of_a_newer_version_is_refused_and_left_as_it_is() {
    let (_folder, path) = with_backup();
    Connection::open(&path).expect("opens").pragma_update(None, "user_version", 99).expect("set");
    let before = fs::read(&path).expect("read");
    let refused = Journal::open(&path, TODAY).expect_err("it is newer");
    assert_eq!(refused, JournalError::Newer { path: path.clone(), found: 99, known: 5 });
    assert!(refused.to_string().contains("was written by a newer version of sixrung (form 99"), "{refused}");
    assert!(refused.hint().contains("newest version"));
    assert_eq!(fs::read(&path).expect("read"), before);
}

#[test]
fn a_database_of_another_program_is_refused_and_left_as_it_is() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("other.sqlite");
    Connection::open(&path).expect("opens").execute_batch("CREATE TABLE notes (text TEXT)").expect("made");
    let before = fs::read(&path).expect("read");
    let refused = Journal::open(&path, TODAY).expect_err("it is not ours");
    assert_eq!(refused, JournalError::NotAJournal { path: path.clone() });
    assert_eq!(fs::read(&path).expect("read"), before);
}

#[test]
fn a_place_that_cannot_be_written_is_named() {
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("file");
    fs::write(&file, "").expect("written");
    for path in [file.join("journal.sqlite"), folder.path().to_owned()] {
        let refused = Journal::open(&path, TODAY).expect_err("a file is no folder, a folder no file");
        let JournalError::Unwritable { path: named, .. } = &refused else { panic!("not {refused:?}") };
        assert!(path.starts_with(named), "{named:?}");
        assert!(!refused.hint().is_empty());
    }
}

#[test]
fn a_journal_locked_by_another_program_says_so() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let mut journal = Journal::open(&path, TODAY).expect("opens").journal;
    let other = Connection::open(&path).expect("opens");
    other.execute_batch("BEGIN IMMEDIATE").expect("locked");
    assert_eq!(journal.record(&record(0)), Err(JournalError::Busy));
    other.execute_batch("ROLLBACK").expect("unlocked");
    journal.record(&record(0)).expect("written");
}
