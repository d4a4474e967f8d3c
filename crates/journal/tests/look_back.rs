//! What is said of weeks is what was played in them.

#[path = "support/change.rs"]
mod change;
mod support;

use sixrung_journal::{
    ChangePair, HeldRung, Journal, LAST_PASSES, LessonRef, PassPlace, PassRecord, PlayedChange, PlayingDay,
    PracticeDay, StretchKey, StrokeMark, Wanted,
};
use sixrung_lesson::{Stretch, Tempo};
use sixrung_practice::{
    ChordFinding, Day, Finding, Held, Marked, Moment, Reason, RungRecord, Step, UtcOffset, Verdict,
};
use tempfile::TempDir;

use support::{key, record};

const TODAY: Day = Day(20_664);
/// Half past five ahead of UTC: a day begins at 22:30 UTC the evening before.
const ZONE: UtcOffset = UtcOffset(19_800);

fn journal() -> (TempDir, Journal) {
    let folder = tempfile::tempdir().expect("a folder");
    let journal = Journal::open(&folder.path().join("journal.sqlite"), TODAY).expect("opens").journal;
    (folder, journal)
}

fn tempo(bpm: u32) -> Tempo {
    Tempo::from_bpm(f64::from(bpm)).expect("in range")
}

/// A pass of this day, so many seconds after it begins.
fn pass(day: i64, second: i64, bpm: u32, verdict: Verdict) -> PassRecord {
    let mut record = record(1);
    record.climb = None;
    record.pass.ended = Moment(Day(day).begins(ZONE).0 + second);
    record.pass.duration_ms = 20_000;
    (record.pass.tempo, record.pass.verdict) = (tempo(bpm), verdict);
    record
}

fn heard(mut record: PassRecord, offset_ms: f64, spread_ms: f64) -> PassRecord {
    (record.pass.median_offset_ms, record.pass.spread_ms) = (Some(offset_ms), Some(spread_ms));
    record
}

fn keep(journal: &mut Journal, records: impl IntoIterator<Item = PassRecord>) {
    journal.record_all(records).expect("written");
}

#[test]
fn a_day_has_what_was_tried_what_was_reached_and_the_middle_of_what_was_heard() {
    let (_folder, mut journal) = journal();
    let unheard = |mut record: PassRecord| {
        (record.pass.median_offset_ms, record.pass.spread_ms) = (None, None);
        record
    };
    let on_one_chord = |mut record: PassRecord| {
        record.pass.step = Step::OneChord;
        record
    };
    keep(
        &mut journal,
        [
            // The last second of one day and the first of the next.
            unheard(pass(101, -1, 80, Verdict::Clean)),
            heard(pass(101, 0, 84, Verdict::Clean), 10.0, 20.0),
            heard(pass(101, 60, 93, Verdict::NotClean), 30.0, 60.0),
            heard(pass(101, 120, 76, Verdict::Clean), -4.0, 25.0),
            unheard(pass(101, 180, 126, Verdict::NotJudged(Reason::Silence))),
            on_one_chord(heard(pass(101, 240, 126, Verdict::Clean), 400.0, 400.0)),
            heard(pass(104, 7, 93, Verdict::NotClean), 3.0, 9.0),
            heard(pass(104, 8, 93, Verdict::NotClean), 5.0, 10.0),
        ],
    );
    let days = journal.practice_days(&key(), None, ZONE).expect("read");
    let empty = PracticeDay {
        day: Day(100),
        passes: 1,
        clean: 1,
        not_judged: 0,
        played_ms: 20_000,
        reached: Some(tempo(80)),
        fastest: Some(tempo(80)),
        offset_ms: None,
        spread_ms: None,
    };
    let second = PracticeDay {
        day: Day(101),
        passes: 5,
        clean: 3,
        not_judged: 1,
        played_ms: 100_000,
        reached: Some(tempo(84)),
        fastest: Some(tempo(93)),
        offset_ms: Some(10.0),
        spread_ms: Some(25.0),
    };
    let third = PracticeDay {
        day: Day(104),
        passes: 2,
        clean: 0,
        not_judged: 0,
        played_ms: 40_000,
        reached: None,
        fastest: Some(tempo(93)),
        offset_ms: Some(4.0),
        spread_ms: Some(9.5),
    };
    assert_eq!(days, [empty, second, third]);
    assert_eq!(journal.practice_days(&key(), Some(Day(101)), ZONE).expect("read"), [second, third]);
    let minutes: Vec<_> = days.iter().map(|day| PlayingDay { day: day.day, played_ms: day.played_ms }).collect();
    assert_eq!(journal.playing_days(None, ZONE).expect("read"), minutes);
    assert_eq!(journal.playing_days(Some(Day(104)), ZONE).expect("read"), minutes[2..]);
}

