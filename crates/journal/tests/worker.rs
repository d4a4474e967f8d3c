//! The journal on its own thread.

mod support;

use std::thread::sleep;
use std::time::{Duration, Instant};

use rusqlite::Connection;
use sixrung_journal::{DevicePair, Full, Journal, JournalError, JournalWorker, Measured, RoundTrip, Status};
use sixrung_practice::{Day, Moment, UtcOffset};

use support::{ended, key, record};

const TODAY: Day = Day(20_664);

fn worker() -> (tempfile::TempDir, JournalWorker) {
    let folder = tempfile::tempdir().expect("a folder");
    let journal = Journal::open(&folder.path().join("journal.sqlite"), TODAY).expect("opens").journal;
    (folder, JournalWorker::start(journal, TODAY).expect("starts"))
}

fn wait_until(worker: &JournalWorker, what: impl Fn(&Status) -> bool) {
    let patience = Instant::now();
    while !what(&worker.status()) {
        assert!(patience.elapsed() < Duration::from_mins(1), "never came about: {:?}", worker.status());
        sleep(Duration::from_millis(5));
    }
}

#[test]
fn a_question_sees_everything_handed_over_before_it() {
    let (folder, worker) = worker();
    for number in 0..20 {
        worker.record(record(number)).expect("there is room");
        assert_eq!(worker.load_climb(key()).expect("read"), record(number).climb);
    }
    let moved = record(2).climb.expect("each has one");
    worker.set_climb(key(), moved.clone()).expect("there is room");
    assert_eq!(worker.load_climb(key()), Ok(Some(moved)));
    worker.set("theme", "dark").expect("there is room");
    assert_eq!(worker.settings().expect("read")["theme"], "dark");
    let pair = DevicePair { output: "o".into(), input: "i".into(), rate_hz: 48_000, buffer_frames: 0 };
    let trip = RoundTrip { ms: 20.0, spread_ms: 1.0, how: Measured::ByHand, measured: Moment(0) };
    worker.set_round_trip(pair.clone(), trip).expect("there is room");
    assert_eq!(worker.round_trip(pair), Ok(Some(trip)));
    let newest = worker.recent_passes(Some(key()), 1).expect("read");
    assert_eq!(newest[0].1, record(19).pass);
    assert_eq!(worker.strokes(newest[0].0), Ok(Some(record(19).strokes)));
    assert!(worker.minutes_today(ended(19), UtcOffset::default()).expect("read") > 0);
    assert_eq!(worker.status(), Status { saved: 20, ..Status::default() });
    // Kept by a thread beside it, which nobody waits for.
    wait_until(&worker, |_| folder.path().join("journal-backups/2026-07-30.sqlite").exists());
}

#[test]
fn ending_writes_all_that_waits() {
    let (folder, worker) = worker();
    for number in 0..30 {
        worker.record(record(number)).expect("there is room");
    }
    assert_eq!(worker.finish(), []);
    let journal = Journal::open(&folder.path().join("journal.sqlite"), TODAY).expect("opens").journal;
    assert_eq!(journal.count_passes(), Ok(30));
}

#[test]
fn while_the_file_is_locked_passes_wait_come_back_when_the_queue_is_full_and_are_written_after() {
    let (folder, worker) = worker();
    wait_until(&worker, |_| folder.path().join("journal-backups/2026-07-30.sqlite").exists());
    let other = Connection::open(folder.path().join("journal.sqlite")).expect("opens");
    other.busy_timeout(Duration::from_mins(1)).expect("set");
    other.execute_batch("BEGIN IMMEDIATE").expect("locked");
    let mut taken = 0;
    let back = loop {
        match worker.record(record(taken)) {
            Ok(()) => taken += 1,
            Err(Full(back)) => break back,
        }
        assert!(taken < 1_000, "the queue has no end");
    };
    assert_eq!(*back, record(taken), "what does not fit comes back whole");
    wait_until(&worker, |status| status.trouble == Some(JournalError::Busy));
    assert_eq!(worker.load_climb(key()), Err(JournalError::Busy), "a question is not left waiting");
    other.execute_batch("ROLLBACK").expect("unlocked");
    wait_until(&worker, |status| status.saved == u64::from(taken));
    worker.record(*back).expect("there is room again");
    assert_eq!(worker.load_climb(key()).expect("read"), record(taken).climb);
    assert_eq!(worker.status(), Status { saved: u64::from(taken) + 1, ..Status::default() });
}
