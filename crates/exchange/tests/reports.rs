//! Reports: what is counted, and what can't be in one.

use sixrung_exchange::assignment::{Assignment, Task};
use sixrung_exchange::paper::Line;
use sixrung_exchange::report::{
    Answers, Asked, Calibrated, DayRow, HeldRung, PassKind, PlayedChange, PlayedPass, Practised, Report, SectionRow,
    SlowChange, Tally, Timing, WorstBar,
};
use sixrung_lesson::Tempo;
use sixrung_practice::{Date, Day, Marked, Reason, Verdict};

const LESSON: &str = include_str!("../../../assets/lessons/lantern-on-the-quay.lesson.ron");

fn bpm(bpm: f64) -> Tempo {
    Tempo::from_bpm(bpm).expect("a tempo")
}

fn assignment() -> Assignment {
    let task = Task {
        learner: Line::new("Mira").ok(),
        sections: vec!["Verse".to_owned(), "Chorus".to_owned()],
        goal: Some(bpm(103.0)),
        days: Some(5),
        ..Task::default()
    };
    Assignment::new(LESSON.as_bytes(), task).expect("it fits")
}

/// A clean pass through the verse, heard, of half a minute.
fn pass(day: i64, tempo: f64) -> PlayedPass {
    PlayedPass {
        day: Day(day),
        seconds: 30.0,
        section: Some("Verse".to_owned()),
        arrangement: "plain".to_owned(),
        kind: PassKind::Through,
        tempo: bpm(tempo),
        verdict: Verdict::Clean,
        marked: Marked::Heard,
        fell: false,
        offset_ms: Some(-12.0),
        spread_ms: Some(20.0),
        faults: Vec::new(),
    }
}

fn change((from, to, took_s): (&str, &str, f64)) -> PlayedChange {
    PlayedChange { from: from.to_owned(), to: to.to_owned(), took_s }
}

/// Two days of everything.
fn practised() -> Practised {
    let unheard = PlayedPass { offset_ms: None, spread_ms: None, ..pass(20_760, 126.0) };
    Practised {
        passes: vec![
            pass(20_760, 76.0),
            PlayedPass { offset_ms: Some(-20.0), faults: vec![(2, 1), (5, 1)], ..pass(20_760, 84.0) },
            PlayedPass { verdict: Verdict::NotClean, fell: true, faults: vec![(5, 3), (6, 2)], ..pass(20_760, 93.0) },
            PlayedPass { verdict: Verdict::NotJudged(Reason::Silence), faults: vec![(0, 48)], ..unheard.clone() },
            // Told by the learner: faster than what was heard, and apart from it.
            PlayedPass { marked: Marked::ByPlayer, tempo: bpm(103.0), ..unheard.clone() },
            PlayedPass { marked: Marked::ByPlayer, verdict: Verdict::NotClean, ..unheard.clone() },
            // A loop of bars at full tempo is no pass through the section; its bars are the section's.
            PlayedPass { kind: PassKind::Exercise, faults: vec![(5, 1)], ..pass(20_762, 126.0) },
            // In the minutes only.
            PlayedPass { arrangement: "easy".to_owned(), ..pass(20_762, 126.0) },
            // Not asked for, and played.
            PlayedPass { section: Some("Bridge".to_owned()), ..pass(20_762, 80.0) },
            PlayedPass { section: None, seconds: 100.5, ..pass(20_762, 126.0) },
        ],
        // The slowest was timed once only.
        changes: [("D", "A", 0.8), ("D", "A", 0.9), ("D", "A", 0.7), ("A", "G", 1.4), ("A", "G", 1.1), ("A", "G", 1.2)]
            .into_iter()
            .chain([("G", "A", 9.0)])
            .map(change)
            .collect(),
        held: vec![
            HeldRung { section: Some("Verse".to_owned()), tempo: bpm(76.0), marked: Marked::Heard },
            HeldRung { section: Some("Verse".to_owned()), tempo: bpm(84.0), marked: Marked::ByPlayer },
        ],
        hurt: vec![Day(20_763)],
        calibrated: Calibrated::Loopback,
        other_lesson: 4,
        note: Line::new("the B minor still buzzes").ok(),
    }
}

