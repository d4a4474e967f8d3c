//! A run over a plan, as scripts: what happens on the left, what follows on the right.

use sixrung_practice::today::{ItemEnd, Outcome, SectionToday, TodayEvent, TodayInput, TodayRequest, TodayRun, plan};
use sixrung_practice::{Moment, RestReason};

use crate::days::{NOW, change, climbed, request, section, what};

/// Fifteen minutes; the warm-up and the run at tempo are taken out.
fn twelve() -> TodayRun {
    let changes = vec![change("G", "D", 2.0, &[(0, 4)])];
    let sections = vec![climbed(0, 3, 3, 20), climbed(1, 1, 2, 1)];
    let mut run = TodayRun::new(plan(&TodayRequest { changes, first_learned: Some(1), ..request(15, sections) }));
    run.update(TodayInput::Remove(5), NOW);
    run.update(TodayInput::Remove(0), NOW);
    run
}

fn items(run: &TodayRun) -> Vec<String> {
    run.items().map(|item| format!("{} {}", item.minutes, what(&item.what))).collect()
}

fn check(run: &mut TodayRun, now: &mut Moment, script: &[(TodayInput, &str)]) {
    for (line, (input, expected)) in script.iter().enumerate() {
        if let TodayInput::Played { seconds } | TodayInput::Pass { seconds, .. } = input {
            now.0 += i64::from(*seconds);
        }
        let told = run.update(*input, *now);
        let told: Vec<String> = told.iter().map(|event| text(run, event)).collect();
        assert_eq!(told.join(", "), *expected, "line {line}: {input:?}");
    }
}

fn text(run: &TodayRun, event: &TodayEvent) -> String {
    let named = |index: usize| run.items().nth(index).map_or("?".to_owned(), |item| what(&item.what));
    match event {
        TodayEvent::ItemOver { index, end } => {
            let end = match end {
                ItemEnd::TimeUsed => "time",
                ItemEnd::AimReached => "aim",
                ItemEnd::NotToday => "not today",
                ItemEnd::Rests(_) => "rests",
                ItemEnd::Skipped => "skipped",
            };
            format!("over {}: {end}", named(*index))
        }
        TodayEvent::Dropped { section } => format!("dropped {section}"),
        TodayEvent::Next { index } => format!("next {}", named(*index)),
        TodayEvent::BreakDue { minutes, .. } => format!("break of {minutes}"),
        TodayEvent::Done => "done".to_owned(),
    }
}

const fn played(seconds: u32) -> TodayInput {
    TodayInput::Played { seconds }
}

const fn pass(outcome: Outcome, seconds: u32) -> TodayInput {
    TodayInput::Pass { outcome, seconds }
}

#[test]
fn a_run_goes_through_the_plan_and_is_done_once() {
    let mut run = twelve();
    assert_eq!(items(&run), ["1 recheck 0 at 93", "4 climb 0", "2 change G-D", "4 rotate 1 Climb", "1 replay 1 at 84"]);
    let script = [
        (played(30), ""),
        (TodayInput::Start, "next recheck 0 at 93"),
        (TodayInput::Start, ""),
        (pass(Outcome::Unjudged, 20), ""),
        (pass(Outcome::Clean, 20), "over recheck 0 at 93: aim, next climb 0"),
        (pass(Outcome::NotClean, 140), ""),
        // Four minutes, and the twenty seconds the check left over.
        (pass(Outcome::Clean, 119), ""),
        (played(1), "over climb 0: time, next change G-D"),
        (played(120), "over change G-D: time, next rotate 1 Climb"),
        (TodayInput::StepDone, "over rotate 1 Climb: aim, next replay 1 at 84"),
        (played(30), ""),
        (pass(Outcome::NotClean, 30), "over replay 1 at 84: aim, done"),
        (TodayInput::Skip, ""),
        (played(30), ""),
    ];
    check(&mut run, &mut NOW.clone(), &script);
    assert!(run.is_done() && run.current().is_none());
}

#[test]
fn a_rung_that_is_not_clean_at_first_try_waits_for_another_day() {
    let script = [
        (TodayInput::Start, "next recheck 0 at 93"),
        (pass(Outcome::NotClean, 30), "over recheck 0 at 93: not today, next climb 0"),
    ];
    check(&mut twelve(), &mut NOW.clone(), &script);
}

