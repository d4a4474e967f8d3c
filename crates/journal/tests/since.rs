//! What a report asks of the journal: how the hands felt since a day, and which measurement was the last.

use sixrung_journal::{DevicePair, Journal, Measured, RoundTrip};
use sixrung_practice::{Day, Felt, Moment};

fn journal(folder: &tempfile::TempDir) -> Journal {
    Journal::open(&folder.path().join("journal.sqlite"), Day(20_000)).expect("a journal").journal
}

#[test]
fn answers_since_a_moment_come_oldest_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let journal = journal(&folder);
    assert_eq!(journal.felt_since(Moment(i64::MIN)).expect("read"), []);
    let answers = [(Felt::Pain, Moment(300)), (Felt::Fine, Moment(100)), (Felt::Sore, Moment(200))];
    for (felt, at) in answers {
        journal.record_felt(felt, at).expect("kept");
    }
    assert_eq!(journal.felt_since(Moment(200)).expect("read"), [answers[2], answers[0]]);
    assert_eq!(journal.felt_since(Moment(301)).expect("read"), []);
}

#[test]
fn the_last_measurement_is_found_whatever_the_devices() {
    let folder = tempfile::tempdir().expect("a folder");
    let journal = journal(&folder);
    assert_eq!(journal.newest_round_trip(Moment(i64::MAX)).expect("read"), None);
    let trip = |how, measured| RoundTrip { ms: 21.0, spread_ms: 0.5, how, measured: Moment(measured) };
    for (input, trip) in [("a", trip(Measured::TapAlong, 200)), ("b", trip(Measured::Loopback, 100))] {
        let pair = DevicePair { output: "out".into(), input: input.into(), rate_hz: 48_000, buffer_frames: 0 };
        journal.set_round_trip(&pair, &trip).expect("kept");
    }
    let how = |until| journal.newest_round_trip(Moment(until)).expect("read").map(|trip| trip.how);
    assert_eq!(how(500), Some(Measured::TapAlong));
    assert_eq!(how(199), Some(Measured::Loopback));
    assert_eq!(how(99), None);
}
