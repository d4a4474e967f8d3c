//! Change drills as another synthesiser plays them: what is true of one, and what the ear makes of it.

use std::path::Path;
use std::sync::OnceLock;

use sixrung_lesson::{Lesson, read};
use sixrung_listen::{ChangeEvent, PlannedShape, hear_changes};
use sixrung_takes::{Condition, Drill, DrillTruth, Engine, Onsets, Player, Program, RATE, SOUND_FONT, Synth, drill};

/// Changes of one drill, and those of them that are botched first.
const CHANGES: usize = 8;
const BOTCHED: usize = 2;
/// A change's time is heard within this, in seconds: two strokes, each as near as the targets of strokes say (15 ms).
const NEAR_S: f64 = 0.03;

fn lesson() -> Lesson {
    read(include_bytes!("../drill/open-shapes.lesson.ron")).expect("a lesson").lesson
}

/// What is true of a drill and what is heard of it.
fn played(lesson: &Lesson, names: [&str; 2], condition: Condition, seed: u64) -> (DrillTruth, Vec<ChangeEvent>) {
    static MEASURED: OnceLock<Onsets> = OnceLock::new();
    let scratch = tempfile::tempdir().expect("a folder");
    let synth = Synth::find(Path::new(SOUND_FONT), scratch.path()).expect("fluidsynth and its sound font");
    let (engine, program) = (Engine::Fluid, Program::Steel);
    let onsets = MEASURED.get_or_init(|| synth.calibrate_on(engine, program).expect("onsets"));
    let shapes =
        names.map(|name| lesson.shapes.iter().position(|shape| shape.name == name).expect("a shape of the lesson"));
    let player = Player { seed, program, engine };
    let file = "open-shapes.lesson.ron";
    let order = Drill { lesson, file, shapes, changes: CHANGES, botched: BOTCHED, player, condition, seed };
    let (sound, truth) = drill(&order, &synth, onsets).expect("a drill");
    let planned = PlannedShape::of(&lesson.shapes, &lesson.tuning, lesson.capo);
    let pair = shapes.map(|shape| planned[shape].clone());
    (truth, hear_changes(&sound, RATE, pair, None).expect("a rate that is taken"))
}

#[test]
fn drills_are_heard_as_they_were_played() {
    let lesson = lesson();
    let drills = [(["G", "D"], Condition::Quiet, 1), (["Em", "E"], Condition::Room, 2)];
    for (names, condition, seed) in drills {
        let (truth, events) = played(&lesson, names, condition, seed);
        assert_eq!(truth.changes.len(), CHANGES);
        assert_eq!(truth.changes.iter().filter(|change| change.botched == 1).count(), BOTCHED);
        let changes = events.iter().filter_map(|event| match event {
            ChangeEvent::Changed { took_s, botched, .. } => Some((*took_s, usize::try_from(*botched).expect("few"))),
            ChangeEvent::Stroke { .. } => None,
        });
        let heard: Vec<(f64, usize)> = changes.collect();
        assert_eq!(heard.len(), CHANGES, "{names:?}: {heard:?} for {:?}", truth.changes);
        for ((took_s, botched), change) in heard.iter().zip(&truth.changes) {
            assert!((took_s - change.took_s).abs() <= NEAR_S, "{names:?}: {took_s} for {change:?}");
            assert_eq!(*botched, change.botched, "{names:?}: {change:?}");
        }
    }
}

#[test]
fn a_drill_says_what_was_played() {
    let (truth, _) = played(&lesson(), ["C", "Am"], Condition::Quiet, 3);
    assert_eq!(truth.shapes, ["C", "Am"]);
    assert!(truth.strokes.windows(2).all(|pair| pair[0].played_s < pair[1].played_s));
    for change in &truth.changes {
        let at = |at_s: f64| truth.strokes.iter().find(|stroke| (stroke.played_s - at_s).abs() < 1e-9);
        let (last, first) =
            (at(change.last_s).expect("it is a stroke"), at(change.last_s + change.took_s).expect("so"));
        assert_eq!((&last.chord, last.deed, &first.chord, first.deed), (&change.from, "clean", &change.to, "clean"));
        assert!((0.4..2.6).contains(&change.took_s), "{change:?}");
        let between =
            truth.strokes.iter().filter(|stroke| change.last_s < stroke.played_s && stroke.played_s < first.played_s);
        assert_eq!(between.filter(|stroke| stroke.deed != "clean").count(), change.botched);
    }
}
