//! The next pair to drill.

use approx::assert_abs_diff_eq;
use sixrung_lesson::{BeatUnit, Tempo, Tick};
use sixrung_practice::hands::{DrillPair, HandModel, NeededChange, OwnTime, Played, expected_s, rank_changes};

use crate::shapes::usual;

const C: usize = 0;
const AM: usize = 1;
const F: usize = 2;

fn change(from: usize, to: usize, times: u32) -> NeededChange {
    NeededChange { from, to, times, shortest: Tick(960) }
}

fn ranked(changes: &[NeededChange], own: impl Fn(usize, usize) -> Option<OwnTime>) -> Vec<DrillPair> {
    let grips = ["C", "Am", "F"].map(|name| Some(usual(name)));
    let tempo = Tempo::from_bpm(60.0).expect("a tempo");
    let played = Played { capo: 0, tempo, beat: BeatUnit::Quarter, model: &HandModel::PRIOR };
    rank_changes(changes, &grips, played, own)
}

fn first(changes: &[NeededChange], own: impl Fn(usize, usize) -> Option<OwnTime>) -> (usize, usize) {
    ranked(changes, own)[0].shapes
}

#[test]
fn of_equally_needed_changes_the_harder_is_drilled() {
    assert_eq!(first(&[change(C, AM, 2), change(C, F, 2)], |_, _| None), (C, F));
}

#[test]
fn what_is_needed_often_is_drilled_before_what_is_hard() {
    assert_eq!(first(&[change(C, AM, 9), change(C, F, 2)], |_, _| None), (C, AM));
}

#[test]
fn less_time_asks_for_more() {
    let hurried = NeededChange { shortest: Tick(240), ..change(C, AM, 2) };
    assert_eq!(first(&[hurried, change(C, F, 2)], |_, _| None), (C, AM));
}

#[test]
fn the_learners_own_time_overrules_the_mechanics() {
    // This learner's F is quick and Am slow.
    let own = |from, to| {
        let slow = (from, to) == (C, AM);
        Some(OwnTime { seconds: if slow { 2.0 } else { 0.3 }, changes: 30 })
    };
    assert_eq!(first(&[change(C, AM, 2), change(C, F, 2)], own), (C, AM));
    // One measured change is not enough to.
    let once = |from, to| {
        Some(OwnTime { changes: 1, ..own(from, to)? }).map(|own| OwnTime { seconds: own.seconds.min(0.7), ..own })
    };
    assert_eq!(first(&[change(C, AM, 2), change(C, F, 2)], once), (C, F));
}

#[test]
fn a_measured_time_is_weighed_by_its_count() {
    let own = |changes| Some(OwnTime { seconds: 2.0, changes });
    assert_abs_diff_eq!(expected_s(1.0, None), 1.0);
    assert_abs_diff_eq!(expected_s(1.0, own(8)), 1.5, epsilon = 1e-9);
    assert!(expected_s(1.0, own(1)) < expected_s(1.0, own(8)) && expected_s(1.0, own(800)) > 1.98);
}

#[test]
fn both_ways_of_a_pair_count_and_explain_themselves() {
    let ranked = ranked(&[change(C, F, 2), change(F, C, 1)], |from, _| {
        (from == F).then_some(OwnTime { seconds: 0.6, changes: 4 })
    });
    let [pair] = ranked.as_slice() else { panic!("one pair: {ranked:?}") };
    assert_eq!((pair.shapes, pair.ways.len()), ((C, F), 2));
    let into = pair.ways[0];
    assert_eq!((into.change.to, into.features.barres_entered, into.own), (F, 1, None));
    // The cost 3.5 at 0.2 s a unit and 0.2 s; one second at 60 bpm.
    assert_abs_diff_eq!(into.expected_s, 0.9, epsilon = 1e-9);
    assert_abs_diff_eq!(into.demand(), 3.5, epsilon = 1e-9);
    assert_abs_diff_eq!(into.weight(), 1.8, epsilon = 1e-9);
    assert_abs_diff_eq!(pair.weight(), into.weight() + pair.ways[1].weight(), epsilon = 1e-9);
}

#[test]
fn shapes_that_are_not_held_are_not_ranked() {
    assert!(ranked(&[change(C, 7, 3)], |_, _| None).is_empty());
    assert!(ranked(&[], |_, _| None).is_empty());
}
