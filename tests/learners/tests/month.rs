//! A learner's month: repeatable, on the ladder, and counted rightly.

use approx::assert_abs_diff_eq;
use sixrung_learners::{Figures, Month, Part, Reached, contenders, months, ours};

#[test]
fn the_same_seed_gives_the_same_month_and_another_gives_another() {
    let part = Part::default();
    let months = |seed| months(&ours(), &part, 3, seed, |traits| traits);
    assert_eq!(months(5), months(5));
    assert_ne!(months(5), months(6));
}

#[test]
fn no_policy_goes_above_the_original_tempo_or_below_its_first_rung() {
    let part = Part::default();
    for contender in contenders(part.original) {
        let ladder = contender.ladder(part.original);
        assert!(contender.policy.checked().is_ok(), "{}", contender.name);
        assert_eq!(ladder.last(), part.original, "{}", contender.name);
        for month in months(&contender, &part, 3, 8, |traits| traits) {
            let (low, high) = month.between.expect("something was played");
            assert!(ladder.first() <= low && high <= ladder.last(), "{}: {low:?} to {high:?}", contender.name);
            assert!(month.false_climbs <= month.climbs && month.not_clean <= month.judged);
            assert!(month.judged <= month.passes && month.hard_s <= month.played_s);
            assert_eq!(month.judged == month.passes, contender.policy.run_every_passes == 0 || high == low);
        }
    }
}

#[test]
fn rungs_of_5_bpm_end_at_the_original_and_at_tempo_only_has_one() {
    let all = contenders(Part::default().original);
    let rungs = |name: &str| {
        let contender = all.iter().find(|contender| contender.name == name).expect("it is among them");
        contender.ladder(Part::default().original).rungs().iter().map(|rung| rung.bpm()).collect::<Vec<_>>()
    };
    assert_eq!(rungs("5 bpm after each clean pass"), [76., 81., 86., 91., 96., 101., 106., 111., 116., 121., 126.]);
    assert_eq!(rungs("at tempo only"), [126.0]);
}

/// 400 learners of whom half arrive, in 1 to 200 passes: shares as binomial arithmetic has them (1.96 standard errors
/// are .049), the median among them the last who arrives.
#[test]
fn figures_and_their_intervals_are_those_of_known_months() {
    let reached = |passes: u32| Reached { day: 1, passes, played_s: 60.0 * f64::from(passes) };
    let month = |passes: u32| Month {
        arrived: (passes <= 200).then(|| reached(passes)),
        able: Some(reached(passes)),
        judged: 10,
        not_clean: 3,
        climbs: 4,
        false_climbs: 1,
        played_s: 100.0,
        hard_s: 20.0,
        ..Month::default()
    };
    let figures = Figures::of(&(1..=400).map(month).collect::<Vec<_>>(), 1);
    assert_abs_diff_eq!(figures.arrive.value, 0.5, epsilon = 1e-9);
    assert_abs_diff_eq!(figures.arrive.low, 0.451, epsilon = 0.01);
    assert_abs_diff_eq!(figures.arrive.high, 0.549, epsilon = 0.01);
    assert!(figures.passes.high.is_infinite(), "half of them never arrive");
    // Ranks of the median's interval, n/2 ± 1.96·√n/2: 180 to 220.
    assert_abs_diff_eq!(figures.minutes_to_able.value, 201.0, epsilon = 1e-9);
    assert_abs_diff_eq!(figures.minutes_to_able.low, 180.0, epsilon = 6.0);
    assert_abs_diff_eq!(figures.minutes_to_able.high, 220.0, epsilon = 6.0);
    for (found, expected) in [(figures.not_clean, 0.3), (figures.false_climbs, 0.25), (figures.hard, 0.2)] {
        assert_abs_diff_eq!(found.value, expected, epsilon = 1e-9);
        assert_abs_diff_eq!(found.high - found.low, 0.0, epsilon = 1e-9);
    }
}
