//! Today's plan through the program's own session: what moves it on, what does not, and how one leaves it.

use sixrung::session::{Input, Opened};
use sixrung::stand::{Intent, Page, Pause, Phase, SectionChoice, TodayWish};
use sixrung_practice::today::What;
use sixrung_practice::{Done, Felt, Moment, Step};
use sixrung_tests::script::{Script, in_time};

const LESSON: &str = include_str!("../../assets/lessons/lantern-on-the-quay.lesson.ron");
const OTHER: &str = include_str!("../../assets/lessons/tin-roof-shuffle.lesson.ron");
const BEGIN: Moment = Moment(1_795_543_200);

/// A plan of so many minutes, begun.
fn planned(minutes: u16) -> Script {
    let mut script = Script::begin(LESSON, BEGIN);
    script.wish(Intent::Today(TodayWish::Minutes(minutes)));
    script.wish(Intent::Today(TodayWish::Start));
    script
}

fn at(script: &Script) -> Option<(usize, What)> {
    script.session().today()?.current().map(|current| (current.index, current.item.what.clone()))
}

/// Skips to the first break.
fn at_break() -> Script {
    let mut script = planned(60);
    while !matches!(at(&script), Some((_, What::Break)) | None) {
        script.wish(Intent::Today(TodayWish::Skip));
    }
    assert_eq!(script.view().phase, Phase::Paused(Pause::Break));
    script
}

#[test]
fn one_pass_is_counted_for_one_item() {
    let mut script = planned(20);
    // Shapes and changes are marked; the plan goes on by itself, item by item.
    for _ in 0..2 {
        let (before, what) = at(&script).expect("it is on");
        let What::Step { step, .. } = what else { panic!("{what:?}") };
        script.wish(Intent::MarkStep(step, Done::SelfMarked));
        assert_eq!(at(&script).expect("it goes on").0, before + 1);
    }
    let (before, what) = at(&script).expect("it is on");
    assert!(matches!(what, What::Step { step: Step::OneStroke, .. }), "{what:?}");
    script.wish(Intent::Forward);
    script.pass(|order| in_time(order, 0.0));
    // Done by one clean pass: the next item is on, and untouched; nothing else is proposed.
    let (after, what) = at(&script).expect("it goes on");
    assert_eq!(after, before + 1);
    assert!(matches!(what, What::Step { step: Step::OneChord, .. }), "{what:?}");
    assert_eq!(script.session().path_view().expect("open").current, Step::OneChord);
    assert!(script.view().proposal.is_none());
}

#[test]
fn what_is_played_by_hand_beside_the_plan_reaches_no_aim_of_it() {
    let mut script = planned(20);
    let before = at(&script);
    script.wish(Intent::ChooseStep(Step::OneChord));
    script.wish(Intent::Forward);
    script.pass(|order| in_time(order, 0.0));
    assert_eq!(at(&script), before);
    script.wish(Intent::ChooseSection(SectionChoice::Section(1)));
    script.wish(Intent::Forward);
    assert!(matches!(script.view().phase, Phase::CountIn { .. }));
}

#[test]
fn a_break_is_left_by_time_by_the_pedal_or_with_the_plan() {
    let mut script = at_break();
    let index = at(&script).expect("a break").0;
    script.wait(4 * 60);
    assert_eq!(at(&script).expect("still").0, index);
    script.wait(61);
    assert_eq!(at(&script).expect("on").0, index + 1);

    let mut script = at_break();
    script.wish(Intent::Forward);
    assert_eq!(at(&script).expect("on").0, index + 1);

    let mut script = at_break();
    script.wish(Intent::Today(TodayWish::End));
    script.wish(Intent::ChooseStep(Step::Climb));
    script.wish(Intent::Forward);
    assert!(matches!(script.view().phase, Phase::CountIn { .. }));
}

#[test]
fn a_plan_is_of_one_lesson_and_one_arrangement() {
    let mut script = planned(20);
    script.wish(Intent::ChooseArrangement(1));
    assert!(script.session().today().is_none());

    let mut script = planned(20);
    let read = sixrung_lesson::read(OTHER.as_bytes()).expect("a demo");
    let source = sixrung::library::Source::File("other.ron".into());
    script.take(Input::Opened(Opened { source, lesson: read.lesson.into(), hash: read.hash, assigned: None }));
    assert!(script.session().today().is_none());
}

#[test]
fn after_pain_no_page_plays_and_a_later_fine_does_not_undo_it() {
    let mut script = planned(20);
    script.wish(Intent::SayHands);
    assert_eq!(script.wishes.last(), Some(&Intent::ClosePage), "a page does not hide the question");
    script.wish(Intent::Feel(Felt::Pain));
    script.wishes.clear();
    for wish in [Intent::ChooseStep(Step::Changes), Intent::OpenPage(Page::Shapes), Intent::Forward] {
        script.wish(wish);
        assert_eq!(script.view().phase, Phase::Paused(Pause::Hurts));
        assert!(!script.wishes.iter().any(|wish| matches!(wish, Intent::OpenPage(_))));
    }
    script.wish(Intent::SayHands);
    script.wish(Intent::Feel(Felt::Fine));
    let felt: Vec<_> = script.felt.iter().map(|(felt, _)| *felt).collect();
    assert_eq!(felt, [Felt::Pain]);
    // Another day it asks first, and believes the player.
    script.wait(86_400);
    script.wish(Intent::Forward);
    assert_eq!(script.view().phase, Phase::Paused(Pause::HurtBefore));
    script.wish(Intent::PlayAnyway);
    script.wish(Intent::Forward);
    assert!(matches!(script.view().phase, Phase::CountIn { .. }));
}

#[test]
fn what_was_heard_is_not_left_out_later() {
    let mut script = Script::begin(LESSON, BEGIN);
    script.wish(Intent::ChooseStep(Step::OneChord));
    script.wish(Intent::Forward);
    script.pass(|order| in_time(order, 0.0));
    script.wish(Intent::MarkStep(Step::OneChord, Done::Skipped));
    let path = script.session().path_view().expect("open");
    assert_eq!(path.steps[3].done, Some(Done::Heard));
}
