//! What holds after every event, whatever happens in whatever order.

use std::collections::BTreeMap;

use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop, proptest};
use proptest::test_runner::TestCaseError;
use proptest::{prop_assert, prop_assert_eq, prop_oneof};
use sixrung_lesson::{LadderRules, Tempo};
use sixrung_practice::{
    Climb, Effect, Input, Ladder, Marked, Moment, Move, Pass, Policy, Reason, Start, UtcOffset, Verdict,
};

/// An event, and the seconds since the one before.
#[derive(Clone, Copy, Debug)]
struct Event {
    after_s: i64,
    what: What,
}

#[derive(Clone, Copy, Debug)]
enum What {
    Plain(Input),
    PassHere(Verdict, Marked),
}

fn verdict() -> impl Strategy<Value = Verdict> {
    prop_oneof![
        5 => Just(Verdict::Clean),
        3 => Just(Verdict::NotClean),
        1 => Just(Verdict::NotJudged(Reason::Silence)),
    ]
}

fn marked() -> impl Strategy<Value = Marked> {
    prop_oneof![Just(Marked::Heard), Just(Marked::ByPlayer)]
}

fn tempo() -> impl Strategy<Value = Tempo> {
    (10_000_u32..=400_000).prop_map(|milli| Tempo::from_milli_bpm(milli).expect("in range"))
}

fn event() -> impl Strategy<Value = Event> {
    // Backwards too: clocks are set.
    let after_s = prop_oneof![8 => 5_i64..120, 2 => 0_i64..200_000, 1 => -100_000_i64..0];
    let what = prop_oneof![
        12 => (verdict(), marked()).prop_map(|(verdict, marked)| What::PassHere(verdict, marked)),
        1 => (tempo(), verdict(), marked())
            .prop_map(|(tempo, verdict, marked)| What::Plain(Input::Pass(Pass { tempo, verdict, marked }))),
        2 => Just(What::Plain(Input::Open)),
        1 => Just(What::Plain(Input::Move(Move::Slower))),
        1 => Just(What::Plain(Input::Move(Move::Faster))),
        1 => tempo().prop_map(|to| What::Plain(Input::Move(Move::To(to)))),
        1 => Just(What::Plain(Input::TakeHalfRung)),
        1 => Just(What::Plain(Input::Run)),
    ];
    (after_s, what).prop_map(|(after_s, what)| Event { after_s, what })
}

fn policy() -> impl Strategy<Value = Policy> {
    (0_u8..5, 0_u8..4, 0_u8..4, any::<bool>(), 0_u8..4).prop_map(|(up_after, down_after, recheck, probe, back)| {
        Policy {
            start: if probe { Start::Probe } else { Start::First },
            up_after,
            down_after,
            recheck_up_after: recheck,
            next_day_steps_back: back,
            ..Policy::default()
        }
    })
}

fn holds_after(before: &Climb, climb: &Climb, input: Input, effects: &[Effect]) -> Result<(), TestCaseError> {
    let rungs = climb.ladder().rungs();
    prop_assert!(rungs.windows(2).all(|pair| pair[0] < pair[1]), "rungs rise");
    prop_assert_eq!(climb.ladder().first(), before.ladder().first(), "no rung below the first");
    prop_assert_eq!(climb.ladder().last(), before.ladder().last(), "no rung above the original");
    prop_assert!(climb.ladder().has(climb.at()), "the player stands on a rung");
    prop_assert!(climb.state().pegs <= climb.pegs_needed().max(before.pegs_needed()));
    if let Input::Pass(Pass { verdict: Verdict::NotJudged(_), .. }) = input {
        prop_assert_eq!(climb, before, "not judged moves nothing");
        prop_assert!(effects.is_empty());
    }
    for effect in effects {
        match effect {
            Effect::Climbed { from, to } => prop_assert!(Some(*to) == before.ladder().above(*from), "one rung up"),
            Effect::Fell { from, to } => prop_assert!(Some(*to) == before.ladder().below(*from), "one rung down"),
            Effect::SteppedBack { from, to } => prop_assert!(to < from),
            Effect::Arrived => prop_assert_eq!(climb.at(), climb.ladder().last()),
            _ => {}
        }
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(400) })]

    #[test]
    fn hold_after_every_event(
        policy in policy(), original in tempo(), start in 0.2_f64..1.0, rungs in 1_u8..12,
        events in prop::collection::vec(event(), 1..120),
    ) {
        let ladder = Ladder::new(&LadderRules { start, rungs, ..LadderRules::default() }, original);
        let mut climb = Climb::new(ladder.clone(), policy, UtcOffset(3600));
        let mut now = Moment(1_700_000_000);
        // Kept by the test itself, not by the climb.
        let mut last_played = BTreeMap::<Tempo, Moment>::new();
        for event in events {
            now.0 += event.after_s;
            let input = match event.what {
                What::Plain(input) => input,
                What::PassHere(verdict, marked) => Input::Pass(Pass { tempo: climb.at(), verdict, marked }),
            };
            let before = climb.clone();
            let effects = climb.update(input, now);
            holds_after(&before, &climb, input, &effects)?;
            for effect in &effects {
                if let Effect::Held { rung, .. } = effect {
                    let rested = last_played.get(rung).map(|last| now.0 - last.0);
                    prop_assert!(rested.is_some_and(|rested| rested >= 12 * 3600), "held after {:?} s", rested);
                }
            }
            if let Input::Pass(Pass { tempo, verdict: Verdict::Clean | Verdict::NotClean, .. }) = input {
                last_played.insert(tempo, now);
            }
            if input == Input::Run {
                prop_assert!(effects.is_empty() && climb.at() == before.at(), "a run moves nothing");
                last_played.insert(climb.ladder().last(), now);
            }
            let again = Climb::resume(ladder.clone(), policy, UtcOffset(3600), climb.state().clone());
            prop_assert_eq!(&again, &climb, "a stored climb is the same climb");
        }
    }
}
