//! The steps of a section through the program's own session: what each asks for, what counts as done, what follows.

use sixrung::stand::{Intent, Page, Phase};
use sixrung_lesson::Direction;
use sixrung_practice::{Done, Moment, Step, Verdict};
use sixrung_tests::script::{Script, in_time};

const LESSON: &str = include_str!("../../assets/lessons/lantern-on-the-quay.lesson.ron");
/// A Tuesday evening.
const BEGIN: Moment = Moment(1_795_543_200);

fn at(step: Step) -> Script {
    let mut script = Script::begin(LESSON, BEGIN);
    script.wish(Intent::ChooseStep(step));
    script
}

fn done(script: &Script, step: Step) -> Option<Done> {
    let path = script.session().path_view().expect("a lesson is open");
    path.steps.iter().find(|view| view.step == step).and_then(|view| view.done)
}

#[test]
fn one_stroke_is_the_whole_piece_at_its_own_tempo_and_only_the_changes_count() {
    let mut script = at(Step::OneStroke);
    let view = script.view();
    assert_eq!(view.place.section, "Whole piece");
    assert_eq!(view.ladder.current + 1, view.ladder.rungs.len());
    script.wish(Intent::Forward);
    let verdict = script.pass(|order| {
        assert!(order.plan.only_asked);
        assert!(order.plan.strokes.iter().all(|stroke| stroke.direction == Direction::Down));
        let mut strums = in_time(order, 0.01);
        // What is sung or strummed between is the player's own.
        let between: Vec<_> = strums.windows(2).map(|pair| f64::midpoint(pair[0].at_s, pair[1].at_s)).collect();
        strums.extend(between.into_iter().map(sixrung_tests::script::strum));
        strums.sort_by(|one, other| one.at_s.total_cmp(&other.at_s));
        strums
    });
    assert_eq!(verdict.expect("listened to").verdict, Verdict::Clean);
    assert_eq!(done(&script, Step::OneStroke), Some(Done::Heard));
    // The pass is kept, and belongs to no climb.
    assert_eq!(script.passes.len(), 1);
    assert_eq!((script.passes[0].step, &script.passes[0].climb), (Step::OneStroke, &None));
    let proposal = script.view().proposal.expect("the next step is offered");
    assert_eq!(*proposal.intent, Intent::ChooseStep(Step::OneChord));
}

#[test]
fn a_pass_that_is_not_clean_leaves_the_step_open_and_goes_on() {
    let mut script = at(Step::OneChord);
    script.wish(Intent::Forward);
    let verdict = script.pass(|order| in_time(order, 0.0).into_iter().step_by(2).collect());
    assert_eq!(verdict.expect("listened to").verdict, Verdict::NotClean);
    assert_eq!(done(&script, Step::OneChord), None);
    assert!(matches!(script.view().phase, Phase::CountIn { .. }));
    assert!(script.pass(|order| in_time(order, 0.0)).is_some());
    assert_eq!(done(&script, Step::OneChord), Some(Done::Heard));
}

#[test]
fn the_pedal_alone_leads_from_the_pattern_to_the_climb() {
    let mut script = at(Step::OneChord);
    for (step, chords) in [(Step::OneChord, false), (Step::Slow, true)] {
        assert_eq!(script.session().path_view().expect("open").current, step);
        script.wish(Intent::Forward);
        let mut shapes = 0;
        script.pass(|order| {
            let mut played: Vec<_> = order.plan.strokes.iter().filter_map(|stroke| stroke.shape).collect();
            played.dedup();
            shapes = played.len();
            in_time(order, 0.0)
        });
        assert_eq!(shapes > 1, chords, "{step:?}");
        assert_eq!(done(&script, step), Some(Done::Heard));
        // The next step is offered, and practice waits for the answer; forward takes it and begins.
        assert!(script.view().proposal.is_some());
        script.wish(Intent::Forward);
        assert!(matches!(script.view().phase, Phase::CountIn { .. }), "{:?}", script.view().phase);
        script.wish(Intent::Stop);
    }
    assert_eq!(script.session().path_view().expect("open").current, Step::Climb);
}

#[test]
fn played_through_is_played_along_whatever_the_verdict() {
    let mut script = at(Step::PlayAlong);
    script.wish(Intent::Forward);
    script.pass(|order| in_time(order, 0.0).into_iter().step_by(3).collect());
    assert_eq!(done(&script, Step::PlayAlong), Some(Done::Heard));
    assert_eq!(*script.view().proposal.expect("offered").intent, Intent::ChooseStep(Step::Sing));
}

#[test]
fn steps_can_be_marked_or_left_out_and_are_found_again() {
    let mut script = at(Step::Climb);
    script.wish(Intent::MarkStep(Step::Shapes, Done::SelfMarked));
    assert!(script.wishes.contains(&Intent::OpenPage(Page::Changes)));
    script.wish(Intent::MarkStep(Step::Changes, Done::Skipped));
    assert_eq!(script.session().path_view().expect("open").current, Step::OneStroke);
    for (step, how) in [(Step::Shapes, Done::SelfMarked), (Step::Changes, Done::Skipped)] {
        assert_eq!(done(&script, step), Some(how));
    }
    // Another section has a path of its own; back here all is as it was.
    script.wish(Intent::ChooseSection(sixrung::stand::SectionChoice::Section(1)));
    assert_eq!(done(&script, Step::Shapes), None);
    script.wish(Intent::ChooseSection(sixrung::stand::SectionChoice::Section(0)));
    assert_eq!(done(&script, Step::Shapes), Some(Done::SelfMarked));
}

#[test]
fn the_climb_is_done_when_it_arrives() {
    let mut script = at(Step::Climb);
    script.wish(Intent::Forward);
    let mut passes = 0;
    while done(&script, Step::Climb).is_none() {
        if script.pass(|order| in_time(order, 0.0)).is_none() {
            script.wish(Intent::Forward);
        }
        passes += 1;
        assert!(passes < 100, "it arrives");
    }
    // Six rungs, three clean passes each.
    assert_eq!(script.passes.len(), 18);
    assert_eq!(script.passes.iter().filter(|pass| pass.step == Step::Climb && pass.climb.is_some()).count(), 18);
}

#[test]
fn the_change_that_holds_a_section_back_is_offered_alone_once() {
    let mut script = at(Step::Climb);
    script.wish(Intent::Forward);
    // Around the change from the first chord to the second strokes come late, pass after pass.
    let late = |order: &sixrung::session::Order| {
        let strokes = &order.plan.strokes;
        let changes = |index: usize| index > 0 && strokes[index].shape != strokes[index - 1].shape;
        let first = (1..strokes.len()).find(|index| changes(*index)).expect("it changes");
        let strum = |(index, stroke): (usize, &sixrung_listen::PlannedStroke)| {
            let is_late = (first - 1..first + 3).contains(&index);
            sixrung_tests::script::strum(order.plan.starts_s + stroke.at_s + if is_late { 0.15 } else { 0.0 })
        };
        strokes.iter().enumerate().map(strum).collect::<Vec<_>>()
    };
    let mut offers = 0;
    for _ in 0..5 {
        if script.pass(late).is_none() {
            script.wish(Intent::Forward);
            continue;
        }
        offers += usize::from(script.view().proposal.is_some_and(|proposal| {
            matches!(*proposal.intent, Intent::Changes(sixrung::stand::ChangesWish::Named(..)))
        }));
        if !script.session().is_playing() {
            script.wish(Intent::Forward);
        }
    }
    assert_eq!(offers, 1);
}
