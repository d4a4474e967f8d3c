//! Files written by released versions open in this one. Each form has one stored file, made once by
//! `cargo run -p sixrung-journal --example make_old_form -- FILE` when the form was new, and never made again.

#[path = "support/change.rs"]
mod change;
mod support;

use std::fs;
use std::path::Path;

use sixrung_journal::{DevicePair, Journal, LearnedKey, PassPlace, SoundCheck, Wanted};
use sixrung_practice::{Day, Done, Felt, Processing, Reason, Step, StepsDone, UtcOffset};
use tempfile::TempDir;

use change::change;
use support::{ended, key, record};

/// A copy of the stored file of this form, opened.
fn opened(form: u32) -> (TempDir, Journal) {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let stored = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("tests/data/journal-v{form}.sqlite"));
    fs::copy(stored, &path).expect("copied");
    let journal = Journal::open(&path, Day(20_664)).expect("opens").journal;
    (folder, journal)
}

/// What every stored file holds.
fn check(journal: &Journal) {
    let passes = journal.recent_passes(None, 100).expect("read");
    assert_eq!(passes.len(), 12);
    for ((id, pass), number) in passes.iter().rev().zip(0..) {
        assert_eq!(*pass, record(number).pass);
        assert_eq!(journal.strokes(*id).expect("read"), Some(record(number).strokes));
    }
    assert_eq!(journal.climb(&key()).expect("read"), record(11).climb);
    assert_eq!(journal.setting("theme").expect("read").as_deref(), Some("dark"));
    assert_eq!(journal.round_trip(&pair()).expect("read").map(|trip| trip.ms), Some(21.5));
}

fn pair() -> DevicePair {
    DevicePair { output: "speaker".into(), input: "microphone".into(), rate_hz: 48_000, buffer_frames: 256 }
}

fn sound_check() -> SoundCheck {
    SoundCheck { found: vec![Reason::Processed(Processing::AutoGain)], overruled: true, at: ended(2) }
}

fn learned_key() -> LearnedKey {
    LearnedKey { guitar: "steel".into(), what: "Lantern on the Quay".into() }
}

#[test]
fn a_journal_of_form_1_opens_with_all_it_held_and_room_for_what_is_learned() {
    let (_folder, journal) = opened(1);
    check(&journal);
    assert_eq!(journal.learned(&learned_key()), Ok(None));
    journal.set_learned(&learned_key(), "a value", ended(1)).expect("written");
    assert_eq!(journal.learned(&learned_key()), Ok(Some(("a value".into(), ended(1)))));
}

#[test]
fn a_journal_of_form_2_opens_with_all_it_held_and_room_for_sound_checks() {
    let (_folder, journal) = opened(2);
    check(&journal);
    assert_eq!(journal.learned(&learned_key()), Ok(Some(("a value".into(), ended(1)))));
    assert_eq!(journal.sound_check(&pair()), Ok(None));
    journal.set_sound_check(&pair(), &sound_check()).expect("written");
    assert_eq!(journal.sound_check(&pair()), Ok(Some(sound_check())));
}

#[test]
fn a_journal_of_form_3_opens_with_all_it_held_and_room_for_the_path() {
    let (_folder, mut journal) = opened(3);
    check(&journal);
    assert_eq!(journal.learned(&learned_key()), Ok(Some(("a value".into(), ended(1)))));
    assert_eq!(journal.sound_check(&pair()), Ok(Some(sound_check())));
    assert_eq!(journal.steps(&key()), Ok(StepsDone::default()));
    journal.set_step(&key(), Step::Shapes, Done::Heard, ended(3)).expect("written");
    check_path(&journal, Step::Shapes);
}

#[test]
fn a_journal_of_form_4_opens_with_all_it_held() {
    let (_folder, journal) = opened(4);
    check(&journal);
    assert_eq!(journal.learned(&learned_key()), Ok(Some(("a value".into(), ended(1)))));
    assert_eq!(journal.sound_check(&pair()), Ok(Some(sound_check())));
    check_path(&journal, Step::Changes);
    assert_eq!(journal.recent_changes(None, 10), Ok(vec![change()]));
    assert_eq!(journal.last_felt(), Ok(Some((Felt::Sore, ended(4)))));
}

/// Written by someone with a second player, whose turn it is not, and with one pass taken out.
#[test]
fn a_journal_of_form_5_opens_with_all_it_held() {
    let (_folder, mut journal) = opened(5);
    let names: Vec<_> = journal.players().expect("read").into_iter().map(|player| player.name).collect();
    assert_eq!(names, ["me", "Ana"]);
    assert_eq!((journal.count_passes(), journal.deleted_passes()), (Ok(11), Ok(1)));
    assert_eq!(journal.undo_delete(), Ok(1));
    check(&journal);
    check_path(&journal, Step::Changes);
    assert_eq!(journal.recent_changes(None, 10), Ok(vec![change()]));
    assert_eq!(journal.last_felt(), Ok(Some((Felt::Sore, ended(4)))));
}

/// What is said of weeks can be said of every form.
#[test]
fn every_form_can_be_looked_back_on_passes_be_taken_out_and_players_added() {
    for form in 1..=5 {
        let (_folder, mut journal) = opened(form);
        journal.undo_delete().expect("written");
        let wanted = Wanted { sections: vec![key()], changes: vec![], since: None, zone: UtcOffset::default() };
        let found = journal.look_back(&wanted).expect("read");
        let days = &found.sections[0].days;
        assert_eq!(days.iter().map(|day| day.passes).sum::<u32>(), 12, "form {form}");
        assert_eq!(days[0].day, ended(0).day(UtcOffset::default()));
        assert_eq!(found.sections[0].bars.len(), 8);
        let (newest, _) = journal.passes_before(None, PassPlace::NEWEST, 1).expect("read")[0];
        assert_eq!(journal.delete_passes(&[newest], ended(20)), Ok(1));
        assert_eq!(journal.count_passes(), Ok(11));
        let bo = journal.add_player("Bo").expect("written");
        journal.choose_player(bo).expect("written");
        assert_eq!(journal.count_passes(), Ok(0));
    }
}

fn check_path(journal: &Journal, next: Step) {
    let steps = journal.steps(&key()).expect("read");
    assert_eq!(steps.0.get(&Step::Shapes), Some(&(Done::Heard, ended(3))));
    assert_eq!(steps.of(next), (next == Step::Shapes).then_some(Done::Heard));
}
