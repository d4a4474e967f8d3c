//! What holds for every plan, whatever is asked.

use std::collections::BTreeSet;

use proptest::prelude::{Just, ProptestConfig, Strategy, any, prop, proptest};
use proptest::{prop_assert, prop_assert_eq, prop_oneof};
use sixrung_practice::today::{
    Outcome, Rest, Run, SectionToday, SongToday, TodayEvent, TodayInput, TodayPlan, TodayRequest, TodayRun, WarmUp,
    What, Why, plan,
};
use sixrung_practice::{BreakRules, Moment, RestReason, Step};

use crate::days::{NOW, change, climbed, done_till, lines, measured, request, section};

fn reason() -> impl Strategy<Value = RestReason> {
    prop_oneof![
        Just(RestReason::Passes(10)),
        Just(RestReason::Falls(3)),
        Just(RestReason::LittleSuccess { clean: 1, of: 5 }),
        Just(RestReason::Enough { clean: 4 }),
    ]
}

fn a_section(index: usize) -> impl Strategy<Value = SectionToday> {
    let rest = prop::option::weighted(0.2, (0_i64..100_000, reason()));
    (1_u16..6, 4.0_f64..400.0, prop::option::of(0_usize..8), 0_usize..7, 0_i64..100, rest).prop_map(
        move |(times, beats, steps, known, ago_h, rest)| {
            let made = if known == 0 { section(index, times) } else { climbed(index, times, known, ago_h) };
            let made = steps.map_or(made.clone(), |step| done_till(made, Step::ALL[step]));
            let rest = rest.map(|(ago_s, reason)| Rest { since: Moment(NOW.0 - ago_s), reason });
            SectionToday { beats, rest, ..made }
        },
    )
}

fn a_request() -> impl Strategy<Value = TodayRequest> {
    let sections = (0_usize..6).prop_flat_map(|count| (0..count).map(a_section).collect::<Vec<_>>());
    let changes = prop::collection::vec((0.0_f64..9.0, 0_usize..6, 0_u16..5, prop::option::of(40.0_f64..200.0)), 0..5);
    let song = prop::option::of(20_u32..900);
    let breaks = prop_oneof![
        4 => Just(BreakRules::default()),
        // Stretches of a minute or two cannot hold all their breaks: then minutes are left over.
        1 => (5_u16..=50, 1_u16..=60).prop_map(|(suggest_after_min, break_min)| BreakRules {
            suggest_after_min,
            break_min,
            ..BreakRules::default()
        }),
    ];
    let numbers = (5_u16..=120, 0_u32..4000, prop::option::of(0_usize..6), 0_u16..10);
    (sections, changes, song, breaks, numbers).prop_map(
        |(sections, changes, song, breaks, (minutes, since_break_s, first, since_run))| {
            let named = changes.into_iter().enumerate().map(|(index, (difficulty, section, times, fits))| {
                let mut made = change(&format!("A{index}"), "B", difficulty, &[(section, times)]);
                made.measured = fits.and_then(|fits| measured(1.0, fits));
                made
            });
            TodayRequest {
                changes: named.collect(),
                song: song.map_or(SongToday::NotYet, |seconds| SongToday::MayBePlayed { seconds }),
                since_break_s,
                breaks,
                first_learned: first,
                passes_since_run: since_run,
                ..request(minutes, sections)
            }
        },
    )
}

/// The part of a plan an item belongs to, in the order in which the parts come.
fn part(what: &What) -> Option<u8> {
    match what {
        What::Break => None,
        What::WarmUp { .. } => Some(0),
        What::Recheck { .. } => Some(1),
        What::Climb { .. } | What::Step { .. } | What::Song(_) | What::Change { .. } | What::Rotate { .. } => Some(2),
        // Between two turns of one section a run may stand among the work.
        What::RunAtTempo(_) => None,
        What::ReplayFirst { .. } => Some(3),
    }
}

fn section_of(what: &What) -> Option<usize> {
    match what {
        What::WarmUp { section, .. }
        | What::Recheck { section, .. }
        | What::Climb { section }
        | What::Step { section, .. }
        | What::Rotate { section, .. }
        | What::RunAtTempo(Run::Section(section))
        | What::ReplayFirst { section, .. } => Some(*section),
        What::Song(_) | What::Change { .. } | What::RunAtTempo(Run::Whole) | What::Break => None,
    }
}

