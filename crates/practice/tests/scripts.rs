//! What a climb answers, as scripts: what happens on the left, what follows on the right.
//!
//! `C` clean, `c` clean by the player's own mark, `N` not clean, `-` not judged, `T` clean at the original tempo;
//! `O` the section is opened, `>` and `<` faster and slower by hand, `½` the half-rung is taken; `+12h`, `+40m` time
//! goes by. A pass takes half a minute, and the first begins on a morning at 08:00.

mod support;

use sixrung_lesson::{LadderRules, Tempo};
use sixrung_practice::{
    Climb, Effect, Input, Ladder, Marked, Moment, Move, Pass, Policy, Proposal, Reason, RestReason, Start, UtcOffset,
    Verdict,
};

use support::{bpm, ladder};

fn check(policy: Policy, script: &[(&str, &str)]) -> Climb {
    let mut climb = Climb::new(ladder(), policy, UtcOffset::default());
    run(&mut climb, &mut Moment(8 * 3600), script);
    climb
}

fn run(climb: &mut Climb, now: &mut Moment, script: &[(&str, &str)]) {
    for (line, (happens, expected)) in script.iter().enumerate() {
        let mut said = Vec::new();
        for token in happens.split_whitespace() {
            if let Some(seconds) = waiting(token) {
                now.0 += seconds;
                continue;
            }
            let input = input(climb, token);
            if matches!(input, Input::Pass(_)) {
                now.0 += 30;
            }
            said.extend(climb.update(input, *now).iter().map(text));
        }
        assert_eq!(said.join(", "), *expected, "line {line}: {happens}");
    }
}

fn waiting(token: &str) -> Option<i64> {
    let time = token.strip_prefix('+')?;
    let (count, unit) = time.split_at(time.len() - 1);
    Some(count.parse::<i64>().expect("a number") * if unit == "h" { 3600 } else { 60 })
}

fn input(climb: &Climb, token: &str) -> Input {
    let pass = |tempo, verdict, marked| Input::Pass(Pass { tempo, verdict, marked });
    let at = climb.at();
    match token {
        "C" => pass(at, Verdict::Clean, Marked::Heard),
        "c" => pass(at, Verdict::Clean, Marked::ByPlayer),
        "N" => pass(at, Verdict::NotClean, Marked::Heard),
        "-" => pass(at, Verdict::NotJudged(Reason::TooFaint), Marked::Heard),
        "T" => pass(climb.ladder().last(), Verdict::Clean, Marked::Heard),
        "O" => Input::Open,
        ">" => Input::Move(Move::Faster),
        "<" => Input::Move(Move::Slower),
        "½" => Input::TakeHalfRung,
        _ => panic!("no such token: {token}"),
    }
}

fn text(effect: &Effect) -> String {
    let bpm = |tempo: &Tempo| tempo.bpm();
    match effect {
        Effect::PegAdded { pegs, needed } => format!("peg {pegs}/{needed}"),
        Effect::PegsCleared => "pegs off".into(),
        Effect::Climbed { from, to } => format!("up {}-{}", bpm(from), bpm(to)),
        Effect::Fell { from, to } => format!("down {}-{}", bpm(from), bpm(to)),
        Effect::Held { rung, marked: Marked::Heard } => format!("held {}", bpm(rung)),
        Effect::Held { rung, marked: Marked::ByPlayer } => format!("held {} by own mark", bpm(rung)),
        Effect::Arrived => "arrived".into(),
        Effect::SteppedBack { from, to } => format!("back {}-{}", bpm(from), bpm(to)),
        Effect::Moved { from, to } => format!("moved {}-{}", bpm(from), bpm(to)),
        Effect::Propose(proposals) => format!("try {}", proposals.iter().map(proposal).collect::<Vec<_>>().join("/")),
        Effect::RestSection(RestReason::Passes(count)) => format!("rest: {count} passes"),
        Effect::RestSection(RestReason::Falls(count)) => format!("rest: {count} falls"),
        Effect::RestSection(RestReason::LittleSuccess { clean, of }) => format!("rest: {clean} of {of}"),
        Effect::RestSection(RestReason::Enough { clean }) => format!("rest: enough at {clean}"),
        Effect::HalfRungAdded(half) => format!("half {}", bpm(half)),
    }
}

fn proposal(proposal: &Proposal) -> String {
    match proposal {
        Proposal::LoopWorstBars => "bars".into(),
        Proposal::HalfRung(half) => format!("half {}", half.bpm()),
        Proposal::StandIn => "stand-in".into(),
    }
}

