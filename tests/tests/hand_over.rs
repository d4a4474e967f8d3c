//! From the teacher to the learner and back, by the command line's own functions: an assignment is made, two weeks are
//! practised, a report is made and printed. And the window's room follows an assignment that is opened in it.

use sixrung::library::Source;
use sixrung::stand::{Intent, TodayWish};
use sixrung::studio::Studio;
use sixrung_devices::{SimulatedConfig, Sound};
use sixrung_exchange::assignment::Assignment;
use sixrung_journal::{
    ChangePair, DevicePair, Journal, LessonRef, Measured, PassRecord, PlayedChange, PlayedPass, RoundTrip, StretchKey,
    StrokeMark, Strokes,
};
use sixrung_lesson::{Action, Direction, Level, Stretch, Tempo};
use sixrung_practice::today::What;
use sixrung_practice::{
    ChordFinding, Climb, Date, Effect, Felt, Finding, Input, Marked, Moment, Pass, Reason, Step, UtcOffset, Verdict,
};
use sixrung_tests::called::{call, path};

const LESSON: &str = "lantern-on-the-quay";
/// Two weeks from a Monday on.
const FROM: &str = "2026-11-02";
const DAYS: i64 = 14;
/// Half past four in the afternoon, UTC: on the same practice day in any zone from −12 to +11 hours.
const HOUR_S: i64 = 16 * 3600 + 1800;
/// Names that a report must not carry.
const SPEAKER: &str = "/dev/snd/by-path/pci-0000-speaker";
const MICROPHONE: &str = "/home/mira/.config/microphone";

fn done(args: &[&str]) -> String {
    let called = call(args);
    assert_eq!(called.code, 0, "{args:?}: {}", called.err);
    called.out
}

/// What the script itself counts, to hold the report against.
#[derive(Debug, Default, PartialEq)]
struct Counted {
    passes: u64,
    clean: u64,
    not_judged: u64,
    falls: u64,
    best: f64,
    held: f64,
    bar_6: u64,
    judged: u64,
    seconds: f64,
}

/// Strokes of eight bars; some of the sixth, and one of the second now and then, are late.
fn strokes(verdict: Verdict, turn: i64) -> Strokes {
    let mark = |index: u16| {
        let (bar, slot) = (index / 6, index % 6);
        let late = (bar == 5 && slot < 3 && verdict == Verdict::NotClean) || (bar == 1 && slot == 0 && turn % 5 == 0);
        StrokeMark {
            bar,
            slot: u8::try_from(slot).expect("small"),
            action: Action::Strum,
            direction: Direction::Down,
            shape: Some(0),
            finding: if late { Finding::Late } else { Finding::InTime },
            chord: ChordFinding::Right,
            expected_ms: u32::from(index) * 300,
            offset_tenth_ms: Some(if late { 900 } else { -120 }),
            window_ms: 80,
        }
    };
    Strokes { marks: (0..48).map(mark).collect(), extras_ms: Vec::new() }
}

fn key(assignment: &Assignment, stretch: Stretch) -> StretchKey {
    let lesson = LessonRef { hash: assignment.lesson_hash(), title: assignment.original().title.clone() };
    StretchKey { lesson, stretch, arrangement: assignment.arrangement().to_owned() }
}

fn pass(key: StretchKey, ended: Moment, tempo: Tempo, verdict: Verdict, marked: Marked) -> PlayedPass {
    let heard = marked == Marked::Heard && !matches!(verdict, Verdict::NotJudged(_));
    PlayedPass {
        key,
        step: Step::Climb,
        ended,
        duration_ms: 24_000,
        tempo,
        rung: Some(tempo),
        rung_after: Some(tempo),
        verdict,
        marked,
        level: Level::Beginner,
        allowed_faults: 3,
        counts: sixrung_journal::Counts::default(),
        median_offset_ms: heard.then_some(-12.0),
        spread_ms: heard.then_some(21.5),
        sound: format!("out {SPEAKER}, in {MICROPHONE}, round trip 21.0 ms"),
    }
}

