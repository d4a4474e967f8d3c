//! The same way by the window alone: a teacher asks, a learner opens it, plays and answers, the teacher reads.

use std::path::{Path, PathBuf};

use egui::Key;
use egui_kittest::kittest::Queryable as _;
use sixrung::library::DEMOS;
use sixrung::pages::{AskView, HandOverPage, HandOverSide, PageView};
use sixrung::stand::{Asked, HandOverWish, Intent, JournalWish, LessonSource, Page};
use sixrung::studio::Studio;
use sixrung_devices::{SimulatedConfig, Sound};
use sixrung_exchange::assignment::{Assignment, Task};
use sixrung_exchange::paper::Line;
use sixrung_exchange::report::{Answers, Practised, Report};
use sixrung_practice::Moment;
use sixrung_tests::evening::{BEGIN, Evening, ZONE};

/// A lesson of one rung.
const ONE_CHORD: &str = r#"Lesson(version: 1, title: "…", tempo: 90, meter: "4/4",
    shapes: [(name: "Em", frets: "022000")],
    patterns: [(name: "slow", grid: "quarters", strokes: "D D D D")],
    sections: [(name: "All", entries: [(chord: "Em", pattern: "slow", times: 4)])],
    ladder: (bpm: [90]))"#;

/// The one file in `folder` whose name ends so.
fn written(folder: &Path, ending: &str) -> PathBuf {
    let files = std::fs::read_dir(folder).expect("the folder").flatten().map(|entry| entry.path());
    let mut found: Vec<_> = files.filter(|path| path.to_string_lossy().ends_with(ending)).collect();
    assert_eq!(found.len(), 1, "{ending}: {found:?}");
    found.remove(0)
}

fn press(evening: &mut Evening, words: &str) {
    evening.harness.get_by_label(words).click();
    evening.run_tenths(2);
}

fn type_into(evening: &mut Evening, field: &str, words: &str) {
    evening.harness.get_by_role_and_label(egui::accesskit::Role::TextInput, field).click();
    evening.run_tenths(1);
    evening.harness.get_by_role_and_label(egui::accesskit::Role::TextInput, field).type_text(words);
    evening.run_tenths(2);
}

fn page_at(studio: &Studio, now: Moment) -> HandOverPage {
    match studio.page_view(now) {
        Some(PageView::HandOver(page)) => *page,
        other => panic!("another page: {other:?}"),
    }
}

fn page(evening: &Evening) -> HandOverPage {
    page_at(evening.studio(), BEGIN)
}

/// What is asked, while the page asks.
fn asking(page: &HandOverPage) -> AskView {
    match &page.side {
        HandOverSide::Ask(ask) => (**ask).clone(),
        other => panic!("another side: {other:?}"),
    }
}

/// The learner's line, while the page answers.
fn note(evening: &Evening) -> String {
    match page(evening).side {
        HandOverSide::Answer(answer) => answer.note,
        other => panic!("another side: {other:?}"),
    }
}

fn open_page(evening: &mut Evening) {
    evening.harness.key_press(Key::F2);
    evening.run_tenths(2);
}

fn drop_file(evening: &mut Evening, file: &Path) {
    evening.wish(Intent::OpenLesson(LessonSource::File(file.to_owned())));
    evening.run_tenths(2);
}

/// An assignment of the first demo, in a file of this name.
fn assign(folder: &Path, name: &str, focus: &str) -> (Assignment, PathBuf) {
    let task = Task { focus: Line::new(focus).ok(), ..Task::default() };
    let assignment = Assignment::new(DEMOS[0].1.as_bytes(), task).expect("it fits");
    let file = folder.join(name);
    std::fs::write(&file, assignment.to_text()).expect("written");
    (assignment, file)
}

/// A report of nothing played, in a file.
fn report(folder: &Path) -> PathBuf {
    let (assignment, _) = assign(folder, "asked.assignment.ron", "the thumb");
    let file = folder.join("mira.report.ron");
    std::fs::write(&file, Report::of(&assignment, &Practised::default()).to_text()).expect("written");
    file
}

#[test]
fn a_line_for_one_teacher_is_in_no_other_report_and_no_other_players() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let (_, one) = assign(folder.path(), "one.assignment.ron", "the thumb");
    let (_, other) = assign(folder.path(), "other.assignment.ron", "the wrist");
    let mut evening = Evening::begin(folder.path());
    drop_file(&mut evening, &one);
    open_page(&mut evening);
    type_into(&mut evening, "a line for your teacher", "only for you");
    evening.wish(Intent::ClosePage);
    open_page(&mut evening);
    assert_eq!(note(&evening), "only for you", "a look at the stand does not lose it");
    drop_file(&mut evening, &other);
    open_page(&mut evening);
    assert_eq!(note(&evening), "");

    type_into(&mut evening, "a line for your teacher", "mine");
    let came = report(folder.path());
    drop_file(&mut evening, &came);
    assert!(matches!(page(&evening).side, HandOverSide::Received(_)));
    evening.wish(Intent::Journal(JournalWish::AddPlayer("Ana".to_owned())));
    open_page(&mut evening);
    assert_eq!(note(&evening), "", "neither the line nor the report is another player's");
}

