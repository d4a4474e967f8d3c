//! Files that are no assignments, or no longer: one message, where, and what to try.

use sixrung_exchange::assignment::{Assignment, Task};
use sixrung_exchange::report::Report;
use sixrung_lesson::Tempo;

const LESSON: &str = include_str!("../../../assets/lessons/lantern-on-the-quay.lesson.ron");

fn sound() -> String {
    let task = Task {
        sections: vec!["Verse".to_owned()],
        arrangement: Some("easy".to_owned()),
        start: Tempo::from_bpm(76.0),
        goal: Tempo::from_bpm(104.0),
        faults: Some(2),
        days: Some(5),
        minutes: Some(15),
        due: "2026-11-16".parse().ok(),
        ..Task::default()
    };
    Assignment::new(LESSON.as_bytes(), task).expect("it fits").to_text()
}

/// What is said when `from` is written as `to` in a sound file.
fn check(from: &str, to: &str, expected: &str) {
    let text = sound();
    assert!(text.contains(from), "{from:?} in {text}");
    let damaged = text.replacen(from, to, 1);
    let refusal = Assignment::read(damaged.as_bytes()).expect_err(to);
    assert_eq!(refusal.to_string(), expected, "{from:?} as {to:?}");
}

#[test]
fn another_version_is_refused_whatever_else_is_in_it() {
    let newer = "4:14: this is an assignment of version 2; version 1 can be read\n\
                 hint: it was written by a newer Sixrung: bring this one up to date";
    check("version: 1", "version: 2", newer);
    check("version: 1,", "version: 2, mood: Calm,", newer);
    check(
        "version: 1",
        "version: 0",
        "4:14: this is an assignment of version 0; version 1 can be read\nhint: write it again with `sixrung assign`",
    );
    check("    version: 1,\n", "", "3:1: an assignment needs version\nhint: add version: …");
}

#[test]
#[expect(clippy::too_many_lines, reason = "one table")]
fn what_is_written_wrong_is_told_with_its_place() {
    let rows = [
        (
            "days: 5",
            "days: \"five\"",
            "12:11: days are a whole number; found \"five\"\nhint: write it without quotes or point, as in 5",
        ),
        ("days: 5", "days: 0", "12:11: days are 1 to 60; found 0\nhint: give a number in that range"),
        (
            "days: 5",
            "days: 99999999",
            "12:11: days are a number of few digits; found 99999999\nhint: write it without quotes or point, as in 5",
        ),
        (
            "days: 5",
            "days: -1",
            "12:11: days are a number of few digits; found -1\nhint: write it without quotes or point, as in 5",
        ),
        ("days: 5", "dais: 5", "12:5: an assignment has no field dais\nhint: did you mean \"days\"?"),
        ("days: 5", "days: 5, days: 6", "12:14: days is written twice\nhint: keep one of the two"),
        (
            "days: 5,",
            "days: 5",
            "13:5: expected comma\nhint: an assignment is made of (field: value), [lists], \"texts\" and numbers",
        ),
        ("minutes: 15", "minutes: 600", "13:14: minutes are 5 to 120; found 600\nhint: give a number in that range"),
        (
            "start: 76.0",
            "start: 3",
            "7:12: the start is 10 to 400 beats a minute; found 3\nhint: write a tempo in the lesson's beats a minute",
        ),
        (
            "start: 76.0",
            "start: fast",
            "7:12: the start is a tempo in beats a minute; found fast\nhint: write it without quotes, as in 96 or 72.5",
        ),
        (
            "start: 76.0",
            "start: NaN",
            "7:12: the start is 10 to 400 beats a minute; found NaN\nhint: write a tempo in the lesson's beats a minute",
        ),
        (
            "start: 76.0",
            "start: 110",
            "7:12: the start, 110, is above the goal, 104\nhint: start slower, or set the goal higher",
        ),
        ("goal: 104.0", "goal: 140", "8:11: the goal, 140, is above the lesson's tempo, 126\nhint: give 126 or less"),
        ("\"Verse\"", "\"Verze\"", "6:17: the lesson has no section \"Verze\"\nhint: did you mean \"Verse\"?"),
        ("[\"Verse\"]", "\"Verse\"", "6:15: sections are texts in [ ]; found \"Verse\"\nhint: write [\"…\", \"…\"]"),
        (
            "[\"Verse\"]",
            "[\"Chorus\", \"Verse\", \"Chorus\"]",
            "6:36: section \"Chorus\" is asked for twice\nhint: keep one of the two",
        ),
        ("\"easy\"", "\"eazy\"", "5:18: the lesson has no arrangement \"eazy\"\nhint: did you mean \"easy\"?"),
        (
            "faults: 2",
            "faults: 2, level: \"wizard\"",
            "10:27: \"wizard\" is not a level\nhint: the names there are: \"beginner\", \"improver\", \"advanced\"",
        ),
        ("faults: 2", "faults: 2000", "9:12: faults are 0 to 999; found 2000\nhint: give a number in that range"),
        ("faults: 2", "fault: 2", "10:9: `clean` has no field fault\nhint: did you mean \"faults\"?"),
        (
            "days: 5",
            "policy: (up_after: 99), days: 5",
            "12:14: up_after is 1 to 20; found 99\nhint: give a number in that range, or leave it out",
        ),
        (
            "days: 5",
            "policy: (up: 3), days: 5",
            "12:14: `policy` has no field up\nhint: there are 19, \"hear_first\" the first of them",
        ),
        (
            "days: 5",
            "policy: (up_after: \"3\"), days: 5",
            "12:24: expected integer\nhint: an assignment is made of (field: value), [lists], \"texts\" and numbers",
        ),
        (
            "days: 5",
            "policy: (hear_first: allways), days: 5",
            "12:26: there is no choice allways\nhint: the names there are: \"never\", \"new_rung\", \"every_sitting\"",
        ),
        (
            "days: 5",
            "focus: \"one\\ntwo\", days: 5",
            "12:12: focus is one line of plain characters\nhint: one short sentence will do, or leave it out",
        ),
        (
            "days: 5",
            "learner: \"\", days: 5",
            "12:14: learner is empty\nhint: one short sentence will do, or leave it out",
        ),
        (
            "\"2026-11-16\"",
            "\"16.11.2026\"",
            "14:10: due is no date: 16.11.2026\nhint: write it year-month-day, as in \"2031-01-28\"",
        ),
        (
            "\"2026-11-16\"",
            "\"2026-02-30\"",
            "14:10: due is no date: 2026-02-30\nhint: write it year-month-day, as in \"2031-01-28\"",
        ),
        (
            "lesson_hash: \"",
            "lesson_hash: \"0",
            "15:18: the lesson in it is not the one it was made with: its hash is a481db3e3c00a90a\nhint: if it was changed on purpose, write lesson_hash: \"a481db3e3c00a90a\"",
        ),
        (
            "lesson_hash:",
            "lesson_hush:",
            "15:5: an assignment has no field lesson_hush\nhint: did you mean \"lesson_hash\"?",
        ),
        ("lesson: r", "lesson: 3, // r", "22:1: an assignment has no field Lesson\nhint: did you mean \"lesson\"?"),
        (
            "Assignment(",
            "Lesson(",
            "3:1: expected Assignment(…), found Lesson(…)\nhint: `sixrung assign` writes an assignment",
        ),
        (
            "Assignment(",
            "[",
            "3:1: expected opening `(` for struct `Assignment`\nhint: an assignment is made of (field: value), [lists], \"texts\" and numbers",
        ),
    ];
    for (from, to, expected) in rows {
        check(from, to, expected);
    }
}