#[test]
fn what_was_practised_is_counted() {
    let report = Report::of(&assignment(), &practised());
    let row = |section: &str| {
        let is_it = |row: &&SectionRow| row.section.as_ref().is_some_and(|name| name.as_str() == section);
        report.sections.iter().find(is_it).cloned().unwrap_or_else(|| panic!("{section}: {:?}", report.sections))
    };
    let verse = row("Verse");
    assert_eq!(
        verse.heard,
        Tally { passes: 4, clean: 2, not_judged: 1, falls: 1, best: Some(bpm(84.0)), held: Some(bpm(76.0)) }
    );
    assert_eq!(
        verse.self_marked,
        Tally { passes: 2, clean: 1, not_judged: 0, falls: 0, best: Some(bpm(103.0)), held: Some(bpm(84.0)) }
    );
    // Bar 6: one, three and one; over the passes that were heard and judged, loops among them.
    assert_eq!(verse.worst_bar, Some(WorstBar { bar: 6, faults: 5, passes: 4 }));
    assert_eq!(row("Chorus").heard, Tally::default());
    assert!(row("Chorus").asked && !row("Bridge").asked);
    let whole = report.sections.last().expect("the whole piece comes last");
    assert_eq!((whole.section.clone(), whole.asked, whole.heard.passes), (None, false, 1));
    assert_eq!(report.sections.len(), 4, "no section that was neither asked for nor played");
    let day = |date: &str, minutes, pain| DayRow { date: date.parse().expect("a date"), minutes, pain };
    // 2026-11-03 is day 20760 as `date -u -d @$((86400*20760)) +%F` prints it.
    let expected = [day("2026-11-03", 3.0, false), day("2026-11-05", 3.2, false), day("2026-11-06", 0.0, true)];
    assert_eq!(report.days, expected);
    let slow = report.slowest_change.clone().expect("three were timed");
    assert_eq!((slow.from.as_str(), slow.to.as_str(), slow.median_s, slow.count), ("A", "G", 1.2, 3));
    assert_eq!(report.timing, Some(Timing { offset_ms: -12.0, spread_ms: 20.0, passes: 6 }));
    assert_eq!((report.other_arrangement, report.other_lesson, report.pain), (1, 4, true));
}

#[test]
fn nothing_practised_makes_a_report_too() {
    let report = Report::of(&assignment(), &Practised::default());
    assert_eq!((report.days.len(), report.slowest_change.clone(), report.timing), (0, None, None));
    assert_eq!(report.sections.len(), 2, "what was asked for");
    assert_eq!(Report::read(report.to_text().as_bytes()), Ok(report));
}

#[test]
fn what_is_written_is_read_back() {
    let report = Report::of(&assignment(), &practised());
    let text = report.to_text();
    assert_eq!(Report::read(text.as_bytes()), Ok(report.clone()), "{text}");
    assert_eq!(Report::read(text.replace('\n', "\r\n").as_bytes()), Ok(report.clone()));
    assert_eq!(report.answers(&assignment()), Answers::This);
    let other = Assignment::new(LESSON.as_bytes(), Task::default()).expect("it fits");
    assert_eq!(report.answers(&other), Answers::AnotherAssignment);
    let changed = LESSON.replace("Low tide", "High tide");
    let other = Assignment::new(changed.as_bytes(), assignment().task().clone()).expect("it fits");
    assert_eq!(report.answers(&other), Answers::AnotherLesson);
}