#[test]
fn three_clean_in_a_row_climb() {
    check(
        Policy::default(),
        &[
            ("C C", "peg 1/3, peg 2/3"),
            ("N", "pegs off"),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 76-84"),
            ("C", "peg 1/3"),
        ],
    );
}

#[test]
fn two_not_clean_in_a_row_fall_but_never_below_the_first() {
    let policy = Policy { success_window: 0, ..Policy::default() };
    check(policy, &[("C C C", "peg 1/3, peg 2/3, peg 3/3, up 76-84"), ("N C N N", "peg 1/3, pegs off, down 84-76")]);
    // There the row counts as a fall: of the ladder's own remedies none is left, so the others are proposed.
    check(policy, &[("N N", ""), ("N N", "try bars/stand-in"), ("N N", "try bars/stand-in, rest: 3 falls")]);
}

#[test]
fn a_pass_not_judged_moves_nothing() {
    check(
        Policy::default(),
        &[
            ("C C - - -", "peg 1/3, peg 2/3"),
            ("C", "peg 3/3, up 76-84"),
            ("N - N", "down 84-76"),
            ("- - - - - - -", ""),
        ],
    );
}

#[test]
fn a_pass_at_another_tempo_moves_nothing() {
    let climb = check(Policy::default(), &[("C C T", "peg 1/3, peg 2/3"), ("C", "peg 3/3, up 76-84")]);
    assert!(climb.state().rungs.contains_key(&bpm(126.0)), "but it was played");
    assert!(!climb.state().is_known(bpm(126.0)));
}

#[test]
fn a_second_fall_at_one_rung_proposes_something_else() {
    let policy = Policy { rest_after_passes: 99, success_window: 0, ..Policy::default() };
    let climb = check(
        policy,
        &[
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 76-84"),
            ("N N", "down 84-76"),
            ("½", ""),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 76-84"),
            ("N N", "down 84-76, try bars/half 80/stand-in"),
            ("½", "half 80, moved 76-80"),
            ("½", ""),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 80-84"),
            ("N N", "down 84-80, try bars/stand-in, rest: 3 falls"),
        ],
    );
    assert_eq!(climb.state().half_rungs, [bpm(80.0)]);
}

#[test]
fn climbing_a_rung_forgets_its_falls() {
    let policy = Policy { rest_after_passes: 99, success_window: 0, ..Policy::default() };
    check(
        policy,
        &[
            ("> N N", "moved 76-84, down 84-76"),
            ("> C C C", "moved 76-84, peg 1/3, peg 2/3, peg 3/3, up 84-93"),
            ("< N N", "moved 93-84, down 84-76"),
        ],
    );
}

#[test]
fn the_section_rests_after_ten_passes_three_falls_or_little_success() {
    let slow = Policy { up_after: 20, ..Policy::default() };
    check(slow, &[("C C C C C C C C C", &pegs(1..=9, 20)), ("C", "peg 10/20, rest: 10 passes"), ("C", "peg 11/20")]);
    check(Policy::default(), &[("N C N C", "peg 1/3, pegs off, peg 1/3"), ("N", "pegs off, rest: 2 of 5")]);
    check(Policy::default(), &[("N C C N", "peg 1/3, peg 2/3, pegs off"), ("C", "peg 1/3")]);
    let patient = Policy { success_window: 0, ..Policy::default() };
    check(
        patient,
        &[("> > N N", "moved 76-84, moved 84-93, down 93-84"), ("N N", "down 84-76"), ("N N", "rest: 3 falls")],
    );
}

#[test]
fn a_pause_begins_a_new_sitting() {
    let slow = Policy { up_after: 20, ..Policy::default() };
    check(
        slow,
        &[
            ("C C C C C", &pegs(1..=5, 20)),
            ("+31m C C C C C", &pegs(6..=10, 20)),
            ("C C C C", &pegs(11..=14, 20)),
            ("C", "peg 15/20, rest: 10 passes"),
        ],
    );
}

fn pegs(range: std::ops::RangeInclusive<u8>, needed: u8) -> String {
    range.map(|pegs| format!("peg {pegs}/{needed}")).collect::<Vec<_>>().join(", ")
}

#[test]
fn the_original_tempo_is_arrived_at_once_a_day_and_half_as_many_passes_again_are_enough() {
    check(
        Policy::default(),
        &[
            ("> > > > >", "moved 76-84, moved 84-93, moved 93-103, moved 103-114, moved 114-126"),
            (">", ""),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, arrived"),
            ("C", "peg 3/3, rest: enough at 4"),
            ("C C", "peg 3/3, peg 3/3"),
            ("+24h O", "back 126-114"),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 114-126"),
            ("C", "peg 1/1, held 126, arrived, rest: enough at 1"),
        ],
    );
}