/// Ten passes through the verse on each day but every fourth, by a script of outcomes; the program's own climb decides
/// the tempi.
fn practise(journal: &mut Journal, assignment: &Assignment) -> Counted {
    let verse = key(assignment, Stretch::Section("Verse".to_owned()));
    let begin = FROM.parse::<Date>().expect("a date").day().0 * 86_400 + HOUR_S;
    let mut climb = Climb::new(assignment.ladder(), assignment.policy(), UtcOffset(0));
    let mut counted = Counted::default();
    for day in (0..DAYS).filter(|day| day % 4 != 3) {
        let start = Moment(begin + day * 86_400);
        climb.update(Input::Open, start);
        for turn in 0..10 {
            let verdict = match (day * 10 + turn) % 9 {
                3 | 4 if day < 8 => Verdict::NotClean,
                8 => Verdict::NotJudged(Reason::TooFaint),
                _ => Verdict::Clean,
            };
            let (tempo, ended) = (climb.at(), Moment(start.0 + 40 * (turn + 1)));
            let effects = climb.update(Input::Pass(Pass { tempo, verdict, marked: Marked::Heard }), ended);
            let strokes = strokes(verdict, turn);
            let mut pass = pass(verse.clone(), ended, tempo, verdict, Marked::Heard);
            (pass.rung_after, pass.counts) = (Some(climb.at()), strokes.counts());
            counted.passes += 1;
            counted.seconds += 24.0;
            counted.falls += u64::from(effects.iter().any(|effect| matches!(effect, Effect::Fell { .. })));
            match verdict {
                Verdict::Clean => (counted.clean, counted.best) = (counted.clean + 1, counted.best.max(tempo.bpm())),
                Verdict::NotClean => counted.bar_6 += 3,
                Verdict::NotJudged(_) => counted.not_judged += 1,
            }
            counted.judged += u64::from(!matches!(verdict, Verdict::NotJudged(_)));
            journal.record(&PassRecord { pass, strokes, climb: Some(climb.state().clone()) }).expect("it is kept");
        }
    }
    let held = climb.state().rungs.iter().filter(|(_, rung)| rung.held.is_some());
    counted.held = held.map(|(tempo, _)| tempo.bpm()).fold(0.0, f64::max);
    counted
}

/// What else lies in a journal after two weeks.
fn beside(journal: &mut Journal, assignment: &Assignment) {
    let at = |day: i64, second: i64| {
        Moment((FROM.parse::<Date>().expect("a date").day().0 + day) * 86_400 + HOUR_S + 3600 + second)
    };
    let bpm = |bpm| Tempo::from_bpm(bpm).expect("a tempo");
    let mut keep = |pass: PlayedPass| {
        let record = PassRecord { pass, strokes: Strokes::default(), climb: None };
        journal.record(&record).expect("it is kept");
    };
    let section = |name: &str| key(assignment, Stretch::Section(name.to_owned()));
    // Two passes marked by the learner, faster than any that was heard.
    for second in [0, 40] {
        keep(pass(section("Chorus"), at(6, second), bpm(104.0), Verdict::Clean, Marked::ByPlayer));
    }
    // Before the assignment, with an older text of the lesson, and of another lesson.
    keep(pass(section("Chorus"), at(-3, 0), bpm(104.0), Verdict::Clean, Marked::Heard));
    let mut older = section("Chorus");
    older.lesson.hash ^= 1;
    keep(pass(older, at(6, 100), bpm(104.0), Verdict::Clean, Marked::Heard));
    let mut other = section("Chorus");
    other.lesson = LessonRef { hash: 7, title: "Ferry Lullaby".to_owned() };
    keep(pass(other.clone(), at(6, 140), bpm(60.0), Verdict::Clean, Marked::Heard));
    // On a day without this lesson: what hurt then is no affair of its teacher's.
    keep(pass(other, at(3, 0), bpm(60.0), Verdict::Clean, Marked::Heard));
    journal.record_felt(Felt::Pain, at(3, 100)).expect("it is kept");
    let pair = ChangePair { from: "xx0232".to_owned(), to: "x02220".to_owned(), capo: 0 };
    for (turn, took_ms) in [1200, 900, 1100, 800, 1000].into_iter().enumerate() {
        let change = PlayedChange { pair: pair.clone(), took_ms, botched: 0, at: at(2, turn as i64) };
        journal.record_change(&change).expect("it is kept");
    }
    journal.record_felt(Felt::Sore, at(1, 0)).expect("it is kept");
    journal.record_felt(Felt::Pain, at(9, 0)).expect("it is kept");
    let devices =
        DevicePair { output: SPEAKER.to_owned(), input: MICROPHONE.to_owned(), rate_hz: 48_000, buffer_frames: 256 };
    let trip = RoundTrip { ms: 21.0, spread_ms: 0.2, how: Measured::Loopback, measured: at(-1, 0) };
    journal.set_round_trip(&devices, &trip).expect("it is kept");
}

