//! From strums to verdicts, without sound.

mod common;

use common::{Dice, good_input, plan, strum};
use sixrung_lesson::{Criterion, Level};
use sixrung_listen::{Finding, Moment, PassVerdict, Quality, Reason, Strum, Verdict, judge};

use Finding::{Early, InTime, Late, Missed};

/// Eight strokes half a second apart on quarter-second slots, played with these offsets in ms; `None` is not played.
fn judged(offsets_ms: [Option<f64>; 8], extras_s: &[f64], criterion: &Criterion) -> PassVerdict {
    let plan = plan(8, 0.5, 0.25);
    let mut heard: Vec<Strum> = (0..8_u32)
        .zip(offsets_ms)
        .filter_map(|(index, offset)| Some(strum(f64::from(index) * 0.5 + offset? / 1000.0)))
        .chain(extras_s.iter().map(|at_s| strum(*at_s)))
        .collect();
    heard.sort_by(|one, other| one.at_s.total_cmp(&other.at_s));
    judge(&plan, &heard, criterion, &good_input(&plan))
}

#[test]
fn a_stroke_is_in_time_early_late_or_missed_by_its_offset_from_the_players_own_beat() {
    let check = |offset: Option<f64>, finding, verdict| {
        let mut offsets = [Some(0.0); 8];
        offsets[3] = offset;
        offsets[5] = offset;
        let pass = judged(offsets, &[], &Criterion::default());
        assert_eq!(pass.strokes[3].finding, finding, "{offset:?}");
        assert_eq!(pass.verdict, verdict, "{offset:?}");
    };
    check(Some(79.0), InTime, Verdict::Clean);
    check(Some(-79.0), InTime, Verdict::Clean);
    check(Some(81.0), Late, Verdict::NotClean);
    check(Some(-81.0), Early, Verdict::NotClean);
    check(Some(240.0), Late, Verdict::NotClean);
    check(Some(-240.0), Early, Verdict::NotClean);
    check(None, Missed, Verdict::NotClean);
}

#[test]
fn the_players_bias_is_forgiven_up_to_the_levels_limit_and_reported() {
    let check = |level, bias_ms: f64, verdict| {
        let pass = judged([Some(bias_ms); 8], &[], &Criterion { level, allowed_faults: None });
        assert_eq!(pass.verdict, verdict, "{level:?} {bias_ms}");
        let median_ms = pass.median_offset_ms.expect("all were heard");
        assert!((median_ms - bias_ms).abs() < 1e-6);
        assert!(pass.spread_ms.expect("all were heard") < 1e-6);
    };
    check(Level::Beginner, -120.0, Verdict::Clean);
    check(Level::Beginner, -131.0, Verdict::NotClean);
    check(Level::Improver, 89.0, Verdict::Clean);
    check(Level::Improver, 91.0, Verdict::NotClean);
    check(Level::Advanced, 59.0, Verdict::Clean);
    check(Level::Advanced, 61.0, Verdict::NotClean);
}

#[test]
fn bias_and_spread_are_the_median_and_its_absolute_deviation() {
    let offsets = [-10.0, 0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0].map(Some);
    let pass = judged(offsets, &[], &Criterion::default());
    assert!((pass.median_offset_ms.expect("heard") - 25.0).abs() < 1e-6);
    // Distances 5 5 15 15 25 25 35 35: their median is 20.
    assert!((pass.spread_ms.expect("heard") - 1.4826 * 20.0).abs() < 1e-6);
}

#[test]
fn a_strum_nobody_asked_for_is_an_extra_and_one_is_too_many_in_eight() {
    let pass = judged([Some(0.0); 8], &[1.25], &Criterion::default());
    assert_eq!((pass.extras_s.as_slice(), pass.verdict), ([1.25].as_slice(), Verdict::NotClean));
    let plan = plan(32, 0.5, 0.25);
    let heard: Vec<Strum> = (0..32).map(|index| strum(f64::from(index) * 0.5)).chain([strum(15.75)]).collect();
    let pass = judge(&plan, &heard, &Criterion::default(), &good_input(&plan));
    assert_eq!((pass.extras_s.len(), pass.verdict), (1, Verdict::Clean));
}

