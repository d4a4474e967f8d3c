//! Every setting has its range, and those of the climb are acted on.

mod support;

use sixrung_practice::{
    BreakRules, Climb, Effect, HearFirst, Input, Marked, Moment, Move, Offers, OutOfRange, Pass, Policy, Proposal,
    UtcOffset, Verdict,
};

use support::{bpm, ladder};

fn climb(policy: Policy) -> Climb {
    Climb::new(ladder(), policy, UtcOffset::default())
}

fn pass(climb: &mut Climb, verdict: Verdict, now: Moment) -> Vec<Effect> {
    climb.update(Input::Pass(Pass { tempo: climb.at(), verdict, marked: Marked::Heard }), now)
}

#[test]
fn the_default_is_in_range_and_the_number_that_is_not_is_named() {
    let check = |policy: Policy, setting: Option<&str>| {
        assert_eq!(policy.checked().map_err(|error| error.setting).err(), setting, "{policy:?}");
    };
    let usual = Policy::default();
    check(usual, None);
    check(Policy { up_after: 0, ..usual }, Some("up_after"));
    check(Policy { up_after: 21, ..usual }, Some("up_after"));
    check(Policy { recheck_up_after: 0, ..usual }, Some("recheck_up_after"));
    check(Policy { down_after: 0, ..usual }, Some("down_after"));
    check(Policy { propose_after_falls: 0, ..usual }, Some("propose_after_falls"));
    check(Policy { rest_after_passes: 0, ..usual }, Some("rest_after_passes"));
    check(Policy { rest_after_falls: 0, ..usual }, Some("rest_after_falls"));
    check(Policy { least_success: 1.01, ..usual }, Some("least_success"));
    check(Policy { least_success: f64::NAN, ..usual }, Some("least_success"));
    check(Policy { success_window: 101, ..usual }, Some("success_window"));
    check(Policy { success_window: 0, ..usual }, None);
    check(Policy { overlearn: -0.1, ..usual }, Some("overlearn"));
    check(Policy { overlearn: f64::INFINITY, ..usual }, Some("overlearn"));
    check(Policy { rest_between_passes_s: 121, ..usual }, Some("rest_between_passes_s"));
    check(Policy { run_every_passes: 101, ..usual }, Some("run_every_passes"));
    check(Policy { run_every_passes: 0, ..usual }, None);
    check(Policy { next_day_steps_back: 25, ..usual }, Some("next_day_steps_back"));
    check(Policy { hold_after_s: 6 * 3600 - 1, ..usual }, Some("hold_after_s"));
    check(Policy { hold_after_s: 8 * 24 * 3600, ..usual }, Some("hold_after_s"));
    check(Policy { new_sitting_after_s: 0, ..usual }, Some("new_sitting_after_s"));
}

#[test]
fn what_is_out_of_range_is_said_with_its_range() {
    let error = Policy { up_after: 0, ..Policy::default() }.checked().expect_err("none climbs");
    assert_eq!(error, OutOfRange { setting: "up_after", found: 0.0, least: 1.0, most: 20.0 });
    assert_eq!(error.to_string(), "up_after is 1 to 20; found 0");
}

#[test]
fn breaks_may_come_sooner_but_not_later() {
    let check = |rules: BreakRules, setting: Option<&str>| {
        assert_eq!(rules.checked().map_err(|error| error.setting).err(), setting, "{rules:?}");
    };
    let usual = BreakRules::default();
    check(usual, None);
    check(BreakRules { suggest_after_min: 10, firm_after_min: 20, break_min: 10 }, None);
    check(BreakRules { suggest_after_min: 0, ..usual }, Some("suggest_after_min"));
    check(BreakRules { firm_after_min: 20, ..usual }, Some("firm_after_min"));
    check(BreakRules { firm_after_min: 51, ..usual }, Some("firm_after_min"));
    check(BreakRules { break_min: 0, ..usual }, Some("break_min"));
}