fn assign(out: &str) -> String {
    done(&[
        "assign",
        LESSON,
        "--out",
        out,
        "--for",
        "Mira",
        "--section",
        "verse",
        "--section",
        "Chorus",
        "--start",
        "60%",
        "--goal",
        "104",
        "--days",
        "10",
        "--minutes",
        "15",
        "--from",
        FROM,
        "--due",
        "2026-11-16",
        "--focus",
        "let the hand swing on through the change",
        "--stop-on",
        "stop when the thumb hurts",
    ])
}

#[test]
fn two_weeks_from_the_assignment_to_the_printed_report() {
    let dir = tempfile::tempdir().expect("a folder");
    let (file, report) = (path(dir.path(), "mira.assignment.ron"), path(dir.path(), "mira.report.ron"));
    let told = assign(&file);
    let expected = ": for Mira, \"Lantern on the Quay\" (plain): Verse, Chorus, 76 to 104 of 126 beats a minute, \
                    10 days of 15 minutes, from 2026-11-02, due 2026-11-16\n";
    assert_eq!(told, format!("{file}{expected}"));
    let assignment = Assignment::read(&std::fs::read(&file).expect("written")).expect("it can be read");

    let data = dir.path().join("data");
    let today = Moment(1_900_000_000).day(UtcOffset(0));
    let mut journal = Journal::open(&data.join("journal.sqlite"), today).expect("a journal").journal;
    let counted = practise(&mut journal, &assignment);
    beside(&mut journal, &assignment);
    drop(journal);
    assert!(counted.falls > 0 && counted.not_judged > 0 && counted.held > 76.0, "{counted:?}");

    let data = data.to_str().expect("a plain path");
    let note = "the A comes late";
    let made = done(&["report", "--assignment", &file, "--data", data, "--out", &report, "--note", note]);
    let printed = done(&["report", &report, "--assignment", &file]);
    println!("{made}");
    assert!(made.contains("bar to work on") && made.contains("since the assignment’s first day"), "{made}");
    let chorus = made.lines().find(|line| line.starts_with("Chorus")).expect("asked for");
    assert_eq!(
        chorus.split_whitespace().collect::<Vec<_>>(),
        ["Chorus", "yes", "–", "–", "–", "–", "–", "–"],
        "none heard"
    );
    assert_eq!(made, format!("{printed}\n{report}: written as above, for your teacher\n"), "shown, then written");

    let json: serde_json::Value = serde_json::from_str(&done(&["report", &report, "--json"])).expect("JSON");
    let verse = &json["sections"][0];
    assert_eq!(verse["section"], "Verse");
    let heard = &verse["heard"];
    let number = |value: &serde_json::Value| value.as_u64().expect("a count");
    let found = Counted {
        passes: number(&heard["passes"]),
        clean: number(&heard["clean"]),
        not_judged: number(&heard["not_judged"]),
        falls: number(&heard["falls"]),
        best: heard["best"].as_f64().expect("a tempo"),
        held: heard["held"].as_f64().expect("a tempo"),
        bar_6: number(&verse["worst_bar"]["faults"]),
        judged: number(&verse["worst_bar"]["passes"]),
        seconds: counted.seconds,
    };
    assert_eq!(found, counted);
    assert_eq!(verse["worst_bar"]["bar"], 6);
    let chorus = &json["sections"][1];
    assert_eq!((&chorus["heard"]["passes"], &chorus["self_marked"]["clean"]), (&0.into(), &2.into()));
    assert_eq!(chorus["self_marked"]["best"], 104.0);
    let days = json["days"].as_array().expect("rows");
    let minutes: f64 = days.iter().filter_map(|day| day["minutes"].as_f64()).sum();
    // Two passes were marked by the learner.
    assert!((minutes - (counted.seconds + 48.0) / 60.0).abs() < 0.05 * days.len() as f64, "{minutes}");
    assert_eq!(days.iter().filter(|day| day["pain"] == true).count(), 1);
    assert_eq!(
        (&json["other_lesson"], &json["pain"], &json["calibrated"]),
        (&1.into(), &true.into(), &"loopback".into())
    );
    let slowest = &json["slowest_change"];
    assert_eq!((&slowest["from"], &slowest["to"], &slowest["median_s"]), (&"D".into(), &"A".into(), &1.0.into()));
    assert_eq!((&json["timing"]["offset_ms"], &json["timing"]["spread_ms"]), (&(-12.0).into(), &21.5.into()));

    holds_no_path(&std::fs::read_to_string(&report).expect("text"));
}

