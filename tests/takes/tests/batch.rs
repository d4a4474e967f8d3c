//! Drawn takes are what they were to be: the share that is clean, and every planted mistake where the truth says.

use std::path::Path;
use std::sync::OnceLock;

use sixrung_takes::{
    Batch, Condition, Draft, Engine, Mistake, Onsets, Piecework, Program, SOUND_FONT, StrokeTruth, Synth, Truth,
};

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
        mistakes: Mistake::OF_TIME.to_vec(),
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

/// The first 80, drawn once.
fn drafts() -> &'static [Draft] {
    static DRAFTS: OnceLock<Vec<Draft>> = OnceLock::new();
    DRAFTS.get_or_init(|| draw(0..80))
}

#[test]
fn a_wrong_chord_makes_a_take_not_clean_and_a_string_or_a_direction_does_not() {
    let (mut wrong, mut hidden) = (0, 0);
    for Draft { truth, .. } in drafts() {
        for span in truth.spans.iter().filter(|span| span.wrong) {
            assert!(span.played != span.chord && span.pitched > 0, "{span:?}");
            assert_eq!(
                truth.pass_verdicts[span.pass].verdict, "not_clean",
                "{} {}: {span:?}",
                truth.lesson, truth.seed
            );
            wrong += 1;
        }
        let of_hands = |fault: &str| truth.hands.iter().any(|hand| hand.fault == fault);
        let faulty =
            ["wrong_fret", "muted_string", "open_string", "wrong_direction"].iter().any(|fault| of_hands(fault));
        hidden += u32::from(truth.verdict == "clean" && faulty);
        assert!(truth.verdict != "clean" || !of_hands("wrong_chord"), "{} {}", truth.lesson, truth.seed);
    }
    assert!(wrong >= 10 && hidden >= 5, "{wrong} wrong chords, {hidden} clean takes with other mistakes of the hands");
}

#[test]
fn takes_of_one_player_share_guitar_habits_and_tuning() {
    let scratch = tempfile::tempdir().expect("a temporary folder");
    let synth = Synth::find(Path::new(SOUND_FONT), scratch.path()).unwrap_or_else(|error| panic!("{error}"));
    let (engines, conditions) = (vec![Engine::Samples], vec![Condition::Quiet]);
    let batch = Batch {
        lessons: lessons(),
        conditions,
        clean_share: 0.5,
        hands_share: 0.0,
        mistakes: Mistake::OF_TIME.to_vec(),
        engines,
        takes_a_player: 2,
        seed: 12,
    };
    let onsets = |engine, program| synth.calibrate_on(engine, program).unwrap_or_else(|error| panic!("{error}"));
    let truth = |index| batch.draw(index, &synth, onsets).unwrap_or_else(|error| panic!("{error}")).truth;
    let of_player = |truth: &Truth| (truth.player_seed, truth.sweep_ms, truth.program, truth.lesson.clone());
    let (first, second, other) = (truth(0), truth(1), truth(2));
    assert_eq!((of_player(&first), &first.tuning_cents), (of_player(&second), &second.tuning_cents));
    assert_ne!(first.player_seed, other.player_seed);
    let (sound, learned) =
        batch.learning(1, &synth, onsets).expect("a player").unwrap_or_else(|error| panic!("{error}"));
    assert_eq!((Some(learned.player_seed), &learned.tuning_cents), (first.player_seed, &first.tuning_cents));
    for shape in &learned.shapes {
        let slow = learned.strokes.iter().filter(|stroke| stroke.chord == *shape && stroke.slow);
        assert_eq!(slow.filter(|stroke| stroke.stroke == "down").count(), 5, "{shape}");
    }
    for stroke in ["down", "up"] {
        assert!(learned.strokes.iter().filter(|one| one.stroke == stroke && !one.slow).count() >= 20, "{stroke}");
    }
    assert!(learned.strokes.windows(2).all(|pair| pair[0].played_s < pair[1].played_s));
    assert!(learned.strokes.iter().all(|stroke| (stroke.played_s - stroke.expected_s).abs() < 0.045));
    assert!(sound.iter().any(|sample| sample.abs() > 0.2));
}

#[test]
fn a_quarter_is_clean_in_each_room_when_a_quarter_was_asked_for() {
    let drafts = drafts();
    for condition in ["quiet", "room"] {
        let here = drafts.iter().filter(|draft| draft.truth.condition == condition);
        let clean = here.clone().filter(|draft| draft.truth.verdict == "clean").count();
        assert_eq!((here.count(), clean), (40, 10), "{condition}");
    }
}

#[test]
fn planted_mistakes_of_time_are_faults_in_the_truth_and_lie_well_outside_the_window() {
    let drafts = drafts();
    let mut seen = std::collections::BTreeMap::new();
    for draft in drafts {
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
    assert_eq!(drafts()[5].truth, draw(5..6)[0].truth);
}