/// The longest stretch of playing between breaks, in minutes.
fn longest_stretch(plan: &TodayPlan, mut stretch: u16) -> u16 {
    let mut longest = 0;
    for item in &plan.items {
        stretch = if item.what == What::Break { 0 } else { stretch + item.minutes };
        longest = longest.max(stretch);
    }
    longest
}

fn cases(cases: u32) -> ProptestConfig {
    ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(cases) }
}

proptest! {
    #![proptest_config(cases(1500))]

    #[test]
    fn every_plan_keeps_the_rules(asked in a_request()) {
        let plan = plan(&asked);
        prop_assert_eq!(&plan, &sixrung_practice::today::plan(&asked), "the same request, the same plan");

        // Minutes: exactly what was asked, and less only where everything rests.
        prop_assert_eq!(plan.minutes() + plan.spare_min, asked.minutes);
        prop_assert!(plan.items.iter().all(|item| item.minutes >= 1));
        let rests = |section: &SectionToday| {
            section.rest.is_some_and(|rest| rest.lasts(asked.now, asked.zone, &asked.policy))
                || section.climb.as_ref().is_some_and(|climb| {
                    // Three clean passes at the top arrive, half as many again are one more: `climbed` plays none more.
                    climb.top.arrived_after.is_some_and(|after| climb.top.clean >= after + after / 2)
                })
        };
        if asked.sections.iter().any(|section| !rests(section)) {
            prop_assert_eq!(plan.spare_min, 0);
        }

        // Order.
        let parts: Vec<u8> = plan.items.iter().filter_map(|item| part(&item.what)).collect();
        prop_assert!(parts.is_sorted(), "{:?}", lines(&plan));

        // Breaks: between playing, five minutes, none too late.
        for (index, item) in plan.items.iter().enumerate() {
            if item.what == What::Break {
                prop_assert_eq!(item.minutes, asked.breaks.break_min);
                prop_assert!(plan.items.get(index + 1).is_some_and(|next| next.what != What::Break));
            }
        }
        let before = u16::try_from(asked.since_break_s / 60).expect("small");
        let usual = asked.breaks == BreakRules::default();
        if usual && before == 0 {
            prop_assert!(longest_stretch(&plan, 0) <= 25, "{:?}", lines(&plan));
        }
        let breaks = plan.items.iter().filter(|item| item.what == What::Break).count();
        prop_assert!(!usual || breaks <= usize::from(asked.minutes / 15 + 1));

        for item in &plan.items {
            // Sections that rest.
            if let Some(section) = section_of(&item.what) {
                let section = asked.sections.iter().find(|of| of.section == section).expect("a section that was asked for");
                let told = section.rest.is_some_and(|rest| rest.lasts(asked.now, asked.zone, &asked.policy));
                prop_assert!(!told, "{} rests", section.section);
            }
            if matches!(item.what, What::Song(_) | What::RunAtTempo(Run::Whole)) {
                prop_assert!(asked.song != SongToday::NotYet);
                prop_assert!(!asked.sections.iter().any(|of| of.rest.is_some_and(|rest| rest.lasts(NOW, asked.zone, &asked.policy))));
            }
            // Rungs: on the ladder, so never above the goal nor below the first.
            match &item.what {
                What::WarmUp { section, how: WarmUp::Slow(rung) } | What::Recheck { section, rung } | What::ReplayFirst { section, rung } => {
                    let of = asked.sections.iter().find(|of| of.section == *section).expect("a section");
                    prop_assert!(of.ladder.has(*rung));
                    let record = of.climb.as_ref().and_then(|climb| climb.rungs.get(rung)).expect("it was played");
                    prop_assert!(record.known);
                    if matches!(item.what, What::Recheck { .. }) {
                        prop_assert!(asked.now.since(record.last_played) >= 12 * 3600 && record.held.is_none());
                        // Nothing planned before the check plays the rung.
                        let warm = plan.items.iter().any(|item| item.what == What::WarmUp { section: *section, how: WarmUp::Slow(*rung) });
                        prop_assert!(!warm);
                    }
                }
                _ => {}
            }
        }
    }

    #[test]
    fn every_run_ends_in_time(
        asked in a_request(),
        events in prop::collection::vec((0_u8..9, 5_u32..240, any::<prop::sample::Index>(), any::<prop::sample::Index>()), 0..200),
    ) {
        let plan = plan(&asked);
        let mut run = TodayRun::new(plan.clone());
        let mut now = NOW;
        let mut left_before = u32::from(plan.minutes()) * 60;
        let mut done = 0;
        let mut resting = BTreeSet::new();
        let mut last_index = None;
        let mut told = run.update(TodayInput::Start, now);
        for (kind, seconds, one, other) in events {
            let index = |index: prop::sample::Index| index.index(run.items().count() + 1);
            let input = match kind {
                0 => TodayInput::Played { seconds },
                1 | 2 => TodayInput::Pass { outcome: Outcome::Clean, seconds },
                3 => TodayInput::Pass { outcome: Outcome::NotClean, seconds },
                4 => TodayInput::Pass { outcome: Outcome::Unjudged, seconds },
                5 => TodayInput::Swap(index(one), index(other)),
                6 => TodayInput::Move { from: index(one), to: index(other) },
                7 => TodayInput::StepDone,
                _ => {
                    let section = run.current().and_then(|on| section_of(&on.item.what));
                    section.map_or(TodayInput::Tick, |section| TodayInput::SectionRests { section, reason: RestReason::Enough { clean: 4 } })
                }
            };
            now.0 += i64::from(seconds);
            if let TodayInput::SectionRests { section, .. } = input {
                resting.insert(section);
            }
            told.extend(run.update(input, now));
            let left = run.left_s();
            prop_assert!(left <= left_before, "what is left never grows: {:?}", input);
            left_before = left;
            if let Some(on) = run.current() {
                prop_assert!(section_of(&on.item.what).is_none_or(|section| !resting.contains(&section)), "{:?}", on);
            }
            for event in told.drain(..) {
                match event {
                    TodayEvent::Next { index } | TodayEvent::BreakDue { index, .. } => {
                        prop_assert!(last_index.is_none_or(|last| index > last), "forward only");
                        last_index = Some(index);
                    }
                    TodayEvent::Done => done += 1,
                    TodayEvent::ItemOver { .. } | TodayEvent::Dropped { .. } => {}
                }
            }
        }
        // However it went, skipping leads to the end, said once.
        done += told.iter().filter(|event| **event == TodayEvent::Done).count();
        for _ in 0..=run.items().count() {
            let told = run.update(TodayInput::Skip, now);
            done += told.iter().filter(|event| **event == TodayEvent::Done).count();
        }
        prop_assert!(run.is_done() && done == 1);
        prop_assert_eq!(run.left_s(), 0);
    }
}

