//! The checks and the layout agree: a lesson that was read can be laid out, whichever way it is played.

use std::fmt::Write as _;

use proptest::prelude::{Just, ProptestConfig, Strategy, prop, prop_oneof, proptest};
use proptest::strategy::ValueTree as _;
use proptest::test_runner::{RngAlgorithm, RngSeed, TestRng, TestRunner};
use sixrung_lesson::{Lesson, Stretch, layout, read};

const METERS: [&str; 5] = ["4/4", "3/4", "6/8", "5/8", "2/4"];
const GRIDS: [&str; 5] = ["quarters", "eighths", "swung eighths 2:1", "triplets", "sixteenths"];

/// Numbers from which a lesson is written; small ones, so that bars often come out even.
#[derive(Clone, Debug)]
struct Plan {
    meter: usize,
    patterns: Vec<PlannedPattern>,
    /// Pattern, chord, times, own meter, pattern of the last time; or the pair inside an option.
    entries: Vec<PlannedEntry>,
    ending: Option<Vec<PlannedEntry>>,
    marks: usize,
}

#[derive(Clone, Debug)]
struct PlannedPattern {
    grid: usize,
    half_bars: usize,
    /// Slots too many.
    extra: usize,
    early: bool,
}

#[derive(Clone, Debug)]
enum PlannedEntry {
    Played { pattern: usize, chord: usize, times: usize, meter: Option<usize>, last: Option<usize> },
    Optional(Vec<PlannedEntry>, Vec<PlannedEntry>),
}

fn played() -> impl Strategy<Value = PlannedEntry> {
    let rare = |most| prop_oneof![15 => Just(None), 1 => (0..most).prop_map(Some)];
    (0..3_usize, 0..3_usize, 1..4_usize, rare(METERS.len()), rare(3))
        .prop_map(|(pattern, chord, times, meter, last)| PlannedEntry::Played { pattern, chord, times, meter, last })
}

fn entry() -> impl Strategy<Value = PlannedEntry> {
    let few = || prop::collection::vec(played(), 1..3);
    prop_oneof![9 => played(), 1 => (few(), few()).prop_map(|(fuller, instead)| PlannedEntry::Optional(fuller, instead))]
}

fn plan() -> impl Strategy<Value = Plan> {
    let extra = prop_oneof![20 => Just(0), 1 => 1..3_usize];
    let pattern = (0..GRIDS.len(), prop::sample::select(vec![1, 2, 2, 2, 4]), extra, prop::bool::weighted(0.3));
    let pattern = pattern.prop_map(|(grid, half_bars, extra, early)| PlannedPattern { grid, half_bars, extra, early });
    let patterns = prop::collection::vec(pattern, 3);
    let entries = || prop::collection::vec(entry(), 1..4);
    (0..METERS.len(), patterns, entries(), prop::option::weighted(0.3, entries()), 0..3_usize)
        .prop_map(|(meter, patterns, entries, ending, marks)| Plan { meter, patterns, entries, ending, marks })
}

fn entries_text(entries: &[PlannedEntry]) -> String {
    let mut text = String::new();
    for entry in entries {
        match entry {
            PlannedEntry::Played { pattern, chord, times, meter, last } => {
                let chord = ["D", "A", "N.C."][*chord];
                write!(text, "(chord: \"{chord}\", pattern: \"{pattern}\", times: {times}").expect("a String grows");
                if let Some(meter) = meter {
                    write!(text, ", meter: \"{}\"", METERS[*meter]).expect("a String grows");
                }
                if let Some(last) = last {
                    write!(text, ", last: (pattern: \"{last}\")").expect("a String grows");
                }
                text.push_str("),");
            }
            PlannedEntry::Optional(fuller, instead) => {
                let (fuller, instead) = (entries_text(fuller), entries_text(instead));
                write!(text, "(optional: \"o\", fuller: [{fuller}], instead: [{instead}]),").expect("a String grows");
            }
        }
    }
    text
}

fn lesson_text(plan: &Plan) -> String {
    // Twice the quarters of a bar, and the slots of each grid in a quarter.
    let bar = [8, 6, 6, 5, 4][plan.meter];
    let patterns = plan.patterns.iter().enumerate().map(|(name, PlannedPattern { grid, half_bars, extra, early })| {
        let slots = (bar * half_bars * [1, 2, 2, 3, 4][*grid]).div_ceil(4) + extra;
        let strokes = ["D"].repeat(slots.max(2) - 1).join(" ");
        let last = if *early { "^U" } else { "U" };
        format!("(name: \"{name}\", grid: \"{}\", strokes: \"{strokes} {last}\"),", GRIDS[*grid])
    });
    let endings = plan.ending.as_ref().map(|ending| format!("endings: [[{}], []],", entries_text(ending)));
    let arrangements = if has_option(plan) { "arrangements: [(name: \"full\", options: [\"o\"])]," } else { "" };
    format!(
        "Lesson(version: 1, title: \"x\", tempo: 90, beat: \"quarter\", meter: \"{}\",
        shapes: [(name: \"D\", frets: \"xx0232\"), (name: \"A\", frets: \"x02220\")], patterns: [{}],
        sections: [(name: \"S\", entries: [{}], {} words: [\"{}\"])], form: [\"S\", \"S\"], {arrangements})",
        METERS[plan.meter],
        patterns.collect::<String>(),
        entries_text(&plan.entries),
        endings.unwrap_or_default(),
        "^la ".repeat(plan.marks),
    )
}

fn has_option(plan: &Plan) -> bool {
    let any = |entries: &[PlannedEntry]| entries.iter().any(|entry| matches!(entry, PlannedEntry::Optional(..)));
    any(&plan.entries) || plan.ending.as_deref().is_some_and(any)
}

fn check(text: &str, lesson: &Lesson, marks: usize) {
    for arrangement in &lesson.arrangements {
        for stretch in [Stretch::Section("S".to_owned()), Stretch::Whole] {
            let score = layout(lesson, &stretch, arrangement).unwrap_or_else(|error| panic!("{error}: {text}"));
            let sung = score.lines.iter().flat_map(|line| &line.syllables);
            // In the whole form a section may begin on the chord the one before it ended on.
            let placed = sung.filter(|syllable| syllable.change.is_some()).count();
            assert!(stretch == Stretch::Whole || placed == marks, "{placed} of {marks} marks on a change: {text}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { rng_seed: RngSeed::Fixed(6), failure_persistence: None, cases: 1500, ..ProptestConfig::default() })]
    #[test]
    fn what_was_read_can_be_laid_out(plan in plan()) {
        let text = lesson_text(&plan);
        if let Ok(read) = read(text.as_bytes()) {
            check(&text, &read.lesson, plan.marks);
        }
    }
}

#[test]
fn enough_of_these_lessons_are_read_and_enough_refused_to_mean_something() {
    let rng = TestRng::from_seed(RngAlgorithm::ChaCha, &[6; 32]);
    let mut runner = TestRunner::new_with_rng(ProptestConfig::default(), rng);
    let plans = (0..400).map(|_| plan().new_tree(&mut runner).expect("it has values").current());
    let accepted = plans.filter(|plan| read(lesson_text(plan).as_bytes()).is_ok()).count();
    assert!((80..320).contains(&accepted), "{accepted} of 400 were read");
}