#[test]
fn where_only_the_strokes_asked_for_count_others_between_them_are_nothing() {
    let plan = plan(8, 0.5, 0.25).only_asked();
    let heard = |late_s: f64| -> Vec<Strum> {
        let asked = (0..8).map(|index| strum(f64::from(index) * 0.5 + if index < 3 { late_s } else { 0.0 }));
        asked.chain([strum(1.75), strum(3.25)]).collect()
    };
    let pass = judge(&plan, &heard(0.0), &Criterion::default(), &good_input(&plan));
    assert_eq!((pass.extras_s.len(), pass.verdict), (0, Verdict::Clean));
    // Those asked for are judged as ever.
    let pass = judge(&plan, &heard(0.12), &Criterion::default(), &good_input(&plan));
    assert_eq!(pass.verdict, Verdict::NotClean);
}

#[test]
fn every_expected_stroke_gets_one_finding_by_time() {
    let pass = judged(
        [Some(0.0), None, Some(100.0), Some(-100.0), None, Some(5.0), Some(0.0), Some(0.0)],
        &[],
        &Criterion::default(),
    );
    let findings: Vec<Finding> = pass.strokes.iter().map(|stroke| stroke.finding).collect();
    assert_eq!(findings, [InTime, Missed, Late, Early, Missed, InTime, InTime, InTime]);
    assert!(pass.strokes.is_sorted_by(|one, other| one.expected_s < other.expected_s));
}

/// Fault arithmetic against the binomial law: σ = 25 ms and T = 50 ms (0.40 of a 125 ms slot) give P(in time) =
/// erf(√2) = .9545, so 15 or 16 of 16 with probability .837.
#[test]
fn a_player_with_25_ms_of_spread_has_15_of_16_in_time_five_times_in_six() {
    let mut dice = Dice(6);
    let groups = 6_000_u32;
    let plan = plan(16 * groups, 1.0, 0.125);
    let heard: Vec<Strum> = (0..16 * groups).map(|index| strum(f64::from(index) + 0.025 * dice.normal())).collect();
    let pass = judge(&plan, &heard, &Criterion::default(), &good_input(&plan));
    let clean = pass.strokes.chunks(16).filter(|group| group.iter().filter(|s| s.finding == InTime).count() >= 15);
    let share = f64::from(u32::try_from(clean.count()).expect("few")) / f64::from(groups);
    assert!((share - 0.837).abs() <= 0.01, "{share}");
}

#[test]
fn what_the_input_lacks_is_never_the_players_fault() {
    let plan = plan(8, 0.5, 0.25);
    let played: Vec<Strum> = (0..8).map(|index| strum(f64::from(index) * 0.5)).collect();
    let good = good_input(&plan).moments[0];
    let check = |moment: Moment, heard: &[Strum], own_sound_db, reason| {
        let quality = Quality { moments: vec![moment], own_sound_db, ..Quality::default() };
        let pass = judge(&plan, heard, &Criterion::default(), &quality);
        assert_eq!(pass.verdict, Verdict::NotJudged(reason));
    };
    check(good, &[], None, Reason::TooFaint);
    check(Moment { level_db: -90.0, ..good }, &played, None, Reason::Silence);
    check(Moment { clipped: 0.02, ..good }, &played, None, Reason::Clipped);
    check(Moment { gap: true, ..good }, &played, None, Reason::Gap);
    check(Moment { bad: true, ..good }, &played, None, Reason::BadSamples);
    check(Moment { end_s: 3.4, ..good }, &played, None, Reason::TooShort);
    check(good, &played, Some(-32.0), Reason::OwnSound);
    let faint: Vec<Strum> = played.iter().map(|strum| Strum { rise_db: 4.0, certain: false, ..*strum }).collect();
    check(good, &faint, None, Reason::TooFaint);
}

#[test]
fn strokes_too_close_to_tell_apart_and_empty_stretches_are_not_judged() {
    let check = |plan: sixrung_listen::PassPlan, reason| {
        let pass = judge(&plan, &[strum(0.0)], &Criterion::default(), &good_input(&plan));
        assert_eq!(pass.verdict, Verdict::NotJudged(reason));
    };
    check(plan(0, 1.0, 1.0), Reason::NothingExpected);
    check(plan(8, 0.05, 0.05), Reason::TooFast);
}

#[test]
fn resting_for_some_bars_is_missing_strokes_not_silence() {
    let plan = plan(16, 0.5, 0.25);
    let heard: Vec<Strum> = (0..4).map(|index| strum(f64::from(index) * 0.5)).collect();
    let pass = judge(&plan, &heard, &Criterion::default(), &good_input(&plan));
    assert_eq!((pass.verdict, pass.count(Missed)), (Verdict::NotClean, 12));
}
