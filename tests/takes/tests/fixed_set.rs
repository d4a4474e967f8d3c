//! A small fixed set of takes, judged: each verdict is the truth's, and each planted mistake is named.

use std::path::Path;

use sixrung_lesson::{Lesson, Stretch, Tempo, layout};
use sixrung_listen::{Finding, PassPlan, StrokeFinding, TakeOptions, TakeVerdict, Verdict, judge_take};
use sixrung_takes::{
    Condition, Draft, Engine, Order, Part, Piece, Program, RATE, SOUND_FONT, StrokeTruth, Synth, draft, level_ms, parse,
};
use sixrung_timeline::{Between, Request, compile};

struct Row {
    lesson: &'static str,
    section: &'static str,
    bpm: f64,
    faults: &'static str,
    passes: usize,
    program: Program,
    condition: Condition,
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
    let request = Request { id: 0, rate: RATE, tempo, count_in_bars: 0, between, passes: None };
    let plan = compile(piece.lesson, &score, &request).expect("a plan");
    let pass = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass);
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
        engine: Engine::Fluid,
        player: None,
        condition: row.condition,
        planted,
        bias_ms: None,
        lead_s: None,
        seed,
    };
    let onsets = synth.calibrate(row.program).unwrap_or_else(|error| panic!("{error}"));
    let draft = draft(&order, &synth, &onsets).unwrap_or_else(|error| panic!("{error}"));
    let samples = draft.record(&synth).unwrap_or_else(|error| panic!("{error}")).take;
    let starts_at_s = Some(draft.truth.starts_at_s);
    let options = TakeOptions { criterion: lesson.criterion, starts_at_s, ..TakeOptions::default() };
    let judged = judge_take(&samples, RATE, &plans(&piece, row.passes), &options).expect("a rate that is listened to");
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

#[test]
fn takes_played_well_are_clean() {
    let row = |lesson, section, bpm, program, condition| Row {
        lesson,
        section,
        bpm,
        faults: "none",
        passes: 1,
        program,
        condition,
    };
    use Condition::{Quiet, Room};
    use Program::{Nylon, Steel};
    check(&row("even-eighths", "walk", 92.0, Steel, Quiet), 1, &[Verdict::Clean]);
    check(&row("even-eighths", "run", 84.0, Nylon, Room), 2, &[Verdict::Clean]);
    check(&row("slow-waltz", "sway", 80.0, Nylon, Quiet), 3, &[Verdict::Clean]);
    check(&row("six-eight", "boat", 54.0, Steel, Room), 3, &[Verdict::Clean]);
}

#[test]
fn takes_with_planted_mistakes_are_not_clean() {
    let row = |lesson, section, bpm, faults, passes, program, condition| Row {
        lesson,
        section,
        bpm,
        faults,
        passes,
        program,
        condition,
    };
    use Condition::{Quiet, Room};
    use Program::{Nylon, Steel};
    use Verdict::{Clean, NotClean};
    check(&row("even-eighths", "walk", 92.0, "missed:3,late:8", 1, Steel, Quiet), 4, &[NotClean]);
    check(&row("slow-waltz", "turn", 80.0, "early:5,missed:9,late:14", 1, Nylon, Room), 5, &[NotClean]);
    check(
        &row("even-eighths", "walk", 92.0, "missed:4@2,missed:9@2,late:12@2", 2, Steel, Quiet),
        6,
        &[Clean, NotClean],
    );
}
