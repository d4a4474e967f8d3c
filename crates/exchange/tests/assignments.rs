//! Assignments: written and read back, the ladder they make, and what is said of tasks that do not fit.

use sixrung_exchange::assignment::{Assignment, NotMade, Task};
use sixrung_exchange::paper::{Line, LineError};
use sixrung_lesson::{Level, Tempo, content_hash};
use sixrung_practice::{Feedback, HearFirst, Ladder, Offers, Policy, SessionEnd, Start};

const DEMOS: [&str; 4] = [
    include_str!("../../../assets/lessons/lantern-on-the-quay.lesson.ron"),
    include_str!("../../../assets/lessons/ferry-lullaby.lesson.ron"),
    include_str!("../../../assets/lessons/kettle-and-clock.lesson.ron"),
    include_str!("../../../assets/lessons/tin-roof-shuffle.lesson.ron"),
];

fn bpm(bpm: f64) -> Option<Tempo> {
    Tempo::from_bpm(bpm)
}

fn line(text: &str) -> Option<Line> {
    Some(Line::new(text).expect("a line"))
}

/// Everything asked that can be.
fn full() -> Task {
    Task {
        learner: line("Mira \"the reed\""),
        arrangement: Some("easy".to_owned()),
        sections: vec!["Chorus".to_owned(), "Verse".to_owned()],
        start: bpm(72.5),
        goal: bpm(104.0),
        level: Some(Level::Improver),
        faults: Some(3),
        policy: Some(Policy {
            hear_first: HearFirst::EverySitting,
            start: Start::Probe,
            up_after: 4,
            recheck_up_after: 2,
            down_after: 3,
            propose_after_falls: 3,
            offers: Offers { worst_bars: true, half_rung: false, stand_in: true },
            rest_after_passes: 8,
            rest_after_falls: 2,
            least_success: 0.5,
            success_window: 6,
            overlearn: 0.25,
            rest_between_passes_s: 12,
            run_every_passes: 5,
            feedback: Feedback::ShareOnly,
            session_end: SessionEnd::Anywhere,
            next_day_steps_back: 2,
            hold_after_s: 20 * 3600,
            new_sitting_after_s: 3600,
        }),
        days: Some(5),
        minutes: Some(15),
        from: Some("2026-11-02".parse().expect("a date")),
        due: Some("2026-11-16".parse().expect("a date")),
        focus: line("let the hand swing on through the change"),
        stop_on: line("stop when the thumb hurts, and tell me"),
    }
}

fn made(lesson: &str, task: Task) -> Assignment {
    Assignment::new(lesson.as_bytes(), task).expect("it fits")
}

#[test]
fn what_is_written_is_read_back() {
    let check = |assignment: &Assignment| {
        let text = assignment.to_text();
        let read = Assignment::read(text.as_bytes()).unwrap_or_else(|refusal| panic!("{refusal}\n{text}"));
        assert_eq!(read, *assignment);
        assert_eq!((read.id(), read.to_text()), (assignment.id(), text));
    };
    for lesson in DEMOS {
        check(&made(lesson, Task::default()));
    }
    check(&made(DEMOS[0], full()));
    // Some rules of the climb alone.
    let (usual, all) = (Policy::of(&made(DEMOS[0], full()).original().ladder), full().policy.expect("given"));
    for policy in [
        Policy { hear_first: all.hear_first, ..usual },
        Policy { offers: all.offers, ..usual },
        Policy { least_success: all.least_success, ..usual },
        Policy { session_end: all.session_end, ..usual },
        Policy { hold_after_s: all.hold_after_s, ..usual },
    ] {
        let assignment = made(DEMOS[0], Task { policy: Some(policy), ..Task::default() });
        assert_eq!(assignment.policy(), policy);
        check(&assignment);
    }
    // What the lesson and the usual rules say anyway is not written.
    let plain = made(DEMOS[0], Task { policy: Some(usual), ..Task::default() });
    assert!(!plain.to_text().contains("policy"), "{}", plain.to_text());
    assert_eq!(plain.id(), made(DEMOS[0], Task::default()).id());
}

#[test]
fn the_lesson_comes_through_byte_for_byte_however_it_was_saved() {
    let odd = [
        DEMOS[0].replace('\n', "\r\n"),
        format!("\u{feff}{}", DEMOS[0]),
        DEMOS[0].replace("// Lantern", "// \"## r#\"Lantern\"#, \\ \t"),
        format!("{}\n\n", DEMOS[0]),
    ];
    for lesson in odd {
        let assignment = made(&lesson, full());
        let text = assignment.to_text();
        let read = Assignment::read(text.as_bytes()).unwrap_or_else(|refusal| panic!("{refusal}"));
        assert_eq!(read.lesson_text(), lesson);
        assert_eq!(read.lesson_hash(), content_hash(lesson.as_bytes()));
    }
}

/// Lines of text in mail end with CR LF (RFC 2046, 4.1.1).
#[test]
fn mail_may_change_the_line_ends() {
    let unix = made(DEMOS[0], full());
    assert_eq!(Assignment::read(unix.to_text().replace('\n', "\r\n").as_bytes()), Ok(unix));
    let windows = made(&DEMOS[0].replace('\n', "\r\n"), full());
    assert_eq!(Assignment::read(windows.to_text().replace("\r\n", "\n").as_bytes()), Ok(windows));
}

