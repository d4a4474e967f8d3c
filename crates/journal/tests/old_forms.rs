//! Files written by released versions open in this one. Each form has one stored file, made once by
//! `cargo run -p sixrung-journal --example make_old_form -- FILE` when the form was new, and never made again.

mod support;

use std::fs;
use std::path::Path;

use sixrung_journal::{DevicePair, Journal};
use sixrung_practice::Day;

use support::{key, record};

#[test]
fn a_journal_of_form_1_opens_with_all_it_held() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let stored = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/journal-v1.sqlite");
    fs::copy(stored, &path).expect("copied");
    let opened = Journal::open(&path, Day(20_664)).expect("opens");
    let journal = opened.journal;
    let passes = journal.recent_passes(None, 100).expect("read");
    assert_eq!(passes.len(), 12);
    for ((id, pass), number) in passes.iter().rev().zip(0..) {
        assert_eq!(*pass, record(number).pass);
        assert_eq!(journal.strokes(*id).expect("read"), Some(record(number).strokes));
    }
    assert_eq!(journal.climb(&key()).expect("read"), record(11).climb);
    assert_eq!(journal.setting("theme").expect("read").as_deref(), Some("dark"));
    let pair = DevicePair { output: "speaker".into(), input: "microphone".into(), rate_hz: 48_000, buffer_frames: 256 };
    assert_eq!(journal.round_trip(&pair).expect("read").map(|trip| trip.ms), Some(21.5));
}