#[test]
fn what_a_teacher_asks_is_kept_while_other_things_are_shown() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    open_page(&mut evening);
    type_into(&mut evening, "for whom", "Mira");
    press(&mut evening, "Write the assignment");
    let file = written(folder.path(), ".assignment.ron");
    assert_eq!(page(&evening).said, format!("Written. Send this file to your learner: {}", file.display()));
    // What was written is no longer what is asked: it can't be tried.
    type_into(&mut evening, "for whom", "m");
    assert!(evening.harness.query_by_label("Open it as your learner will").is_none());
    press(&mut evening, "Write the assignment");
    press(&mut evening, "Open it as your learner will");
    open_page(&mut evening);
    evening.harness.get_by_label("Your report");
    press(&mut evening, "Ask something of a learner with this lesson");
    let asked = asking(&page(&evening));
    assert!(!asked.can_try, "{asked:?}");
    let learner = asked.learner;
    assert!(learner.contains("Mira"), "{learner}");
    evening.harness.key_press(Key::Escape);
    evening.run_tenths(2);
    open_page(&mut evening);
    assert_eq!(asking(&page(&evening)).learner, learner);
    let came = report(folder.path());
    drop_file(&mut evening, &came);
    press(&mut evening, "Close this report");
    assert_eq!(asking(&page(&evening)).learner, learner);
    press(&mut evening, "Back to your report");
    evening.harness.get_by_label("Your report");
    press(&mut evening, "Write the report");
    let said = page(&evening).said;
    assert!(said.starts_with("Written. Send this file to your teacher: "), "{said}");
}

#[test]
fn a_draft_goes_on_the_next_day() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let (sound, _simulation) = Sound::simulated(SimulatedConfig::default());
    let mut studio = Studio::simulated(sound, Some(folder.path()), BEGIN, ZONE);
    studio.wish(Intent::OpenLesson(LessonSource::Demo(DEMOS[0].0.to_owned())), BEGIN);
    studio.wish(Intent::OpenPage(Page::HandOver), BEGIN);
    studio.wish(Intent::HandOver(HandOverWish::Ask(Asked::Learner("Mira".to_owned()))), BEGIN);
    studio.wish(Intent::ClosePage, BEGIN);
    let next = Moment(BEGIN.0 + 86_400);
    studio.wish(Intent::OpenPage(Page::HandOver), next);
    let summary = asking(&page_at(&studio, next)).summary.expect("it fits");
    assert!(summary.contains("for Mira, ") && summary.contains("from 2026-11-25, due 2026-12-02"), "{summary}");
}

#[test]
fn a_report_named_at_the_start_is_shown_though_the_last_lesson_is_gone() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let file = folder.path().join("gone.lesson.ron");
    std::fs::write(&file, ONE_CHORD).expect("written");
    let mut evening = Evening::begin(folder.path());
    drop_file(&mut evening, &file);
    drop(evening);
    std::fs::remove_file(&file).expect("removed");
    let came = report(folder.path());
    let evening = Evening::with(folder.path(), came.to_str().expect("a plain path"));
    assert!(evening.studio().session().stage().is_some());
    evening.harness.get_by_label("A learner’s report");
    evening.harness.get_by_label_contains("down: times the ladder went a rung down");
    evening.harness.get_by_label("Verse: asked yes, not played");
}

#[test]
fn why_a_report_can_not_be_read_is_not_told_under_another_one() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    let came = report(folder.path());
    drop_file(&mut evening, &came);
    drop_file(&mut evening, Path::new("no-such.report.ron"));
    let page = page(&evening);
    assert!(matches!(page.side, HandOverSide::Ask(_)), "{page:?}");
    assert!(page.trouble.starts_with("no-such.report.ron: "), "{}", page.trouble);
    let told = evening.harness.get_by_label_contains("no-such.report.ron").rect();
    assert!(told.bottom() <= evening.harness.get_by_label("An assignment").rect().top());
}

#[test]
fn the_lesson_is_looked_for_when_the_page_opens_and_when_it_is_written_and_one_rung_leaves_no_choice() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let file = folder.path().join("one-chord.lesson.ron");
    std::fs::write(&file, ONE_CHORD).expect("written");
    let mut evening = Evening::begin(folder.path());
    drop_file(&mut evening, &file);
    open_page(&mut evening);
    assert_eq!(asking(&page(&evening)).rungs, ["90"]);
    assert!(evening.harness.query_by_label("tempo").is_none());
    press(&mut evening, "Write the assignment");
    // A title of signs alone gives no hidden file.
    assert!(folder.path().join("lesson.assignment.ron").exists());
    std::fs::remove_file(&file).expect("removed");
    type_into(&mut evening, "for whom", "Mira");
    assert!(asking(&page(&evening)).summary.is_ok(), "nothing is read at a letter typed");
    press(&mut evening, "Write the assignment");
    let page = page(&evening);
    let path = file.display().to_string();
    assert!(page.said.starts_with(&path) && asking(&page).summary.is_err(), "{page:?}");
    assert!(!folder.path().join("lesson-mira.assignment.ron").exists());
}