#[test]
fn a_section_that_rests_is_left_at_once_and_its_other_items_fall_out() {
    let mut run = twelve();
    let rest = |section| TodayInput::SectionRests { section, reason: RestReason::Falls(3) };
    let script = [
        (TodayInput::Start, "next recheck 0 at 93"),
        (rest(1), "dropped 1, dropped 1"),
        (rest(0), "dropped 0, over recheck 0 at 93: rests, next change G-D"),
    ];
    check(&mut run, &mut NOW.clone(), &script);
    // Nothing else is left to take up the time: all twelve minutes go to the drill.
    assert_eq!(run.left_s(), 12 * 60);
}

#[test]
fn what_lies_ahead_may_be_changed_and_what_is_on_may_not() {
    let mut run = twelve();
    run.update(TodayInput::Swap(1, 2), NOW);
    run.update(TodayInput::Start, NOW);
    run.update(TodayInput::Remove(0), NOW);
    run.update(TodayInput::Swap(0, 1), NOW);
    run.update(TodayInput::Move { from: 4, to: 1 }, NOW);
    run.update(TodayInput::Remove(99), NOW);
    assert_eq!(items(&run), ["1 recheck 0 at 93", "1 replay 1 at 84", "2 change G-D", "4 climb 0", "4 rotate 1 Climb"]);
    run.update(TodayInput::Remove(3), NOW);
    assert_eq!(run.left_s(), 8 * 60, "what is taken out is not played");
}

#[test]
fn what_takes_too_long_is_taken_from_what_follows() {
    let mut run = twelve();
    let script = [
        (TodayInput::Start, "next recheck 0 at 93"),
        (TodayInput::Skip, "over recheck 0 at 93: skipped, next climb 0"),
        (pass(Outcome::Clean, 440), "over climb 0: time, next change G-D"),
    ];
    check(&mut run, &mut NOW.clone(), &script);
    // 300 s were there, 440 taken: 60 of the 140 from the drill, which keeps a minute, 80 from the rotation.
    assert_eq!(run.current().map(|on| on.left_s), Some(60));
    assert_eq!(run.left_s(), 60 + 160 + 60);
}

fn half_an_hour() -> TodayRun {
    let beginner: Vec<SectionToday> = vec![section(0, 1)];
    TodayRun::new(plan(&request(35, beginner)))
}

#[test]
fn a_break_ends_by_itself_or_when_the_player_plays_on() {
    let before = [
        (TodayInput::Start, "next step 0 Shapes"),
        (played(300), "over step 0 Shapes: time, next step 0 Changes"),
        (TodayInput::StepDone, "over step 0 Changes: aim, next step 0 OneStroke"),
        (played(540), "over step 0 OneStroke: time, break of 5"),
    ];
    let (mut run, mut now) = (half_an_hour(), NOW);
    check(&mut run, &mut now, &before);
    now.0 += 299;
    check(&mut run, &mut now, &[(TodayInput::Tick, "")]);
    now.0 += 1;
    check(&mut run, &mut now, &[(TodayInput::Tick, "over break: time, next step 0 OneChord")]);

    let (mut run, mut now) = (half_an_hour(), NOW);
    check(&mut run, &mut now, &before);
    check(&mut run, &mut now, &[(played(10), "over break: skipped, next step 0 OneChord")]);
    assert_eq!(run.current().map(|on| on.left_s), Some(230), "what was played counts");
}

#[test]
fn time_left_before_a_break_does_not_make_the_playing_after_it_longer() {
    let (mut run, mut now) = (half_an_hour(), NOW);
    check(&mut run, &mut now, &[(TodayInput::Start, "next step 0 Shapes")]);
    for _ in 0..3 {
        run.update(TodayInput::StepDone, now);
    }
    assert_eq!(run.current().map(|on| what(&on.item.what)).as_deref(), Some("break"));
    assert_eq!(run.left_s(), (5 + 16) * 60);
}

#[test]
fn a_break_before_which_nothing_was_played_falls_out() {
    let mut run = TodayRun::new(plan(&request(60, vec![section(0, 1), section(1, 1)])));
    let breaks = |run: &TodayRun| -> Vec<usize> {
        run.items().enumerate().filter(|(_, item)| what(&item.what) == "break").map(|(index, _)| index).collect()
    };
    let &[first, second] = breaks(&run).as_slice() else { panic!("two breaks") };
    run.update(TodayInput::Start, NOW);
    for _ in 0..first {
        run.update(TodayInput::Skip, NOW);
    }
    for _ in first + 1..second {
        run.update(TodayInput::Remove(first + 1), NOW);
    }
    let told = run.update(TodayInput::Skip, NOW);
    assert_eq!(told.len(), 2);
    assert_eq!(told[1], TodayEvent::Next { index: first + 1 });
    assert_eq!(breaks(&run), [first]);
}
