//! The rungs of a ladder.

mod support;

use proptest::prelude::{prop, proptest};
use proptest::{prop_assert, prop_assert_eq};
use sixrung_lesson::{LadderRules, Tempo};
use sixrung_practice::{Ladder, share_of};

use support::bpm;

fn check(rules: &LadderRules, original: f64, expected: &[f64]) {
    let ladder = Ladder::new(rules, bpm(original));
    let rungs: Vec<f64> = ladder.rungs().iter().map(|rung| rung.bpm()).collect();
    assert_eq!(rungs, expected, "{rules:?} of {original}");
}

fn rules(start: f64, rungs: u8) -> LadderRules {
    LadderRules { start, rungs, ..LadderRules::default() }
}

#[test]
fn rungs_are_geometric_fractions_in_whole_bpm_and_end_at_the_original() {
    check(&rules(0.6, 6), 126.0, &[76.0, 84.0, 93.0, 103.0, 114.0, 126.0]);
    check(&rules(0.6, 6), 137.3, &[82.0, 91.0, 101.0, 112.0, 124.0, 137.3]);
    check(&rules(0.5, 2), 100.0, &[50.0, 100.0]);
    check(&rules(0.6, 1), 126.0, &[126.0]);
    check(&rules(1.0, 6), 126.0, &[126.0]);
}

#[test]
fn rungs_too_close_to_tell_apart_are_left_out() {
    check(&rules(0.9, 6), 100.0, &[90.0, 93.0, 97.0, 100.0]);
    check(&rules(0.99, 6), 100.0, &[100.0]);
    check(&rules(0.2, 6), 10.0, &[10.0]);
}

#[test]
fn named_rungs_are_the_teachers_own() {
    let named =
        |tempi: &[f64]| LadderRules { named: tempi.iter().map(|t| bpm(*t)).collect(), ..LadderRules::default() };
    check(&named(&[80.0, 81.0, 126.0]), 126.0, &[80.0, 81.0, 126.0]);
    check(&named(&[90.0, 80.0, 90.0]), 126.0, &[80.0, 90.0, 126.0]);
    check(&named(&[100.0, 140.0]), 126.0, &[100.0, 126.0]);
}

#[test]
fn a_goal_ends_the_ladder_and_percents_are_still_of_the_original() {
    let to = |goal: f64, rules: LadderRules| LadderRules { goal: Some(bpm(goal)), ..rules };
    check(&to(103.0, rules(0.6, 6)), 126.0, &[76.0, 84.0, 93.0, 103.0]);
    // Less than 3 % above 103.
    check(&to(105.0, rules(0.6, 6)), 126.0, &[76.0, 84.0, 93.0, 105.0]);
    check(&to(60.0, rules(0.6, 6)), 126.0, &[60.0]);
    check(&to(130.0, rules(0.6, 6)), 126.0, &[76.0, 84.0, 93.0, 103.0, 114.0, 126.0]);
    let named = LadderRules { named: vec![bpm(80.0), bpm(89.0), bpm(110.0)], ..LadderRules::default() };
    check(&to(90.0, named), 126.0, &[80.0, 89.0, 90.0]);
    let ladder = Ladder::new(&to(105.0, rules(0.6, 6)), bpm(126.0));
    assert_eq!((ladder.last(), ladder.original()), (bpm(105.0), bpm(126.0)));
    assert_eq!((ladder.percent(bpm(76.0)), ladder.percent(bpm(105.0))), (60, 83));
}

/// The nth root of the share: (1 / 0.6)^(1/5) = 1.1076.
#[test]
fn six_rungs_from_sixty_percent_rise_by_a_ratio_of_1_1076() {
    // At 300 bpm a whole bpm is at most 0.56 % of a rung, so that rounding blurs the ratio by no more than that.
    let ladder = Ladder::new(&rules(0.6, 6), bpm(300.0));
    let rungs = ladder.rungs();
    let mean = (rungs[5].bpm() / rungs[0].bpm()).powf(0.2);
    approx::assert_abs_diff_eq!(mean, 1.1076, epsilon = 0.0005);
    for pair in rungs.windows(2) {
        approx::assert_abs_diff_eq!(pair[1].bpm() / pair[0].bpm(), 1.1076, epsilon = 0.005);
    }
}

#[test]
fn percents_are_whole_and_only_the_original_is_a_hundred() {
    let ladder = support::ladder();
    let percents: Vec<u32> = ladder.rungs().iter().map(|rung| ladder.percent(*rung)).collect();
    assert_eq!(percents, [60, 67, 74, 82, 90, 100]);
    assert_eq!(Ladder::new(&rules(0.6, 6), bpm(126.4)).percent(bpm(126.0)), 99);
}

#[test]
fn a_share_of_the_original_is_in_whole_bpm_but_all_of_it_is_exact() {
    assert_eq!(share_of(bpm(126.0), 0.6), Some(bpm(76.0)));
    assert_eq!(share_of(bpm(137.3), 1.0), Some(bpm(137.3)));
    assert_eq!(share_of(bpm(12.0), 0.2), None);
}

#[test]
fn a_half_rung_lies_between_two_rungs_and_is_told_apart_from_both() {
    let ladder = support::ladder();
    let half = ladder.half_rung_below(bpm(103.0)).expect("93 and 103 leave room");
    assert_eq!(half, bpm(98.0));
    let with = ladder.with(half);
    assert_eq!(with.rungs().len(), 7);
    assert_eq!(with.half_rung_below(bpm(103.0)), None, "98 and 103 leave none");
    assert_eq!(with.with(half), with, "put in once");
    assert_eq!(ladder.half_rung_below(bpm(76.0)), None, "nothing below the first");
    assert_eq!(ladder.with(bpm(130.0)), ladder, "nothing above the original");
    assert_eq!(ladder.with(bpm(70.0)), ladder, "nothing below the first");
}

proptest! {
    /// Three percent: Drake & Botte 1993.
    #[test]
    fn any_rules_give_rising_rungs_three_percent_apart_that_end_at_the_original(
        start in 0.2_f64..=1.0, rungs in 1_u8..=24, milli in 10_000_u32..=400_000,
    ) {
        let original = Tempo::from_milli_bpm(milli).expect("in range");
        let ladder = Ladder::new(&rules(start, rungs), original);
        prop_assert_eq!(ladder.last(), original);
        prop_assert!(ladder.rungs().len() <= usize::from(rungs));
        for pair in ladder.rungs().windows(2) {
            prop_assert!(pair[1].bpm() >= pair[0].bpm() * 1.03);
            prop_assert_eq!(pair[0].milli_bpm() % 1000, 0);
        }
    }

    #[test]
    fn named_rungs_always_rise_and_end_at_the_original(
        named in prop::collection::vec(10_000_u32..=400_000, 1..12), milli in 10_000_u32..=400_000,
    ) {
        let named = named.into_iter().map(|milli| Tempo::from_milli_bpm(milli).expect("in range")).collect();
        let original = Tempo::from_milli_bpm(milli).expect("in range");
        let ladder = Ladder::new(&LadderRules { named, ..LadderRules::default() }, original);
        prop_assert_eq!(ladder.last(), original);
        prop_assert!(ladder.rungs().windows(2).all(|pair| pair[0] < pair[1]));
    }
}