#[test]
fn asked_played_answered_and_read() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::F2);
    evening.run_tenths(2);
    assert_eq!(evening.studio().page(), Some(Page::HandOver));
    type_into(&mut evening, "for whom", "Mira");
    // Letters typed are no keys: the page is still there.
    assert_eq!(evening.studio().page(), Some(Page::HandOver));
    press(&mut evening, "none, then choose");
    press(&mut evening, "Verse");
    type_into(&mut evening, "one thing to attend to", "let the hand swing on");
    evening.harness.get_by_label_contains("for Mira, \"Lantern on the Quay\"");
    // A look at the stand, and what was typed is still there.
    evening.wish(Intent::ClosePage);
    evening.harness.key_press(Key::F2);
    evening.run_tenths(2);
    evening.harness.get_by_label_contains("for Mira, \"Lantern on the Quay\"");
    press(&mut evening, "Write the assignment");
    let file = written(folder.path(), ".assignment.ron");
    assert_eq!(file.file_name().and_then(|name| name.to_str()), Some("lantern-on-the-quay-mira.assignment.ron"));
    let assignment = Assignment::read(&std::fs::read(&file).expect("written")).expect("it can be read");
    let task = assignment.task();
    assert_eq!(task.sections, ["Verse"]);
    assert_eq!((task.days, task.minutes, task.level, task.policy), (Some(5), Some(15), None, None));
    assert_eq!(task.focus.as_ref().map(sixrung_exchange::paper::Line::as_str), Some("let the hand swing on"));
    let due = task.due.expect("due").day().0 - task.from.expect("from").day().0;
    assert_eq!(due, 7);

    // The learner opens it and plays until two passes were judged.
    press(&mut evening, "Open it as your learner will");
    assert_eq!(evening.studio().page(), None);
    let view = evening.view();
    assert_eq!(view.place.section, "Verse");
    assert!(
        view.notes.iter().any(|note| note.text == "Asked: Verse, up to 126, 5 days of 15 minutes, due 2026-12-01."),
        "{:?}",
        view.notes
    );
    evening.harness.key_press(Key::Space);
    let results: Vec<String> = (0..3).map(|_| evening.next_result().headline).collect();
    evening.harness.key_press(Key::Escape);
    evening.run_tenths(2);
    evening.harness.key_press(Key::F2);
    evening.run_tenths(2);
    type_into(&mut evening, "a line for your teacher", "the low strings ring now");
    press(&mut evening, "Write the report");
    let file = written(folder.path(), ".report.ron");
    let text = std::fs::read_to_string(&file).expect("written");
    let report = Report::read(text.as_bytes()).expect("it can be read");
    assert_eq!(report.answers(&assignment), Answers::This);
    let verse = &report.sections[0];
    let clean = results.iter().filter(|headline| headline.starts_with("Clean")).count();
    // The first pass only found the round trip.
    assert_eq!((verse.heard.passes, verse.heard.not_judged), (3, 1), "{results:?}");
    assert_eq!(verse.heard.clean as usize, clean, "{results:?}");
    assert_eq!(report.note.as_ref().map(sixrung_exchange::paper::Line::as_str), Some("the low strings ring now"));
    let folder_name = folder.path().to_string_lossy().into_owned();
    assert!(!text.contains(&folder_name) && !text.contains("assignment.ron"), "{text}");

    // The teacher drops it on the window.
    evening.wish(Intent::OpenLesson(LessonSource::File(file)));
    evening.run_tenths(2);
    assert_eq!(evening.studio().page(), Some(Page::HandOver));
    evening.harness.get_by_label("A learner’s report");
    evening.harness.get_by_label("note: the low strings ring now");
    press(&mut evening, "Close this report");
    evening.harness.get_by_label("Your report");
    // A damaged one is told, and nothing else is lost.
    let broken = folder.path().join("broken.report.ron");
    std::fs::write(&broken, text.replace("version: 1", "version: 9")).expect("written");
    evening.wish(Intent::OpenLesson(LessonSource::File(broken)));
    evening.run_tenths(2);
    evening.harness.get_by_label_contains("version 9");
}

#[test]
fn what_can_not_be_asked_is_told_and_nothing_is_written() {
    let folder = tempfile::tempdir().expect("a folder for the journal");
    let mut evening = Evening::begin(folder.path());
    evening.harness.key_press(Key::F2);
    evening.run_tenths(2);
    press(&mut evening, "none, then choose");
    evening.harness.get_by_label_contains("Choose at least one section.");
    assert!(evening.harness.query_by_label("Write the assignment").is_none());
    press(&mut evening, "Verse");
    type_into(&mut evening, "for whom", &"long ".repeat(60));
    evening.harness.get_by_label_contains("for whom: has at most 200 characters");
    let is_assignment = |name: &str| name.ends_with(".assignment.ron");
    let files = std::fs::read_dir(folder.path()).expect("the folder").flatten();
    assert_eq!(files.filter(|entry| is_assignment(&entry.file_name().to_string_lossy())).count(), 0);
}
