//! What was learned of a player tells strings and directions; without it nothing is said of either. The strings here
//! are sums of decaying partials, made by nothing of ours.

mod common;
#[path = "common/guitar.rs"]
mod guitar;

use std::sync::{Arc, OnceLock};

use sixrung_lesson::{Action, Direction};
use sixrung_listen::{
    ChordFinding, LearnError, LearnGuide, LearnPlan, LearnProgress, LearnStep, LearnTask, LearnTrouble, LearnWait,
    Learned, Listener, PassPlan, PlannedStroke, StringFault, StringFinding, StrokeFinding, TakeOptions, Way,
    judge_take, learn_take,
};

use common::{add_noise, frames};
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
    let plan = PassPlan { starts_s: 0.0, length_s: guitar.at_s, strokes, shapes: shapes(), ..PassPlan::default() };
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
fn another_chord_is_named_and_the_asked_one_stays_right_with_a_dead_string() {
    let chord = |change: &dyn Fn(&mut [Option<u8>; 6])| {
        let mut held = [SHAPES[0].1, SHAPES[1].1];
        change(&mut held[0]);
        let found = judged(held, &[], Some(learned()));
        assert!(found[8..].iter().all(|stroke| stroke.chord == ChordFinding::Right), "G stays G");
        (found[0].chord, found[0].sounded_like.clone())
    };
    assert_eq!(chord(&|_| {}), (ChordFinding::Right, None));
    assert_eq!(chord(&|keys| keys[4] = Some(60)), (ChordFinding::Wrong, Some("Am".to_owned())));
    assert_eq!(chord(&|keys| keys[3] = Some(55)), (ChordFinding::Wrong, Some("A7".to_owned())));
    assert_eq!(chord(&|keys| *keys = SHAPES[1].1), (ChordFinding::Wrong, Some("G".to_owned())));
    assert_eq!(chord(&|keys| keys[1] = None), (ChordFinding::Right, None));
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

/// A player led through the plan: looks at what is asked and plays that, half a second after it is asked for.
struct Led {
    guide: LearnGuide,
    listener: Listener,
    frame: u64,
    seen: Vec<LearnProgress>,
    news: Vec<Learned>,
}

impl Led {
    fn new(plan: LearnPlan) -> Self {
        let listener = Listener::new(RATE).expect("a rate that is taken");
        Self { guide: LearnGuide::new(plan), listener, frame: 0, seen: Vec::new(), news: Vec::new() }
    }

    fn hear(&mut self, sound: &[f32]) {
        for block in sound.chunks(200) {
            let state = self.listener.hearing().state;
            self.guide.take_in(self.listener.feed(self.frame, block), state);
            self.frame += block.len() as u64;
            self.news.extend(self.guide.news());
            let now = self.guide.progress();
            if self.seen.last() != Some(&now) {
                self.seen.push(now);
            }
        }
    }

    /// Quiet, as a room is, until strokes are waited for or all is done.
    fn rest(&mut self) -> Option<LearnTask> {
        for _ in 0..200 {
            if self.guide.progress().wait != LearnWait::Fingers {
                break;
            }
            self.quiet(0.1);
        }
        self.guide.progress().task
    }

    fn quiet(&mut self, seconds: f64) {
        let mut sound = vec![0.0; frames(seconds * f64::from(RATE))];
        add_noise(&mut sound, 0.0005, self.frame);
        self.hear(&sound);
    }

    fn play(&mut self, task: LearnTask, strokes: usize) {
        let mut guitar = Guitar::new(RATE, u64::from(task.strokes) + self.frame);
        for index in 0..strokes {
            let lasts_s = if task.way == Way::Slow { 1.0 } else { 0.4 };
            guitar.strum(&SHAPES[task.shape].1, task.direction(index), lasts_s);
        }
        self.hear(&guitar.recorded());
    }

    fn troubles(&self) -> Vec<LearnTrouble> {
        let mut troubles: Vec<_> = self.seen.iter().filter_map(|seen| seen.trouble).collect();
        troubles.dedup();
        troubles
    }
}

#[test]
fn who_plays_what_is_asked_is_led_to_the_end_without_a_hand_off_the_guitar() {
    let mut led = Led::new(LearnPlan::new(shapes()));
    while let Some(task) = led.rest() {
        led.play(task, task.strokes as usize);
        led.quiet(1.0);
        assert!(led.frame < 300 * u64::from(RATE), "it ends: {:?}", led.guide.progress());
    }
    assert_eq!(led.troubles(), []);
    let names: Vec<Vec<&str>> =
        led.news.iter().map(|news| news.shapes.iter().map(|shape| shape.name.as_str()).collect()).collect();
    assert_eq!(names, [vec!["A"], vec!["A", "G"]], "told after each shape");
    assert!(led.news[1].is_sound() && led.news[1].direction.is_some());
}

#[test]
fn a_stroke_in_turn_that_is_missed_is_told_and_all_of_them_are_asked_for_again() {
    let mut led = Led::new(LearnPlan::new(shapes()));
    let slow = led.rest().expect("a task");
    led.play(slow, 5);
    led.quiet(1.0);
    let in_turn = led.rest().expect("a task");
    assert_eq!(in_turn.way, Way::InTurn);
    led.play(in_turn, in_turn.strokes as usize - 1);
    led.quiet(4.0);
    assert_eq!(led.troubles(), [LearnTrouble::Stopped { heard: in_turn.strokes - 1 }]);
    assert_eq!(led.rest(), Some(in_turn), "once more");
    led.play(in_turn, in_turn.strokes as usize);
    led.quiet(1.0);
    assert_eq!(led.rest().map(|task| task.shape), Some(1));
}

#[test]
fn another_chord_among_the_slow_strokes_is_told_and_silence_too() {
    let mut led = Led::new(LearnPlan::slow(shapes()));
    let slow = led.rest().expect("a task");
    led.play(slow, 3);
    led.play(LearnTask { shape: 1, ..slow }, 2);
    led.quiet(1.5);
    assert_eq!(led.troubles(), [LearnTrouble::NotAlike]);
    assert_eq!(led.rest(), Some(slow));
    led.quiet(9.0);
    assert_eq!(led.troubles(), [LearnTrouble::NotAlike, LearnTrouble::Silent]);
}

#[test]
fn what_is_played_while_the_fingers_go_down_is_not_counted_and_a_shape_can_be_left_out() {
    let mut led = Led::new(LearnPlan::slow(shapes()));
    led.play(LearnTask { shape: 1, way: Way::Slow, strokes: 5 }, 2);
    assert_eq!(led.guide.progress().heard, 0);
    let first = led.rest().expect("a task");
    assert_eq!((led.guide.progress().heard, first.shape), (0, 0));
    led.guide.skip();
    let second = led.rest().expect("a task");
    assert_eq!(second.shape, 1);
    led.play(second, 5);
    led.quiet(1.0);
    assert_eq!(led.rest(), None);
    let learned = led.news.pop().expect("what was heard is told");
    assert_eq!(learned.shapes.iter().map(|shape| shape.name.as_str()).collect::<Vec<_>>(), ["G"]);
}
