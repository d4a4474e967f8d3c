//! Passes taken out are gone from everything, and come back; each player has their own.

#[path = "support/change.rs"]
mod change;
mod support;

use std::path::Path;

use sixrung_journal::{Journal, JournalError, PassId, PassPlace, PlayerId, Table, Wanted};
use sixrung_practice::{Day, Done, Felt, Moment, Step, StepsDone, UtcOffset};

use support::{ended, key, record};

const TODAY: Day = Day(20_664);
const ZONE: UtcOffset = UtcOffset(0);

fn open(path: &Path) -> Journal {
    Journal::open(path, TODAY).expect("opens").journal
}

/// Everything that is said of the passes.
fn said(journal: &Journal) -> String {
    let wanted = Wanted { sections: vec![key()], changes: vec![change::change().pair], since: None, zone: ZONE };
    let mut csv = Vec::new();
    journal.export(Table::PassesCsv, &mut csv).expect("written");
    format!(
        "{:?} {:?} {:?} {:?} {:?} {csv:?}",
        journal.look_back(&wanted).expect("read"),
        journal.recent_passes(Some(&key()), 100).expect("read"),
        journal.passes_before(Some("Lantern on the Quay"), PassPlace::NEWEST, 100).expect("read"),
        journal.count_passes(),
        journal.minutes_today(ended(3), ZONE),
    )
}

#[test]
fn what_is_taken_out_counts_nowhere_and_comes_back_whole_even_after_closing() {
    let folder = tempfile::tempdir().expect("a folder");
    let (path, never) = (folder.path().join("journal.sqlite"), folder.path().join("never.sqlite"));
    let (mut journal, mut without) = (open(&path), open(&never));
    let ids: Vec<_> = (0..6).map(|number| journal.record(&record(number)).expect("written")).collect();
    let kept: Vec<_> = journal.recent_passes(None, 1).expect("read");
    assert_eq!(kept[0].0, ids[5]);
    let whole = said(&journal);
    // The same passes without two of them, under the same numbers.
    without.record_all((0..6).map(record)).expect("written");
    assert_eq!(without.delete_passes(&[ids[1]], ended(9)), Ok(1));
    assert_eq!(without.delete_passes(&[ids[2], ids[5]], ended(9)), Ok(2), "the one before is gone for good");
    assert_eq!(without.undo_delete(), Ok(2));
    assert_eq!(without.undo_delete(), Ok(0), "one step back");
    assert_eq!(without.count_passes(), Ok(5));
    assert_eq!(without.kept_pass(ids[1]), Ok(None));
    assert_eq!(without.strokes(ids[1]), Ok(None), "its strokes went with it");

    let climb = journal.climb(&key()).expect("read");
    assert_eq!(journal.delete_passes(&[ids[1], ids[5], PassId(999)], ended(9)), Ok(2));
    assert_eq!((journal.count_passes(), journal.deleted_passes()), (Ok(4), Ok(2)));
    assert_eq!(journal.kept_pass(ids[5]), Ok(None));
    assert_ne!(said(&journal), whole);
    assert_eq!(journal.climb(&key()).expect("read"), climb, "the climb stands where it stood");
    drop(journal);
    let mut journal = open(&path);
    let newer = journal.record(&record(6)).expect("written");
    assert_eq!(journal.undo_delete(), Ok(2), "put back beside a pass played since");
    assert_eq!(journal.count_passes(), Ok(7));
    assert_eq!(journal.delete_passes(&[newer], ended(9)), Ok(1));
    let all: Vec<_> = journal.recent_passes(None, 9).expect("read").into_iter().map(|(id, _)| id).collect();
    assert_eq!(all, ids.iter().rev().copied().collect::<Vec<_>>(), "under the names they had");
    assert_eq!(said(&journal), whole);
}

#[test]
fn each_player_has_passes_climbs_steps_changes_and_hands_of_their_own() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let mut journal = open(&path);
    let first = journal.player();
    let id = journal.record(&record(2)).expect("written");
    journal.set_step(&key(), Step::Shapes, Done::Heard, Moment(5)).expect("written");
    journal.record_change(&change::change()).expect("written");
    journal.record_felt(Felt::Sore, Moment(5)).expect("written");
    let (mine, steps) = (said(&journal), journal.steps(&key()).expect("read"));

    let ana = journal.add_player(" Ana ").expect("written");
    assert_eq!(journal.player(), first, "adding is not choosing");
    journal.choose_player(ana).expect("written");
    assert_eq!(journal.count_passes(), Ok(0));
    assert_eq!(journal.climb(&key()), Ok(None));
    assert_eq!(journal.steps(&key()), Ok(StepsDone::default()));
    assert_eq!((journal.recent_changes(None, 9), journal.last_felt()), (Ok(Vec::new()), Ok(None)));
    assert_eq!(journal.kept_pass(id), Ok(None));
    assert_eq!(journal.delete_passes(&[id], Moment(9)), Ok(0), "another's pass is not hers to take out");
    journal.record(&record(0)).expect("written");
    drop(journal);

    let mut journal = open(&path);
    assert_eq!(journal.player(), ana, "the one chosen last");
    assert_eq!(journal.count_passes(), Ok(1));
    journal.rename_player(first, "Bo").expect("written");
    journal.rename_player(ana, "ANA").expect("her own name in capitals is not taken");
    let names: Vec<_> = journal.players().expect("read").into_iter().map(|player| player.name).collect();
    assert_eq!(names, ["Bo", "ANA"]);
    journal.choose_player(first).expect("written");
    assert_eq!((said(&journal), journal.steps(&key()).expect("read")), (mine, steps));
}

#[test]
fn a_name_that_cannot_be_is_refused_with_its_reason() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut journal = open(&folder.path().join("journal.sqlite"));
    journal.add_player("Ana").expect("written");
    for name in ["", "  ", "ana", "ANA ", &"x".repeat(61)] {
        let refused = journal.add_player(name).expect_err("no name");
        assert!(matches!(refused, JournalError::BadName { .. }), "{name:?}: {refused}");
    }
    let nobody = PlayerId(77);
    assert_eq!(journal.rename_player(nobody, "Cy"), Err(JournalError::NoSuchPlayer));
    assert_eq!(journal.choose_player(nobody), Err(JournalError::NoSuchPlayer));
    assert_eq!(journal.players().expect("read").len(), 2);
}
