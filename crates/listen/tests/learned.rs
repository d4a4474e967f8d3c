//! What was learned of a player tells strings and directions; without it nothing is said of either. The strings here
//! are sums of decaying partials, made by nothing of ours.

mod common;
#[path = "common/guitar.rs"]
mod guitar;

use std::sync::{Arc, OnceLock};

use sixrung_lesson::{Action, Direction};
use sixrung_listen::{
    LearnError, LearnPlan, LearnStep, Learned, Listener, PassPlan, PlannedStroke, StringFault, StringFinding,
    StrokeFinding, TakeOptions, Way, judge_take, learn_take,
};

use guitar::{Guitar, OPEN, SHAPES, shapes};

const RATE: u32 = 8_000;
/// Plays what the plan asks for, leaving out or adding a stroke at the end of the first task.
fn lesson_of(plan: &LearnPlan, more: i32) -> Vec<f32> {
    let mut guitar = Guitar::new(RATE, 5);
    for (number, task) in plan.tasks.iter().enumerate() {
        let extra = if number == 0 { more } else { 0 };
        let strokes = usize::try_from(i32::try_from(task.strokes).expect("few") + extra).expect("some");
        for index in 0..strokes {
            let lasts_s = if task.way == Way::Slow { 1.0 } else { 0.4 };
            guitar.strum(&SHAPES[task.shape].1, task.direction(index), lasts_s);
        }
        guitar.at_s += 0.7;
    }
    guitar.recorded()
}

fn learned() -> Arc<Learned> {
    static LEARNED: OnceLock<Arc<Learned>> = OnceLock::new();
    let learn = || {
        let plan = LearnPlan::new(shapes());
        let learned = learn_take(&lesson_of(&plan, 0), RATE, &plan).expect("the rate is taken").expect("all is heard");
        assert!(learned.is_sound());
        Arc::new(learned)
    };
    Arc::clone(LEARNED.get_or_init(learn))
}

/// Four bars of two strokes on A, then as many on G, down and up; `keys` are what the hand really holds.
fn judged(keys: [[Option<u8>; 6]; 2], other_way: &[usize], learned: Option<Arc<Learned>>) -> Vec<StrokeFinding> {
    let mut guitar = Guitar::new(RATE, 77);
    let mut strokes = Vec::new();
    for index in 0..16 {
        let shape = index / 8;
        let direction = if index % 2 == 0 { Direction::Down } else { Direction::Up };
        let other = if direction == Direction::Down { Direction::Up } else { Direction::Down };
        strokes.push(PlannedStroke {
            at_s: guitar.at_s,
            slot_s: 0.35,
            bar: index / 2,
            slot: 0,
            action: Action::Strum,
            direction,
            shape: Some(shape),
        });
        guitar.strum(&keys[shape], if other_way.contains(&index) { other } else { direction }, 0.35);
    }
    let plan = PassPlan { starts_s: 0.0, length_s: guitar.at_s, strokes, shapes: shapes() };
    let options = TakeOptions { starts_at_s: Some(0.0), learned, ..TakeOptions::default() };
    let take = judge_take(&guitar.recorded(), RATE, &[plan], &options).expect("the rate is taken");
    take.passes.into_iter().next().expect("a pass").strokes
}

/// A hand that does `change` to G, and what is to be said of G's strings; nothing of A's.
fn check(change: impl Fn(&mut [Option<u8>; 6]), expected: Option<(u8, StringFault)>) {
    let mut held = [SHAPES[0].1, SHAPES[1].1];
    change(&mut held[1]);
    let expected: Vec<_> = expected.map(|(string, fault)| StringFinding { string, fault }).into_iter().collect();
    for (index, stroke) in judged(held, &[], Some(learned())).iter().enumerate() {
        assert!(stroke.heard_s.is_some(), "stroke {index} is heard");
        assert_eq!(stroke.strings, if index < 8 { Vec::new() } else { expected.clone() }, "stroke {index}");
    }
}