#[test]
fn a_damaged_report_is_refused_with_its_place() {
    let text = Report::of(&assignment(), &practised()).to_text();
    let check = |from: &str, to: &str, expected: &str| {
        assert!(text.contains(from), "{from:?} in {text}");
        let refusal = Report::read(text.replacen(from, to, 1).as_bytes()).expect_err(to);
        assert_eq!(refusal.to_string(), expected, "{from:?} as {to:?}");
    };
    check(
        "version: 1",
        "version: 9",
        "4:14: this is a report of version 9; version 1 can be read\nhint: it was written by a newer Sixrung: bring this one up to date",
    );
    check(
        "Report(",
        "Assignment(",
        "3:1: expected Report(…), found Assignment(…)\nhint: `sixrung report` writes a report",
    );
    check(
        "passes: 4",
        "passes: -4",
        "22:58: integer is out of bounds\nhint: a report is made of (field: value), [lists], \"texts\" and numbers",
    );
    check("passes: 4", "pases: 4", "22:49: this part has no field pases\nhint: did you mean \"passes\"?");
    check(
        "\"2026-11-05\"",
        "\"2026-11-35\"",
        "18:17: \"2026-11-35\": a date is written year-month-day, as in 2031-01-28\nhint: a report is made of (field: value), [lists], \"texts\" and numbers",
    );
    check(
        "start: 76.0",
        "start: 7.0",
        "11:16: 7 is no tempo of 10 to 400 beats a minute\nhint: a report is made of (field: value), [lists], \"texts\" and numbers",
    );
    check(
        "minutes: 3.2",
        "minutes: inf",
        "18:39: inf is no number\nhint: a report is made of (field: value), [lists], \"texts\" and numbers",
    );
    check(
        "calibrated: loopback",
        "calibrated: guessed",
        "38:17: there is no choice guessed\nhint: the names there are: \"unknown\", \"from_pass\", \"loopback\", \"tap_along\", \"by_hand\"",
    );
    check(
        "lesson_hash: \"",
        "lesson_hash: \"z",
        "7:19: \"za481db3e3c00a90a\" is no fingerprint of sixteen digits\nhint: a report is made of (field: value), [lists], \"texts\" and numbers",
    );
    check(
        "lesson: \"Lantern",
        "lesson: \"Lan\\ntern",
        "6:19: is one line of plain characters\nhint: a report is made of (field: value), [lists], \"texts\" and numbers",
    );
    let end = text.trim_end().len();
    for cut in 0..end {
        assert!(text.get(..cut).is_none_or(|part| Report::read(part.as_bytes()).is_err()), "cut off after {cut}");
    }
}

/// What a report may be made of. Nothing here can hold a sound or a path: a list of numbers is not among them, nor is
/// any text but a line.
trait Told {}
impl Told for u16 {}
impl Told for u32 {}
impl Told for u64 {}
impl Told for f64 {}
impl Told for bool {}
impl Told for Line {}
impl Told for Tempo {}
impl Told for Date {}
impl Told for Calibrated {}
impl<T: Told> Told for Option<T> {}

/// Takes nothing else.
macro_rules! told {
    ($($field:ident),* $(,)?) => { $(takes(&$field);)* };
}

fn takes(_: &impl Told) {}

/// Every field by name: a new one must be put here, and does not compile if it can hold anything else.
#[test]
fn a_report_holds_numbers_and_lines_and_nothing_else() {
    let Report {
        version,
        learner,
        lesson,
        lesson_hash,
        assignment,
        asked,
        days,
        sections,
        slowest_change,
        timing,
        calibrated,
        other_arrangement,
        other_lesson,
        pain,
        note,
    } = Report::of(&assignment(), &practised());
    told!(version, learner, lesson, lesson_hash, assignment, calibrated, other_arrangement, other_lesson, pain, note);
    let Asked { arrangement, start, goal, original, days: asked_days, minutes, from, due } = asked;
    told!(arrangement, start, goal, original, asked_days, minutes, from, due);
    for DayRow { date, minutes, pain } in days {
        told!(date, minutes, pain);
    }
    for SectionRow { section, asked, heard, self_marked, worst_bar } in sections {
        told!(section, asked);
        for Tally { passes, clean, not_judged, falls, best, held } in [heard, self_marked] {
            told!(passes, clean, not_judged, falls, best, held);
        }
        let WorstBar { bar, faults, passes } = worst_bar.unwrap_or(WorstBar { bar: 0, faults: 0, passes: 0 });
        told!(bar, faults, passes);
    }
    let SlowChange { from, to, median_s, count } = slowest_change.expect("one was timed");
    told!(from, to, median_s, count);
    let Timing { offset_ms, spread_ms, passes } = timing.expect("some were heard");
    told!(offset_ms, spread_ms, passes);
}