#[test]
fn an_earlier_text_of_the_lesson_counts_another_arrangement_or_lesson_does_not() {
    let (_folder, mut journal) = journal();
    let with = |key: StretchKey| {
        let mut record = pass(100, 0, 80, Verdict::Clean);
        record.pass.key = key;
        record
    };
    let older = StretchKey { lesson: LessonRef { hash: 1, ..key().lesson }, ..key() };
    let full = StretchKey { arrangement: "full".into(), ..key() };
    let other = StretchKey { lesson: LessonRef { hash: 2, title: "Another".into() }, ..key() };
    let looped = StretchKey { stretch: Stretch::Bars { section: "Verse".into(), first: 2, end: 4 }, ..key() };
    keep(&mut journal, [key(), older, full.clone(), other, looped.clone()].map(with));
    let passes = |key: &StretchKey| journal.practice_days(key, None, ZONE).expect("read")[0].passes;
    assert_eq!((passes(&key()), passes(&full), passes(&looped)), (2, 1, 1));
    assert_eq!(journal.playing_days(None, ZONE).expect("read")[0].played_ms, 100_000, "minutes are of everything");
}

#[test]
fn rungs_held_come_in_the_order_they_came_to_be() {
    let (_folder, mut journal) = journal();
    let mut climb = record(3).climb.expect("each has one");
    climb.rungs.clear();
    let rung = |at: Option<i64>, marked| RungRecord {
        last_played: Moment(9_000),
        known: true,
        falls: 0,
        held: at.map(|at| Held { at: Moment(at), marked }),
    };
    climb.rungs.insert(tempo(76), rung(Some(5_000), Marked::ByPlayer));
    climb.rungs.insert(tempo(84), rung(Some(3_000), Marked::Heard));
    climb.rungs.insert(tempo(93), rung(None, Marked::Heard));
    journal.set_climb(&key(), &climb).expect("written");
    let held = [
        HeldRung { tempo: tempo(84), at: Moment(3_000), marked: Marked::Heard },
        HeldRung { tempo: tempo(76), at: Moment(5_000), marked: Marked::ByPlayer },
    ];
    assert_eq!(journal.held_rungs(&key()).expect("read"), held);
}

/// Two strokes a bar, all in time but for those named.
fn strokes(bars: u16, faults: &[(u16, u8, Finding, ChordFinding)]) -> Vec<StrokeMark> {
    let mark = record(0).strokes.marks[0];
    let stroke = |index: u16| {
        let (bar, slot) = (index / 2, u8::try_from(index % 2).expect("small"));
        let fault = faults.iter().find(|fault| (fault.0, fault.1) == (bar, slot));
        let (finding, chord) = fault.map_or((Finding::InTime, ChordFinding::Right), |fault| (fault.2, fault.3));
        StrokeMark { bar, slot, finding, chord, ..mark }
    };
    (0..bars * 2).map(stroke).collect()
}

#[test]
fn the_trouble_of_a_bar_is_the_share_of_its_last_passes_with_a_fault_in_it() {
    let (_folder, mut journal) = journal();
    let played = |second, faults: &[_]| {
        let mut record = pass(100, second, 80, Verdict::NotClean);
        record.strokes.marks = strokes(3, faults);
        record
    };
    let looped = |second, faults: &[_]| {
        let mut record = played(second, faults);
        record.strokes.marks = strokes(2, faults);
        record.pass.key.stretch = Stretch::Bars { section: "Verse".into(), first: 1, end: 3 };
        record
    };
    let late = (1, 0, Finding::Late, ChordFinding::Right);
    let wrong = (1, 1, Finding::InTime, ChordFinding::Wrong);
    let missed = (2, 0, Finding::Missed, ChordFinding::Unsure);
    let mut not_judged = played(40, &[late]);
    not_judged.pass.verdict = Verdict::NotJudged(Reason::Gap);
    let mut by_the_player = played(41, &[]);
    by_the_player.strokes.marks.clear();
    let mut one_chord = played(42, &[late, wrong, missed]);
    one_chord.pass.step = Step::OneChord;
    keep(
        &mut journal,
        [
            played(0, &[missed]),
            looped(5, &[late]),
            played(10, &[late, wrong]),
            played(20, &[wrong]),
            // Bar 1 of the loop is bar 2 of the section.
            looped(30, &[late]),
            not_judged,
            by_the_player,
            one_chord,
        ],
    );
    let shares = |last| {
        let bars = journal.bar_troubles(&key(), last).expect("read");
        bars.iter().map(|bar| (bar.bar, bar.with_fault, bar.passes, bar.faults, bar.strokes)).collect::<Vec<_>>()
    };
    assert_eq!(shares(LAST_PASSES), [(0, 0, 3, 0, 6), (1, 2, 5, 3, 10), (2, 3, 5, 3, 10)]);
    // The last two: the loop played before them no longer counts.
    assert_eq!(shares(2), [(0, 0, 2, 0, 4), (1, 2, 3, 3, 6), (2, 1, 3, 1, 6)]);
    let bars = journal.bar_troubles(&key(), LAST_PASSES).expect("read");
    assert!((bars[1].share() - 0.4).abs() < 1e-9);
}

