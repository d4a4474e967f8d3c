//! What systems and rooms do to a guitar ends as "not judged" with its reason, and what they leave alone is judged.

use std::path::Path;

use sixrung_lesson::{Stretch, Tempo, layout};
use sixrung_listen::{PassPlan, PlannedShape, Processing, Reason, TakeOptions, Verdict, judge_take};
use sixrung_takes::{Condition, Degradation, Dice, Engine, Order, Piece, Program, RATE, SOUND_FONT, Synth, draft};
use sixrung_timeline::{Between, Request, compile};

/// A clean take of the slow study, degraded.
fn verdict(degradation: Option<Degradation>, program: Program, seed: u64) -> Verdict {
    let scratch = tempfile::tempdir().expect("a temporary folder");
    let synth = Synth::find(Path::new(SOUND_FONT), scratch.path()).unwrap_or_else(|error| panic!("{error}"));
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/slow-waltz.lesson.ron");
    let lesson = sixrung_lesson::read(&std::fs::read(path).expect("the study")).expect("a lesson").lesson;
    let section = lesson.sections[0].name.clone();
    let tempo = Tempo::from_bpm(80.0).expect("a tempo");
    let arrangement = lesson.arrangements[0].name.clone();
    let piece = Piece { lesson: &lesson, section: &section, arrangement: &arrangement, tempo };
    let order = Order {
        piece: piece.clone(),
        lesson_file: "slow-waltz.lesson.ron",
        level: lesson.criterion.level,
        passes: 1,
        program,
        engine: Engine::Samples,
        player: None,
        condition: Condition::Room,
        planted: Vec::new(),
        bias_ms: Some(0.0),
        lead_s: Some(2.0),
        seed,
    };
    let onsets = synth.calibrate_on(Engine::Samples, program).expect("a guitar");
    let draft = draft(&order, &synth, &onsets).expect("a take");
    let take = draft.record(&synth).expect("a recording").take;
    let mut dice = Dice::new(seed);
    let sound = match degradation {
        Some(degradation) => degradation.apply(&take, None, &(96_000..take.len()), &mut dice).expect("it applies"),
        None => take,
    };
    let score = layout(&lesson, &Stretch::Section(section.clone()), &lesson.arrangements[0]).expect("a layout");
    let request = Request { id: 0, rate: RATE, tempo, count_in_bars: 0, between: Between::Seamless, passes: None };
    let plan = compile(&lesson, &score, &request).expect("a plan");
    let shapes = PlannedShape::all(&score, &lesson.tuning);
    let plan = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass).with_shapes(shapes);
    let options = TakeOptions { starts_at_s: Some(2.0), ..TakeOptions::default() };
    judge_take(&sound, RATE, &[plan], &options).expect("a rate we take").passes[0].verdict
}

#[test]
fn each_kind_is_named_and_never_the_players_fault() {
    for (program, seed) in [(Program::Steel, 3), (Program::Nylon, 4)] {
        let check = |degradation, expected: &[Reason]| {
            let verdict = verdict(Some(degradation), program, seed);
            assert!(
                expected.iter().any(|reason| verdict == Verdict::NotJudged(*reason)),
                "{degradation:?} on {program:?}: {verdict:?}"
            );
        };
        check(Degradation::Suppression, &[Reason::Processed(Processing::NoiseSuppression), Reason::TooFaint]);
        check(Degradation::Narrow, &[Reason::Processed(Processing::NarrowBand)]);
        check(Degradation::Clipped, &[Reason::Clipped]);
        assert!(!matches!(verdict(None, program, seed), Verdict::NotJudged(_)), "as recorded, {program:?}");
    }
}