/// Nothing of the devices the journal names, and no slash but those of the comments: so no path and no address.
fn holds_no_path(report: &str) {
    for name in [SPEAKER, MICROPHONE, "/dev", "/home", "snd", "microphone", "config", ".sqlite", "\\"] {
        assert!(!report.contains(name), "{name} in {report}");
    }
    for line in report.lines() {
        let said = line.strip_prefix("// ").unwrap_or(line);
        assert!(!said.contains('/'), "{line}");
    }
    assert!(report.len() < 8 << 10, "{} bytes: numbers take no more", report.len());
}

#[test]
fn what_can_not_be_reported_is_one_message_with_a_hint() {
    let dir = tempfile::tempdir().expect("a folder");
    let (file, out) = (path(dir.path(), "a.assignment.ron"), path(dir.path(), "r.report.ron"));
    let lesson = path(dir.path(), "l.lesson.ron");
    assign(&file);
    std::fs::write(&lesson, "Lesson(version: 1)").expect("written");
    let nowhere = path(&dir.path().join("no/such"), "a.assignment.ron");
    let empty = path(dir.path(), "empty");
    let before = std::fs::read_dir(dir.path()).expect("the folder").count();
    let rows: &[(&[&str], u8, &str)] = &[
        (&["assign", LESSON, "--out", &out, "--section", "Verze"], 2, "did you mean \"Verse\"?"),
        (&["assign", LESSON, "--out", &out, "--arrangement", "eazy"], 2, "did you mean \"easy\"?"),
        (&["assign", LESSON, "--out", &out, "--start", "fast"], 2, "give 10 to 400 beats a minute"),
        (&["assign", LESSON, "--out", &out, "--goal", "140"], 2, "give 126 or less"),
        (&["assign", LESSON, "--out", &out, "--goal", "150%"], 2, "give 126 or less"),
        (&["assign", LESSON, "--out", &out, "--start", "110", "--goal", "100"], 2, "start slower"),
        (&["assign", LESSON, "--out", &out, "--due", "tomorrow"], 2, "write it year-month-day"),
        (&["assign", LESSON, "--out", &out, "--up-after", "50"], 2, "give a number in that range"),
        (&["assign", LESSON, "--out", &out, "--focus", "one\ntwo"], 2, "one short sentence"),
        (&["assign", &lesson, "--out", &out], 1, "mend these"),
        (&["assign", LESSON, "--out", &nowhere], 1, "name a file in a folder that can be written"),
        (&["report", "--assignment", &file, "--data", &empty, "--out", &out], 1, "practise first"),
        (&["report", "--assignment", &lesson, "--data", &empty], 1, "`sixrung assign` writes an assignment"),
        (&["report", &file], 1, "`sixrung report` writes a report"),
        (&["report", &nowhere], 1, "give a report that `sixrung report` wrote"),
    ];
    for (args, code, hint) in rows {
        let called = call(args);
        assert_eq!(called.code, *code, "{args:?}: {}", called.err);
        assert!(called.err.starts_with("error: ") && called.err.contains("\nhint: "), "{args:?}: {}", called.err);
        assert!(called.err.contains(hint), "{args:?}: {}", called.err);
        assert_eq!(called.out, "", "{args:?}");
    }
    assert_eq!(std::fs::read_dir(dir.path()).expect("the folder").count(), before, "nothing is left half-written");
    assert_eq!(call(&["report"]).code, 2);
}

