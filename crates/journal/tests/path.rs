//! Steps done and changes played are there again after opening.

use sixrung_journal::{ChangePair, Journal, LessonRef, PlayedChange, StretchKey};
use sixrung_lesson::Stretch;
use sixrung_practice::{Day, Done, Felt, Moment, Step};

fn key() -> StretchKey {
    StretchKey {
        lesson: LessonRef { hash: 8, title: "Lantern on the Quay".into() },
        stretch: Stretch::Section("Verse".into()),
        arrangement: "plain".into(),
    }
}

fn change(from: &str, to: &str, took_ms: u32, at: i64) -> PlayedChange {
    let pair = ChangePair { from: from.into(), to: to.into(), capo: 0 };
    PlayedChange { pair, took_ms, botched: took_ms / 2_000, at: Moment(at) }
}

#[test]
fn steps_are_kept_and_follow_a_lesson_whose_text_changed() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("journal.sqlite");
    let mut journal = Journal::open(&path, Day(20_664)).expect("opens").journal;
    journal.set_step(&key(), Step::Shapes, Done::Heard, Moment(5)).expect("written");
    journal.set_step(&key(), Step::Changes, Done::Skipped, Moment(6)).expect("written");
    journal.set_step(&key(), Step::Changes, Done::SelfMarked, Moment(7)).expect("written");
    drop(journal);
    let journal = Journal::open(&path, Day(20_664)).expect("opens").journal;
    let mended = StretchKey { lesson: LessonRef { hash: 9, ..key().lesson }, ..key() };
    for key in [key(), mended] {
        let steps = journal.steps(&key).expect("read");
        assert_eq!(steps.of(Step::Shapes), Some(Done::Heard));
        assert_eq!(steps.0.get(&Step::Changes), Some(&(Done::SelfMarked, Moment(7))));
        assert_eq!(steps.next(), Some(Step::OneStroke));
    }
    let other = StretchKey { arrangement: "full".into(), ..key() };
    assert_eq!(journal.steps(&other).expect("read").next(), Some(Step::Shapes));
}

#[test]
fn changes_are_kept_by_pair_newest_first() {
    let folder = tempfile::tempdir().expect("a folder");
    let journal = Journal::open(&folder.path().join("journal.sqlite"), Day(20_664)).expect("opens").journal;
    let played = [change("320003", "xx0232", 2_400, 1), change("xx0232", "320003", 1_900, 2)];
    let more = [change("320003", "xx0232", 900, 3), change("320003", "xx0232", 800, 4)];
    for change in played.iter().chain(&more) {
        journal.record_change(change).expect("written");
    }
    let of_pair = journal.recent_changes(Some(&more[0].pair), 2).expect("read");
    assert_eq!(of_pair, [more[1].clone(), more[0].clone()]);
    assert_eq!(journal.recent_changes(None, 10).expect("read").len(), 4);
}

#[test]
fn how_it_felt_is_kept() {
    let folder = tempfile::tempdir().expect("a folder");
    let journal = Journal::open(&folder.path().join("journal.sqlite"), Day(20_664)).expect("opens").journal;
    assert_eq!(journal.last_felt(), Ok(None));
    for (felt, at) in [(Felt::Fine, 10), (Felt::Pain, 30), (Felt::Sore, 20)] {
        journal.record_felt(felt, Moment(at)).expect("written");
    }
    assert_eq!(journal.last_felt(), Ok(Some((Felt::Pain, Moment(30)))));
}