#[test]
fn the_part_is_heard_first_as_often_as_is_set() {
    // A rung never played, just played, played an hour ago.
    let check = |hear_first, expected: [bool; 3]| {
        let mut climb = climb(Policy { hear_first, ..Policy::default() });
        let new = climb.hear_first(Moment(0));
        pass(&mut climb, Verdict::NotClean, Moment(30));
        assert_eq!([new, climb.hear_first(Moment(40)), climb.hear_first(Moment(3630))], expected, "{hear_first:?}");
    };
    check(HearFirst::Never, [false, false, false]);
    check(HearFirst::NewRung, [true, false, false]);
    check(HearFirst::EverySitting, [true, false, true]);
}

#[test]
fn after_a_climb_the_new_rung_is_heard_first() {
    let mut climb = climb(Policy::default());
    for at_s in [30, 60, 90] {
        pass(&mut climb, Verdict::Clean, Moment(at_s));
    }
    assert_eq!((climb.at(), climb.hear_first(Moment(95))), (bpm(84.0), true));
}

#[test]
fn a_run_at_the_original_tempo_is_due_after_so_many_judged_passes_and_never_at_0() {
    let check = |run_every_passes, judged, due| {
        let climb = climb(Policy { run_every_passes, ..Policy::default() });
        assert_eq!(climb.is_run_due(judged), due, "{judged} of {run_every_passes}");
    };
    check(7, 6, false);
    check(7, 7, true);
    check(7, 12, true);
    check(0, 0, false);
    check(0, 99, false);
    let mut top = climb(Policy::default());
    top.update(Input::Move(Move::To(bpm(126.0))), Moment(0));
    assert!(!top.is_run_due(99), "the player stands at the original tempo");
}

#[test]
fn a_run_moves_nothing_but_the_next_clean_pass_there_is_no_first_try() {
    let played = |run_at_s: Option<i64>| {
        let mut climb = climb(Policy::default());
        climb.update(Input::Move(Move::To(bpm(126.0))), Moment(0));
        pass(&mut climb, Verdict::NotClean, Moment(60));
        if let Some(at_s) = run_at_s {
            let before = (climb.at(), climb.state().pegs, climb.state().not_clean, climb.state().tally.clone());
            assert_eq!(climb.update(Input::Run, Moment(at_s)), []);
            let state = climb.state();
            assert_eq!(before, (climb.at(), state.pegs, state.not_clean, state.tally.clone()));
        }
        pass(&mut climb, Verdict::Clean, Moment(60 + 12 * 3600));
        climb.state().held(bpm(126.0)).is_some()
    };
    assert!(played(None), "left alone for twelve hours");
    assert!(!played(Some(11 * 3600)), "played an hour ago, judged or not");
}

#[test]
fn only_what_is_set_is_offered_after_a_second_fall() {
    let check = |offers: Offers, expected: Option<Vec<Proposal>>| {
        let mut climb = climb(Policy { success_window: 0, rest_after_falls: 9, offers, ..Policy::default() });
        let mut offered = None;
        for fall in 0..2 {
            climb.update(Input::Move(Move::To(bpm(84.0))), Moment(fall));
            for _ in 0..2 {
                let effects = pass(&mut climb, Verdict::NotClean, Moment(fall));
                offered = effects.into_iter().find_map(|effect| match effect {
                    Effect::Propose(proposals) => Some(proposals),
                    _ => None,
                });
            }
        }
        assert_eq!(offered, expected, "{offers:?}");
        assert_eq!(climb.state().offered.is_some(), offers.half_rung, "what was not offered can't be taken");
    };
    let none = Offers { worst_bars: false, half_rung: false, stand_in: false };
    let half = Proposal::HalfRung(bpm(80.0));
    check(Offers::default(), Some(vec![Proposal::LoopWorstBars, half, Proposal::StandIn]));
    check(Offers { half_rung: true, ..none }, Some(vec![half]));
    check(Offers { stand_in: true, ..none }, Some(vec![Proposal::StandIn]));
    check(none, None);
}
