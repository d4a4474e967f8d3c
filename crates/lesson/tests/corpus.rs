//! The corpus of lesson texts: every bad one gives exactly the findings written beside it, every good one none.

use std::fs;
use std::path::{Path, PathBuf};

use sixrung_lesson::{Diagnostic, Severity, Stretch, layout, read};

fn corpus(folder: &str) -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/corpus/lessons").join(folder);
    lessons_in(&folder)
}

fn lessons_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).expect("the folder is part of the repository");
    let mut paths: Vec<PathBuf> = entries.map(|entry| entry.expect("it can be listed").path()).collect();
    paths.retain(|path| path.to_string_lossy().ends_with(".lesson.ron"));
    paths.sort();
    paths
}

fn findings(path: &Path) -> Vec<Diagnostic> {
    match read(&fs::read(path).expect("it can be read")) {
        Ok(read) => read.warnings,
        Err(findings) => findings,
    }
}

/// `severity code line:column`, as the `.expected` files are written.
fn in_short(finding: &Diagnostic) -> String {
    let severity = match finding.severity {
        Severity::Warning => "warning",
        Severity::Error => "error",
    };
    format!("{severity} {} {}:{}", finding.code, finding.place.line, finding.place.column)
}

#[test]
fn every_bad_lesson_gives_all_its_findings_in_their_places() {
    let mut wrong = Vec::new();
    let lessons = corpus("bad");
    assert!(lessons.len() >= 45, "the corpus has shrunk to {}", lessons.len());
    for path in lessons {
        let expected = path.with_extension("").with_extension("expected");
        let expected = fs::read_to_string(&expected).expect("each bad lesson has its .expected");
        let found: Vec<String> = findings(&path).iter().map(in_short).collect();
        if found != expected.lines().collect::<Vec<_>>() {
            wrong.push(format!("{}\nexpected:\n{expected}found:\n{}\n", path.display(), found.join("\n")));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn every_finding_says_what_to_try_in_the_house_style() {
    for finding in corpus("bad").iter().flat_map(|path| findings(path)) {
        let message = &finding.message;
        assert!(finding.hint.as_ref().is_some_and(|hint| !hint.trim().is_empty()), "no hint: {finding}");
        assert!(!message.ends_with('.'), "a final period: {finding}");
        assert!(!message.starts_with(|c: char| c.is_ascii_uppercase() && !message.starts_with("N.C.")), "{finding}");
        if let Some(caret) = &finding.caret {
            assert!(caret.from <= caret.to && caret.to <= caret.text.chars().count(), "carets outside: {finding:?}");
        }
    }
}

#[test]
fn good_lessons_have_nothing_wrong_with_them() {
    let lessons = corpus("good");
    assert!(lessons.len() >= 12, "the corpus has shrunk to {}", lessons.len());
    for path in lessons {
        assert_eq!(findings(&path), [], "{}", path.display());
    }
}

/// What passes the checks can be laid out, whichever way it is played, and each marked syllable falls on a change.
#[test]
fn good_lessons_lie_flat_under_every_arrangement() {
    for path in corpus("good") {
        let lesson = read(&fs::read(&path).expect("it can be read")).expect("it is good").lesson;
        let sections = lesson.sections.iter().map(|section| Stretch::Section(section.name.clone()));
        for stretch in sections.chain([Stretch::Whole]) {
            for arrangement in &lesson.arrangements {
                let score = layout(&lesson, &stretch, arrangement);
                let score = score.unwrap_or_else(|error| panic!("{} {stretch:?}: {error}", path.display()));
                assert!(score.bars.iter().all(|bar| bar.start < score.length), "{}", path.display());
            }
        }
    }
}

#[test]
fn the_lessons_that_come_with_the_program_have_nothing_wrong_with_them() {
    let lessons = lessons_in(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../assets/lessons"));
    assert!(lessons.len() >= 4, "there are at least four");
    for path in lessons {
        assert_eq!(findings(&path), [], "{}", path.display());
    }
}
