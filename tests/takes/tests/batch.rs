//! Drawn takes are what they were to be: the share that is clean, and every planted mistake where the truth says.

use std::path::Path;

use sixrung_takes::{Batch, Condition, Draft, Engine, Onsets, Piecework, Program, SOUND_FONT, StrokeTruth, Synth};

fn lessons() -> Vec<Piecework> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons");
    let entries = std::fs::read_dir(folder).expect("the lessons");
    let mut paths: Vec<_> = entries.map(|entry| entry.expect("an entry").path()).collect();
    paths.sort();
    let read = |path: std::path::PathBuf| {
        let bytes = std::fs::read(&path).expect("a lesson");
        let file = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let read = sixrung_lesson::read(&bytes).unwrap_or_else(|findings| panic!("{file}: {findings:#?}"));
        assert!(read.warnings.is_empty(), "{file}: {:#?}", read.warnings);
        Piecework { file, lesson: read.lesson }
    };
    paths.into_iter().map(read).collect()
}

/// Draws without sounding.
fn draw(indices: std::ops::Range<usize>) -> Vec<Draft> {
    let scratch = tempfile::tempdir().expect("a temporary folder");
    let synth = Synth::find(Path::new(SOUND_FONT), scratch.path()).unwrap_or_else(|error| panic!("{error}"));
    let (conditions, lessons) = (vec![Condition::Quiet, Condition::Room], lessons());
    let batch = Batch {
        lessons,
        conditions,
        clean_share: 0.25,
        hands_share: 0.5,
        engines: vec![Engine::Fluid],
        takes_a_player: 0,
        seed: 11,
    };
    let calibrate = |program| synth.calibrate(program).unwrap_or_else(|error| panic!("{error}"));
    let (steel, nylon) = (calibrate(Program::Steel), calibrate(Program::Nylon));
    let onsets = |_, program| -> Onsets { if program == Program::Steel { steel.clone() } else { nylon.clone() } };
    let one = |index| batch.draw(index, &synth, onsets).unwrap_or_else(|error| panic!("{error}"));
    indices.map(one).collect()
}

#[test]
fn a_quarter_is_clean_in_each_room_when_a_quarter_was_asked_for() {
    let drafts = draw(0..80);
    for condition in ["quiet", "room"] {
        let here = drafts.iter().filter(|draft| draft.truth.condition == condition);
        let clean = here.clone().filter(|draft| draft.truth.verdict == "clean").count();
        assert_eq!((here.count(), clean), (40, 10), "{condition}");
    }
}

#[test]
fn planted_mistakes_of_time_are_faults_in_the_truth_and_lie_well_outside_the_window() {
    let drafts = draw(0..80);
    let mut seen = std::collections::BTreeMap::new();
    for draft in &drafts {
        for stroke in &draft.truth.strokes {
            let Some(planted) = stroke.planted else { continue };
            *seen.entry(planted).or_insert(0) += 1;
            assert_eq!(stroke.fault, Some(planted), "{} {}: {stroke:#?}", draft.truth.lesson, draft.truth.seed);
            assert!(beyond(stroke, draft.truth.bias_ms), "{} {}: {stroke:#?}", draft.truth.lesson, draft.truth.seed);
        }
    }
    assert!(
        ["missed", "early", "late"].iter().all(|kind| seen.get(kind).is_some_and(|count| *count >= 10)),
        "{seen:?}"
    );
}

/// 40 ms is the narrowest window of all short of slots under 0.1 s, which the lessons here do not have.
fn beyond(stroke: &StrokeTruth, bias_ms: f64) -> bool {
    let off_ms = stroke.played_s.map(|played| (played - stroke.expected_s) * 1000.0 - bias_ms);
    match stroke.planted {
        Some("early") => off_ms.is_some_and(|off| off < -58.0),
        Some("late") => off_ms.is_some_and(|off| off > 58.0),
        _ => off_ms.is_none(),
    }
}

#[test]
fn a_take_is_the_same_whether_or_not_the_others_are_made() {
    assert_eq!(draw(0..8)[5].truth, draw(5..6)[0].truth);
}