#[test]
fn a_lesson_that_can_not_be_played_is_told_with_its_own_findings() {
    // As a teacher's editor could do it: the lesson and its hash are changed together.
    let lesson = LESSON.replace("(chord: \"A\", pattern: \"stop\")", "(chord: \"Aq\", pattern: \"stop\")");
    let hash = |text: &str| format!("{:016x}", sixrung_lesson::content_hash(text.as_bytes()));
    let text = sound().replace(LESSON, &lesson).replace(&hash(LESSON), &hash(&lesson));
    let refusal = Assignment::read(text.as_bytes()).expect_err("it can't be played");
    assert_eq!(refusal.findings, sixrung_lesson::read(lesson.as_bytes()).expect_err("the same"));
    assert_eq!(
        refusal.to_string(),
        "16:13: the lesson in it can't be played\nlesson:58:31: error[unknown-chord]: there is no shape \"Aq\"\nhint: did you mean \"A\"?\nhint: the teacher mends the lesson, then makes the assignment again with `sixrung assign`"
    );
}

#[test]
fn what_is_no_text_is_refused() {
    let check = |bytes: &[u8], expected: &str| {
        let refusal = Assignment::read(bytes).expect_err(expected);
        assert_eq!(refusal.to_string(), expected);
    };
    check(b"", "1:1: the file is empty\nhint: give a file that `sixrung assign` wrote");
    check(
        b"// nothing\n",
        "2:1: expected opening `(` for struct `Assignment`\nhint: an assignment is made of (field: value), [lists], \"texts\" and numbers",
    );
    check(b"\xff\xfe", "this is no text (byte 0)\nhint: give a file that `sixrung assign` wrote");
    check(
        b"RIFF\x24\x00\x00\x00WAVEfmt ",
        "1:1: expected Assignment(…), found RIFF(…)\nhint: `sixrung assign` writes an assignment",
    );
    check(
        &vec![b' '; 2 << 20],
        "2097152 bytes are more than an assignment's 1114112\nhint: is this another kind of file?",
    );
    check(
        "(".repeat(100_000).as_bytes(),
        "1:2: expected identifier\nhint: an assignment is made of (field: value), [lists], \"texts\" and numbers",
    );
    check(
        b"Report(version: 1)",
        "1:1: expected Assignment(…), found Report(…)\nhint: `sixrung assign` writes an assignment",
    );
    let refusal = Report::read(sound().as_bytes()).expect_err("no report");
    assert_eq!(
        refusal.to_string(),
        "3:1: expected Report(…), found Assignment(…)\nhint: `sixrung report` writes a report"
    );
}

#[test]
fn a_file_cut_off_anywhere_is_refused_and_none_with_a_bit_flipped_is_taken_for_another_lesson() {
    let text = sound();
    let whole = Assignment::read(text.as_bytes()).expect("sound");
    let end = text.trim_end().len();
    for cut in (0..end).step_by(17).chain(end - 40..end) {
        let Some(part) = text.get(..cut) else { continue };
        assert!(Assignment::read(part.as_bytes()).is_err(), "cut off after {cut}");
    }
    let mut taken = 0;
    for at in (0..text.len()).step_by(7) {
        let mut bytes = text.clone().into_bytes();
        bytes[at] ^= 1 << (at % 8);
        // In the lesson's text the hash tells; in a comment, a word or a number of what is asked nothing can.
        if let Ok(read) = Assignment::read(&bytes) {
            assert_eq!(read.lesson_text(), whole.lesson_text(), "byte {at}");
            taken += 1;
        }
    }
    println!("{taken} of {} flipped files can still be read", text.len().div_ceil(7));
}