#[test]
fn clean_shapes_are_not_found_fault_with() {
    check(|_| {}, None);
}

#[test]
fn a_dead_string_is_named() {
    check(|keys| keys[1] = None, Some((5, StringFault::Dead)));
    check(|keys| keys[4] = None, Some((2, StringFault::Dead)));
}

#[test]
fn a_wrong_fret_is_named() {
    check(|keys| keys[0] = Some(44), Some((6, StringFault::WrongFret)));
    check(|keys| keys[5] = Some(66), Some((1, StringFault::WrongFret)));
}

#[test]
fn an_open_string_that_should_be_mute_is_named() {
    let mut held = [SHAPES[0].1, SHAPES[1].1];
    held[0][0] = Some(OPEN[0]);
    let found = judged(held, &[], Some(learned()));
    assert_eq!(found[0].strings, [StringFinding { string: 6, fault: StringFault::ShouldBeMuted }]);
    assert_eq!(found[8].strings, []);
}

#[test]
fn strokes_the_other_way_are_told() {
    let found = judged([SHAPES[0].1, SHAPES[1].1], &[3, 10], Some(learned()));
    for (index, stroke) in found.iter().enumerate() {
        let other = stroke.heard_direction.is_some_and(|heard| heard != stroke.direction);
        assert_eq!(other, [3, 10].contains(&index), "stroke {index}: {:?}", stroke.heard_direction);
    }
    assert!(found.iter().filter(|stroke| stroke.heard_direction.is_some()).count() >= 14);
}

#[test]
fn without_learning_nothing_is_said_of_strings_and_directions() {
    let mut held = [SHAPES[0].1, SHAPES[1].1];
    held[1][1] = None;
    for stroke in judged(held, &[3], None) {
        assert!(stroke.strings.is_empty() && stroke.heard_direction.is_none());
    }
}

#[test]
fn a_stroke_too_few_or_too_many_is_an_error() {
    let plan = LearnPlan::new(shapes());
    let learn =
        |more| learn_take(&lesson_of(&plan, more), RATE, &plan).expect("the rate is taken").expect_err("refused");
    let asked = plan.strokes();
    // The missing stroke is taken from the next task, so that a slow stroke of the other shape is an up-stroke too few.
    assert!(matches!(learn(-1), LearnError::TooFew { .. } | LearnError::NotAlike { .. }), "{:?}", learn(-1));
    assert!(matches!(learn(1), LearnError::TooMany { .. } | LearnError::NotAlike { .. }), "{:?}", learn(1));
    let silence = learn_take(&vec![0.0; 80_000], RATE, &plan).expect("the rate is taken");
    assert_eq!(silence, Err(LearnError::TooFew { heard: 0, asked }));
}

#[test]
fn a_step_counts_as_it_hears_whatever_the_blocks() {
    let plan = LearnPlan::new(shapes());
    let sound = lesson_of(&plan, 0);
    let mut step = LearnStep::new(plan.clone());
    let mut listener = Listener::new(RATE).expect("a rate that is taken");
    let (mut frame, mut seen) = (0, Vec::new());
    for block in sound.chunks(441).chain([[0.0; 8_000].as_slice()]) {
        step.take_in(listener.feed(frame, block));
        frame += block.len() as u64;
        let now = (step.task(), step.heard());
        if seen.last() != Some(&now) {
            seen.push(now);
        }
    }
    for task in &plan.tasks {
        let counted: Vec<u32> = seen.iter().filter(|seen| seen.0 == Some(*task)).map(|seen| seen.1).collect();
        assert!(counted.is_sorted(), "{task:?}: {counted:?}");
        assert!(counted.contains(&(task.strokes - 1)), "{task:?}: {counted:?}");
    }
    assert_eq!(seen.last(), Some(&(None, 0)));
    assert_eq!(step.learned(), Ok((*learned()).clone()));
}
