//! A disk that is full, which only the database itself can play.

use std::time::{Duration, Instant};

use sixrung_practice::Day;

use super::JournalWorker;
use crate::error::JournalError;
use crate::open::Journal;

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