/// Each reason is given to someone: a reason that nobody ever gets would be dead.
#[test]
fn each_reason_appears() {
    use proptest::strategy::ValueTree as _;
    use proptest::test_runner::TestRunner;

    let mut runner = TestRunner::deterministic();
    let mut seen = BTreeSet::new();
    for _ in 0..1500 {
        let asked = a_request().new_tree(&mut runner).expect("a request").current();
        seen.extend(plan(&asked).items.iter().map(|item| name(&item.why)));
    }
    assert_eq!(seen.len(), 16, "{seen:?}");
}

fn name(why: &Why) -> &'static str {
    match why {
        Why::EasyAndKnown { .. } => "easy and known",
        Why::WaitsToBeHeld { .. } => "waits to be held",
        Why::MostToGain { .. } => "most to gain",
        Why::FirstOfAll { .. } => "first of all",
        Why::NextStep { .. } => "next step",
        Why::SectionsStand { .. } => "sections stand",
        Why::ChangeTooSlow { .. } => "change too slow",
        Why::ChangeNotMeasured { .. } => "change not measured",
        Why::SectionsRest => "sections rest",
        Why::Rotation { .. } => "rotation",
        Why::NewSection { .. } => "new section",
        Why::KeepUp { .. } => "keep up",
        Why::Again { .. } => "again",
        Why::NowAndThen { .. } => "now and then",
        Why::LearnedFirst => "learned first",
        Why::PlayedLong { .. } => "played long",
    }
}