#[test]
fn a_change_has_its_median_of_each_day() {
    let (_folder, mut journal) = journal();
    let pair = ChangePair { from: "320003".into(), to: "xx0232".into(), capo: 0 };
    let change = |day: i64, second: i64, took_ms| PlayedChange {
        pair: pair.clone(),
        took_ms,
        botched: 0,
        at: Moment(Day(day).begins(ZONE).0 + second),
    };
    let with_capo = PlayedChange { pair: ChangePair { capo: 2, ..pair.clone() }, ..change(100, 3, 10) };
    let back = PlayedChange {
        pair: ChangePair { from: pair.to.clone(), to: pair.from.clone(), capo: 0 },
        ..change(100, 4, 20)
    };
    let played = [change(100, 0, 900), change(100, 1, 2_000), change(100, 2, 800), change(103, 0, 500)];
    journal.record_changes(played.into_iter().chain([change(103, 1, 600), with_capo, back])).expect("written");
    let history = journal.change_history(&pair, None, ZONE).expect("read");
    let days: Vec<_> = history.days.iter().map(|day| (day.day.0, day.times, day.median_ms)).collect();
    assert_eq!(days, [(100, 3, 900.0), (103, 2, 550.0)]);
    assert_eq!(journal.change_history(&pair, Some(Day(103)), ZONE).expect("read").days, history.days[1..]);
}

#[test]
fn passes_come_page_by_page_and_each_can_be_opened() {
    let (_folder, mut journal) = journal();
    let mut records: Vec<_> = (0..40).map(record).collect();
    // Three that ended in the same second, and some of another lesson.
    (13..16).for_each(|number: usize| records[number].pass.ended = support::ended(13));
    (0..40)
        .step_by(5)
        .for_each(|number: usize| records[number].pass.key.lesson = LessonRef { hash: 9, title: "Another".into() });
    keep(&mut journal, records.clone());
    for title in [None, Some("Another"), Some("Lantern on the Quay")] {
        let expected: Vec<_> = records
            .iter()
            .rev()
            .filter(|record| title.is_none_or(|title| record.pass.key.lesson.title == title))
            .collect();
        let (mut place, mut found) = (PassPlace::NEWEST, Vec::new());
        loop {
            let page = journal.passes_before(title, place, 7).expect("read");
            let Some((id, last)) = page.last() else { break };
            place = PassPlace { ended: last.ended, id: *id };
            found.extend(page);
        }
        assert_eq!(found.len(), expected.len(), "{title:?}");
        for ((id, pass), expected) in found.iter().zip(expected) {
            assert_eq!(*pass, expected.pass);
            let kept = journal.kept_pass(*id).expect("read").expect("there");
            assert_eq!((&kept.pass, &kept.strokes), (pass, &expected.strokes));
        }
    }
    assert_eq!(journal.passes_before(Some("Never"), PassPlace::NEWEST, 7), Ok(Vec::new()));
}

#[test]
fn one_question_has_all_of_it_in_the_order_asked_for() {
    let (_folder, mut journal) = journal();
    keep(&mut journal, [pass(100, 0, 80, Verdict::Clean)]);
    journal.record_change(&change::change()).expect("written");
    let chorus = StretchKey { stretch: Stretch::Section("Chorus".into()), ..key() };
    let wanted =
        Wanted { sections: vec![chorus, key()], changes: vec![change::change().pair], since: None, zone: ZONE };
    let found = journal.look_back(&wanted).expect("read");
    assert_eq!(found.sections[0], sixrung_journal::SectionHistory::default());
    assert_eq!(found.sections[1].days, journal.practice_days(&key(), None, ZONE).expect("read"));
    assert_eq!(found.sections[1].bars, journal.bar_troubles(&key(), LAST_PASSES).expect("read"));
    assert_eq!(found.changes[0].days[0].times, 1);
    assert_eq!(found.playing.len(), 1);
}
