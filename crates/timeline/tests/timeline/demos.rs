//! Every section of every lesson that comes with the program, under every arrangement.

use std::collections::BTreeSet;

use sixrung_lesson::{Lesson, Score, Stretch, Tick, layout, read};
use sixrung_timeline::compile;

use crate::support::{DEMOS, demos, request, stretches};

fn scores(lesson: &Lesson) -> Vec<(String, Score)> {
    let mut scores = Vec::new();
    for arrangement in &lesson.arrangements {
        for stretch in stretches(lesson) {
            let name = format!("{}, {stretch:?}, {}", lesson.title, arrangement.name);
            let score = layout(lesson, &stretch, arrangement).unwrap_or_else(|error| panic!("{name}: {error}"));
            scores.push((name, score));
        }
    }
    scores
}

#[test]
fn they_read_without_a_finding() {
    for (name, text) in DEMOS {
        let findings = match read(text.as_bytes()) {
            Ok(read) => read.warnings,
            Err(errors) => errors,
        };
        let findings: Vec<_> = findings.iter().map(ToString::to_string).collect();
        assert!(findings.is_empty(), "{name}:\n{}", findings.join("\n"));
    }
}

#[test]
fn they_lay_out_and_compile_whole() {
    for lesson in demos() {
        for (name, score) in scores(&lesson) {
            let plan = compile(&lesson, &score, &request(lesson.tempo.bpm()))
                .unwrap_or_else(|error| panic!("{name}: {error}"));
            assert!(!plan.expected.is_empty(), "{name}: nothing to play");
            assert_eq!(plan.timeline.cycle, score.length, "{name}");
            assert_eq!(score.slots.iter().map(|slot| slot.length).sum::<Tick>(), score.length, "{name}");
        }
    }
}

#[test]
fn options_and_stand_ins_never_change_the_length() {
    for lesson in demos() {
        for stretch in stretches(&lesson) {
            let length = |arrangement| layout(&lesson, &stretch, arrangement).expect("it lays out").length;
            let lengths: BTreeSet<Tick> = lesson.arrangements.iter().map(length).collect();
            assert_eq!(lengths.len(), 1, "{}, {stretch:?}", lesson.title);
        }
    }
}

#[test]
fn every_sung_change_but_those_under_a_going_chord_falls_on_a_change() {
    for lesson in demos() {
        for (name, score) in scores(&lesson) {
            assert!(score.lines.iter().all(|line| line.end <= score.length), "{name}");
            let sung: Vec<usize> =
                score.lines.iter().flat_map(|line| &line.syllables).filter_map(|word| word.change).collect();
            assert!(sung.is_sorted(), "{name}: words out of order");
        }
    }
}

#[test]
fn the_lantern_is_as_drawn() {
    let lantern = demos().next().expect("a demo");
    let score = layout(&lantern, &Stretch::Section("Verse".to_owned()), &lantern.arrangements[0]).expect("a verse");
    let named = |shape: Option<usize>| shape.map(|shape| score.shapes[shape].name.as_str());
    let changes: Vec<_> = score.changes.iter().map(|change| (named(change.shape), change.at.0 / 3840)).collect();
    assert_eq!(changes, [(Some("D"), 0), (Some("A"), 2), (Some("G"), 3), (Some("A"), 5)]);
    assert_eq!(score.bars.len(), 8);
    let marked = score.lines.iter().flat_map(|line| &line.syllables).filter(|word| word.change.is_some());
    let marked: Vec<_> = marked.map(|word| (word.text.as_str(), word.at.0 / 3840)).collect();
    assert_eq!(marked, [("Low", 0), ("high", 2), ("Nell", 3), ("and", 5)]);
}