#[test]
fn the_next_day_begins_a_rung_below_and_checks_known_rungs_with_one_pass_each() {
    check(
        Policy::default(),
        &[
            ("O C C C", "peg 1/3, peg 2/3, peg 3/3, up 76-84"),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 84-93"),
            ("C C", "peg 1/3, peg 2/3"),
            ("+24h O", "back 93-84"),
            ("O +24h O", ""),
            ("C", "peg 1/1, held 84, up 84-93"),
            ("C", "peg 1/3, held 93"),
            ("C C", "peg 2/3, peg 3/3, up 93-103"),
        ],
    );
}

#[test]
fn a_fall_in_the_recheck_ends_it() {
    check(
        Policy { success_window: 0, ..Policy::default() },
        &[
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 76-84"),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 84-93"),
            ("+24h O", "back 93-84"),
            ("N C", "peg 1/1, up 84-93"),
            ("< N N", "moved 93-84, down 84-76"),
            ("C C C", "peg 1/3, held 76, peg 2/3, peg 3/3, up 76-84"),
        ],
    );
}

#[test]
fn a_rung_is_held_only_when_clean_at_first_try_twelve_hours_later() {
    let policy = Policy { up_after: 20, down_after: 20, success_window: 0, ..Policy::default() };
    let start = ("C", "peg 1/20");
    check(policy, &[start, ("+11h +59m C", "peg 2/20")]);
    let climb = check(policy, &[start, ("+12h C", "peg 2/20, held 76")]);
    assert_eq!(climb.state().held(bpm(76.0)).map(|held| held.marked), Some(Marked::Heard));
    // Not at first try.
    check(policy, &[start, ("+13h N C", "pegs off, peg 1/20")]);
    // By the player's own mark it is held too, and told apart until it is heard.
    let climb = check(policy, &[start, ("+12h c", "peg 2/20, held 76 by own mark")]);
    assert_eq!(climb.state().held(bpm(76.0)).map(|held| held.marked), Some(Marked::ByPlayer));
    let climb = check(policy, &[start, ("+12h c +12h C", "peg 2/20, held 76 by own mark, peg 3/20, held 76")]);
    assert_eq!(climb.state().held(bpm(76.0)).map(|held| held.marked), Some(Marked::Heard));
}

#[test]
fn a_probe_climbs_on_every_clean_pass_and_settles_on_the_last() {
    check(
        Policy { start: Start::Probe, ..Policy::default() },
        &[
            ("C C", "peg 1/1, up 76-84, peg 1/1, up 84-93"),
            ("N", "down 93-84"),
            ("C C C", "peg 1/3, peg 2/3, peg 3/3, up 84-93"),
        ],
    );
}

#[test]
fn moves_by_hand_stay_on_the_ladder() {
    let mut climb = check(Policy::default(), &[("<", ""), ("C >", "peg 1/3, moved 76-84"), ("C", "peg 1/3")]);
    for (to, expected) in [(400.0, 126.0), (10.0, 76.0), (100.0, 93.0)] {
        climb.update(Input::Move(Move::To(bpm(to))), Moment(0));
        assert_eq!(climb.at(), bpm(expected), "moved to {to}");
    }
}

#[test]
fn a_stored_climb_goes_on_where_it_was() {
    let policy = Policy { rest_after_passes: 99, success_window: 0, ..Policy::default() };
    let mut before = check(policy, &[("> > N N > N N ½ C C", &before_text())]);
    let mut after = Climb::resume(ladder(), policy, UtcOffset::default(), before.state().clone());
    assert_eq!(after, before);
    for hour in [1, 30, 60] {
        let now = Moment(hour * 3600 + 10 * 3600);
        for token in ["O", "C", "N", "C", "C"] {
            let input = input(&before, token);
            assert_eq!(after.update(input, now), before.update(input, now));
        }
    }
}

fn before_text() -> String {
    "moved 76-84, moved 84-93, down 93-84, moved 84-93, down 93-84, try bars/half 88/stand-in, half 88, moved 84-88, \
     peg 1/3, peg 2/3"
        .into()
}

#[test]
fn a_stored_climb_finds_its_place_on_a_changed_ladder() {
    let policy = Policy::default();
    let before = check(policy, &[("> > C", "moved 76-84, moved 84-93, peg 1/3")]);
    let rules = LadderRules { named: vec![bpm(70.0), bpm(90.0)], ..LadderRules::default() };
    let after = Climb::resume(Ladder::new(&rules, bpm(126.0)), policy, UtcOffset::default(), before.state().clone());
    assert_eq!((after.at(), after.state().pegs), (bpm(90.0), 0));
}