#[test]
fn the_room_follows_an_assignment_that_is_opened() {
    let dir = tempfile::tempdir().expect("a folder");
    let file = path(dir.path(), "mira.assignment.ron");
    done(&[
        "assign",
        LESSON,
        "--out",
        &file,
        "--section",
        "Chorus",
        "--arrangement",
        "easy",
        "--start",
        "70",
        "--goal",
        "104",
        "--level",
        "advanced",
        "--up-after",
        "2",
        "--focus",
        "let the hand swing on",
    ]);
    let assignment = Assignment::read(&std::fs::read(&file).expect("written")).expect("it can be read");
    let now = Moment(1_900_000_000);
    let (sound, _simulation) = Sound::simulated(SimulatedConfig::default());
    let mut studio = Studio::simulated(sound, Some(&dir.path().join("data")), now, UtcOffset(0));
    studio.open_lesson(Source::File(file.clone().into()), now);
    let view = studio.view(now);
    assert_eq!(view.place.section, "Chorus");
    let stage = studio.session().stage().expect("it is on the stand");
    assert_eq!(stage.arrangement().name, "easy");
    let climb = studio.session().climb().expect("it is climbed");
    assert_eq!((climb.ladder(), *climb.policy()), (&assignment.ladder(), assignment.policy()));
    assert_eq!((climb.at().bpm(), climb.pegs_needed()), (70.0, 2));
    assert_eq!(studio.session().level(), Level::Advanced);
    let note = view.notes.iter().find(|note| note.text.starts_with("Asked: ")).expect("it is told");
    assert_eq!(note.hint, "let the hand swing on");
    assert_eq!(studio.last_lesson(), Some(Source::File(file.into())));
    // The plan works on what is asked for, and on nothing else.
    studio.wish(Intent::Today(TodayWish::Minutes(30)), now);
    let run = studio.session().today().expect("it is planned");
    let chorus = assignment.original().sections.iter().position(|section| section.name == "Chorus");
    assert!(run.items().count() > 0);
    for item in run.items() {
        let section = match &item.what {
            What::Climb { section } | What::Step { section, .. } | What::Rotate { section, .. } => Some(*section),
            What::Recheck { section, .. } | What::WarmUp { section, .. } | What::ReplayFirst { section, .. } => {
                Some(*section)
            }
            What::Change { .. } | What::Break => continue,
            What::Song(_) | What::RunAtTempo(_) => None,
        };
        assert_eq!(section, chorus, "{item:?}");
    }
    // What is wrong with one is told, and what was on the stand stays.
    let broken = path(dir.path(), "broken.assignment.ron");
    let text = std::fs::read_to_string(path(dir.path(), "mira.assignment.ron")).expect("text");
    std::fs::write(&broken, text.replace("version: 1,\n    arrangement", "version: 2,\n    arrangement"))
        .expect("written");
    studio.open_lesson(Source::File(broken.into()), now);
    let view = studio.view(now);
    assert!(
        view.notes.iter().any(|note| note.text.contains("version 2") && note.hint.contains("newer")),
        "{:?}",
        view.notes
    );
    assert_eq!(view.place.section, "Chorus");
}