#[test]
fn the_ladder_goes_from_the_start_to_the_goal() {
    let check = |start: Option<f64>, goal: Option<f64>, expected: &[f64]| {
        let task = Task { start: start.and_then(bpm), goal: goal.and_then(bpm), ..Task::default() };
        let assignment = made(DEMOS[0], task);
        let ladder = assignment.ladder();
        let rungs: Vec<f64> = ladder.rungs().iter().map(|rung| rung.bpm()).collect();
        assert_eq!(rungs, expected, "{start:?} to {goal:?}");
        let lesson = assignment.lesson();
        assert_eq!(Ladder::new(&lesson.ladder, lesson.tempo), ladder);
        assert_eq!(ladder.original().bpm(), 126.0);
        assert_eq!((assignment.start(), assignment.goal()), (ladder.first(), ladder.last()));
    };
    // The lesson: six rungs from 60 % of 126.
    check(None, None, &[76.0, 84.0, 93.0, 103.0, 114.0, 126.0]);
    // 103 can't be told apart from 105 (3 %).
    check(None, Some(105.0), &[76.0, 84.0, 93.0, 105.0]);
    check(None, Some(103.0), &[76.0, 84.0, 93.0, 103.0]);
    check(None, Some(126.0), &[76.0, 84.0, 93.0, 103.0, 114.0, 126.0]);
    check(None, Some(70.0), &[70.0]);
    // Six again, from half the tempo: the ratio is 2^(1/5).
    check(Some(63.0), None, &[63.0, 72.0, 83.0, 95.0, 110.0, 126.0]);
    check(Some(63.0), Some(90.0), &[63.0, 72.0, 83.0, 90.0]);
    check(Some(72.5), Some(80.0), &[72.5, 80.0]);
    check(Some(80.0), Some(80.0), &[80.0]);
    check(Some(126.0), None, &[126.0]);
}

#[test]
fn rungs_a_teacher_named_stay() {
    let lesson = DEMOS[0].replace("ladder: (start: 60, rungs: 6,", "ladder: (bpm: [70, 71, 90, 110],");
    let task = Task { start: bpm(71.0), goal: bpm(111.0), ..Task::default() };
    let rungs: Vec<f64> = made(&lesson, task).ladder().rungs().iter().map(|rung| rung.bpm()).collect();
    assert_eq!(rungs, [71.0, 90.0, 110.0, 111.0]);
}

#[test]
fn the_lesson_to_practise_follows_what_is_asked() {
    let assignment = made(DEMOS[0], full());
    let lesson = assignment.lesson();
    let names: Vec<&str> = lesson.arrangements.iter().map(|arrangement| arrangement.name.as_str()).collect();
    assert_eq!(names, ["easy", "plain", "full"]);
    assert_eq!((lesson.criterion.level, lesson.criterion.allowed_faults), (Level::Improver, Some(3)));
    assert_eq!((lesson.ladder.up_after, lesson.ladder.down_after), (4, 3));
    assert_eq!(assignment.task().sections, ["Verse", "Chorus"], "in the lesson's order");
    assert!(assignment.asks_for("Verse") && !assignment.asks_for("Bridge"));
    assert_eq!(lesson.sections, assignment.original().sections);
    assert_eq!(lesson.tempo.bpm(), 126.0);
}

#[test]
fn what_does_not_fit_the_lesson_is_told() {
    let check = |task: Task, expected: &str| match Assignment::new(DEMOS[0].as_bytes(), task) {
        Err(NotMade::Task(wrong)) => assert_eq!(wrong.to_string(), expected),
        other => panic!("{expected}: {other:?}"),
    };
    check(
        Task { sections: vec!["Verze".to_owned()], ..Task::default() },
        "the lesson has no section \"Verze\"\nhint: did you mean \"Verse\"?",
    );
    check(
        Task { sections: vec!["Verse".to_owned(), "Verse".to_owned()], ..Task::default() },
        "section \"Verse\" is asked for twice\nhint: keep one of the two",
    );
    check(
        Task { arrangement: Some("plane".to_owned()), ..Task::default() },
        "the lesson has no arrangement \"plane\"\nhint: did you mean \"plain\"?",
    );
    check(
        Task { goal: bpm(130.0), ..Task::default() },
        "the goal, 130, is above the lesson's tempo, 126\nhint: give 126 or less",
    );
    check(
        Task { start: bpm(126.5), ..Task::default() },
        "the start, 126.5, is above the lesson's tempo, 126\nhint: give 126 or less",
    );
    check(
        Task { start: bpm(100.0), goal: bpm(90.0), ..Task::default() },
        "the start, 100, is above the goal, 90\nhint: start slower, or set the goal higher",
    );
    check(Task { days: Some(0), ..Task::default() }, "days are 1 to 60; found 0\nhint: give a number in that range");
    check(
        Task { minutes: Some(121), ..Task::default() },
        "minutes are 5 to 120; found 121\nhint: give a number in that range",
    );
    check(
        Task { policy: Some(Policy { up_after: 0, ..Policy::default() }), ..Task::default() },
        "up_after is 1 to 20; found 0\nhint: give a number in that range, or leave it out",
    );
    check(
        Task { from: "2026-11-10".parse().ok(), due: "2026-11-09".parse().ok(), ..Task::default() },
        "it is due on 2026-11-09, before it begins on 2026-11-10\nhint: give a later day",
    );
    let not_made = Assignment::new(b"Lesson()", Task::default()).expect_err("no lesson");
    assert!(matches!(not_made, NotMade::Lesson(findings) if !findings.is_empty()));
}

#[test]
fn a_line_is_short_and_plain() {
    assert_eq!(Line::new("  Mira ").expect("a line").as_str(), "Mira");
    assert_eq!(Line::new(&"é".repeat(201)), Err(LineError::TooLong(201)));
    assert_eq!(Line::new("a\nb"), Err(LineError::Control));
    assert_eq!(Line::new(" \t"), Err(LineError::Blank));
}
