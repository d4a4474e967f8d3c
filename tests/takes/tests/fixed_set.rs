//! A small fixed set of takes, judged: each verdict is the truth's, and each planted mistake is named.

use std::path::Path;
use std::sync::Arc;

use sixrung_lesson::{Lesson, Stretch, Tempo, layout};
use sixrung_listen::{Finding, PassPlan, PlannedShape, StrokeFinding, TakeOptions, TakeVerdict, Verdict, judge_take};
use sixrung_takes::{
    Condition, Draft, Engine, Order, Part, Piece, Program, RATE, SOUND_FONT, StrokeTruth, Synth, draft, level_ms, parse,
};
use sixrung_timeline::{Between, Clicks, Request, compile};

struct Row {
    lesson: &'static str,
    section: &'static str,
    bpm: f64,
    faults: &'static str,
    passes: usize,
    program: Program,
    condition: Condition,
    engine: Engine,
}

fn lesson(name: &str) -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name).with_extension("lesson.ron");
    let bytes = std::fs::read(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    sixrung_lesson::read(&bytes).unwrap_or_else(|findings| panic!("{name}: {findings:#?}")).lesson
}

fn plans(piece: &Piece<'_>, passes: usize) -> Vec<PassPlan> {
    let arrangement = piece.lesson.arrangement(piece.arrangement).expect("the arrangement");
    let score = layout(piece.lesson, &Stretch::Section(piece.section.to_owned()), arrangement).expect("a layout");
    let (tempo, between) = (piece.tempo, Between::Seamless);
    let request = Request {
        id: 0,
        rate: RATE,
        tempo,
        count_in_bars: 0,
        between,
        passes: None,
        clicks: Clicks::default(),
        backing: false,
    };
    let plan = compile(piece.lesson, &score, &request).expect("a plan");
    let shapes = PlannedShape::all(&score, &piece.lesson.tuning);
    let pass = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass).with_shapes(shapes);
    let starts = (0..passes).map(|index| f64::from(u32::try_from(index).expect("a few")) * pass.length_s);
    starts.map(|starts_s| pass.starting_at(starts_s)).collect()
}

fn make_and_judge(row: &Row, seed: u64) -> (Draft, TakeVerdict) {
    let scratch = tempfile::tempdir().expect("a temporary folder");
    let synth = Synth::find(Path::new(SOUND_FONT), scratch.path()).unwrap_or_else(|error| panic!("{error}"));
    let lesson = lesson(row.lesson);
    let tempo = Tempo::from_bpm(row.bpm).expect("a tempo");
    let piece = Piece { lesson: &lesson, section: row.section, arrangement: "plain", tempo };
    let level = lesson.criterion.level;
    let part = Part::of(&piece).unwrap_or_else(|error| panic!("{error}"));
    let planted = parse(row.faults, &part, row.passes, level_ms(level).0).unwrap_or_else(|error| panic!("{error}"));
    let order = Order {
        piece: piece.clone(),
        lesson_file: row.lesson,
        level,
        passes: row.passes,
        program: row.program,
        engine: row.engine,
        player: None,
        condition: row.condition,
        planted,
        bias_ms: None,
        lead_s: None,
        seed,
    };
    let onsets = synth.calibrate_on(row.engine, row.program).unwrap_or_else(|error| panic!("{error}"));
    let draft = draft(&order, &synth, &onsets).unwrap_or_else(|error| panic!("{error}"));
    let recording = draft.record(&synth).unwrap_or_else(|error| panic!("{error}"));
    let starts_at_s = Some(draft.truth.starts_at_s);
    let played = recording.played.map(Arc::from);
    let options = TakeOptions { criterion: lesson.criterion, starts_at_s, played, ..TakeOptions::default() };
    let judged =
        judge_take(&recording.take, RATE, &plans(&piece, row.passes), &options).expect("a rate that is listened to");
    (draft, judged)
}

