//! Writes the journal that the tests keep of each form: run once when a form is new.

use std::path::PathBuf;

use sixrung_journal::{DevicePair, Journal, LearnedKey, Measured, RoundTrip, SoundCheck};
use sixrung_practice::{Day, Done, Felt, Processing, Reason, Step};

#[path = "../tests/support/change.rs"]
mod change;
#[path = "../tests/support/mod.rs"]
mod support;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let path = std::env::args_os().nth(1).map(PathBuf::from).ok_or("name the file to write")?;
    let mut journal = Journal::open(&path, Day(20_664))?.journal;
    for number in 0..12 {
        journal.record(&support::record(number))?;
    }
    journal.set("theme", "dark")?;
    let pair = DevicePair { output: "speaker".into(), input: "microphone".into(), rate_hz: 48_000, buffer_frames: 256 };
    let trip = RoundTrip { ms: 21.5, spread_ms: 0.5, how: Measured::Loopback, measured: support::ended(0) };
    journal.set_round_trip(&pair, &trip)?;
    let check =
        SoundCheck { found: vec![Reason::Processed(Processing::AutoGain)], overruled: true, at: support::ended(2) };
    journal.set_sound_check(&pair, &check)?;
    let learned = LearnedKey { guitar: "steel".into(), what: "Lantern on the Quay".into() };
    journal.set_learned(&learned, "a value", support::ended(1))?;
    journal.set_step(&support::key(), Step::Shapes, Done::Heard, support::ended(3))?;
    journal.record_change(&change::change())?;
    journal.record_felt(Felt::Sore, support::ended(4))?;
    journal.add_player("Ana")?;
    let newest = journal.recent_passes(None, 1)?[0].0;
    journal.delete_passes(&[newest], support::ended(12))?;
    assert_eq!(journal.climb(&support::key())?, support::record(11).climb);
    Ok(())
}
