//! The same way by the window alone: a teacher asks, a learner opens it, plays and answers, the teacher reads.

use std::path::{Path, PathBuf};

use egui::Key;
use egui_kittest::kittest::Queryable as _;
use sixrung::stand::{Intent, LessonSource, Page};
use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::report::{Answers, Report};
use sixrung_tests::evening::Evening;

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