fn check(row: &Row, seed: u64, expected: &[Verdict]) {
    let (draft, judged) = make_and_judge(row, seed);
    let name = format!("{} {} {} {:?} {:?}", row.lesson, row.section, row.faults, row.program, row.condition);
    let truths: Vec<_> = draft.truth.pass_verdicts.iter().map(|pass| pass.verdict).collect();
    let of_truth = |verdict: &&str| if **verdict == *"clean" { Verdict::Clean } else { Verdict::NotClean };
    assert_eq!(truths.iter().map(of_truth).collect::<Vec<_>>(), expected, "{name}: the take itself");
    let verdicts: Vec<_> = judged.passes.iter().map(|pass| pass.verdict).collect();
    let found = judged.passes.iter().flat_map(|pass| &pass.strokes);
    let pairs = draft.truth.strokes.iter().zip(found);
    let wrong: Vec<_> = pairs.filter(|(truth, found)| truth.fault != fault(found.finding)).collect();
    let say = |(truth, found): &(&StrokeTruth, &StrokeFinding)| {
        let StrokeTruth { pass, bar, slot, fault, .. } = truth;
        format!("pass {pass} bar {bar} slot {slot}: truth {fault:?}, found {:?}", found.finding)
    };
    let said: Vec<_> = wrong.iter().map(say).collect();
    let extras: Vec<_> = judged.passes.iter().map(|pass| &pass.extras_s).collect();
    assert_eq!(verdicts, expected, "{name}: judged; extras {extras:?}; {said:#?}");
    assert!(wrong.iter().all(|(truth, _)| truth.planted.is_none()), "{name}: {said:#?}");
}

const fn fault(finding: Finding) -> Option<&'static str> {
    match finding {
        Finding::InTime => None,
        Finding::Early => Some("early"),
        Finding::Late => Some("late"),
        Finding::Missed => Some("missed"),
    }
}

const ROW: Row = Row {
    lesson: "even-eighths",
    section: "walk",
    bpm: 92.0,
    faults: "none",
    passes: 1,
    program: Program::Steel,
    condition: Condition::Quiet,
    engine: Engine::Fluid,
};

use Condition::{Own, Room, Sing6};
use Engine::Samples;
use Program::Nylon;
use Verdict::{Clean, NotClean};

#[test]
fn takes_played_well_are_clean() {
    check(&ROW, 1, &[Clean]);
    check(&Row { section: "run", bpm: 84.0, program: Nylon, condition: Room, ..ROW }, 2, &[Clean]);
    check(&Row { lesson: "slow-waltz", section: "sway", bpm: 80.0, program: Nylon, ..ROW }, 3, &[Clean]);
    check(&Row { lesson: "six-eight", section: "boat", bpm: 54.0, condition: Room, ..ROW }, 3, &[Clean]);
    check(&Row { lesson: "swung-sevenths", section: "bridge", bpm: 104.0, engine: Samples, ..ROW }, 7, &[Clean]);
}

#[test]
fn takes_with_planted_mistakes_are_not_clean() {
    check(&Row { faults: "missed:3,late:8", ..ROW }, 4, &[NotClean]);
    let waltz = Row { lesson: "slow-waltz", section: "turn", bpm: 80.0, program: Nylon, condition: Room, ..ROW };
    check(&Row { faults: "early:5,missed:9,late:14", ..waltz }, 5, &[NotClean]);
    check(&Row { faults: "missed:4@2,missed:9@2,late:12@2", passes: 2, ..ROW }, 6, &[Clean, NotClean]);
}

#[test]
fn our_own_sound_beside_the_player_is_no_stroke_and_hides_none() {
    check(&Row { condition: Own, ..ROW }, 8, &[Clean]);
    check(&Row { condition: Own, faults: "missed:3,missed:11", ..ROW }, 9, &[NotClean]);
}

#[test]
fn a_wrong_chord_alone_is_not_clean() {
    check(&Row { faults: "wrong_chord:2", ..ROW }, 10, &[NotClean]);
}

#[test]
fn strokes_are_heard_beside_a_voice() {
    let (draft, judged) = make_and_judge(&Row { condition: Sing6, ..ROW }, 11);
    let pairs = draft.truth.strokes.iter().zip(&judged.passes[0].strokes);
    let near = |(truth, found): &(&StrokeTruth, &StrokeFinding)| {
        let (Some(played_s), Some(heard_s)) = (truth.played_s, found.heard_s) else { return false };
        (heard_s - played_s).abs() < 0.05
    };
    // What the voice itself was taken for is counted by score.py over many takes; here, that it hides nothing.
    let heard = pairs.filter(near).count();
    assert!(10 * heard >= 9 * draft.truth.strokes.len(), "{heard} of {}", draft.truth.strokes.len());
}
