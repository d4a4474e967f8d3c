//! Fingerings chosen for a section, and offered to the teacher.

use approx::assert_abs_diff_eq;
use sixrung_lesson::{Finger, Shape, Tick};
use sixrung_practice::hands::{
    ChangeMoves, Chosen, Grip, NeededChange, ShapeParts, Weights, choose_fingerings, fingerings, refingerings,
};

use crate::shapes::{COMMON, common, shape, usual};

/// Shapes played in a circle, so often each.
fn circle(order: &[usize], times: u32) -> Vec<NeededChange> {
    let pairs = order.iter().zip(order.iter().cycle().skip(1));
    pairs.map(|(from, to)| NeededChange { from: *from, to: *to, times, shortest: Tick(480) }).collect()
}

/// What one pass costs with these fingerings, added up by the rule of the docs.
fn total(changes: &[NeededChange], shapes: &[Shape], grips: &[Grip], capo: u8) -> f64 {
    let of = |change: &NeededChange| {
        let (from, to) = (&grips[change.from], &grips[change.to]);
        let held = ShapeParts::of(&shapes[change.to], to, capo).cost();
        f64::from(change.times) * (held + Weights::PROPOSAL.cost(&ChangeMoves::between(from, to, capo).features()))
    };
    changes.iter().map(of).sum()
}

fn grips(chosen: &Chosen) -> Vec<Grip> {
    chosen.grips.iter().map(|grip| grip.clone().expect("each can be held")).collect()
}

#[test]
fn the_choice_is_what_trying_everything_finds() {
    let mut tried = 0;
    for start in 0..COMMON.len() {
        let shapes: Vec<Shape> = (0..3)
            .map(|step| COMMON[(start + step * 7) % COMMON.len()])
            .map(|(name, frets, _)| shape(name, frets, ""))
            .collect();
        for capo in [0, 4] {
            let mut changes = circle(&[0, 1, 2], 2);
            changes.push(NeededChange { from: 1, to: 0, times: 3, shortest: Tick(480) });
            let candidates: Vec<Vec<Grip>> = shapes.iter().map(|shape| fingerings(shape, capo)).collect();
            let mut least = f64::INFINITY;
            for first in &candidates[0] {
                for second in &candidates[1] {
                    for third in &candidates[2] {
                        let all = [first.clone(), second.clone(), third.clone()];
                        least = least.min(total(&changes, &shapes, &all, capo));
                        tried += 1;
                    }
                }
            }
            let chosen = choose_fingerings(&changes, &shapes, capo, &Weights::PROPOSAL);
            assert_abs_diff_eq!(chosen.cost, least, epsilon = 1e-9);
            assert_abs_diff_eq!(total(&changes, &shapes, &grips(&chosen), capo), least, epsilon = 1e-9);
        }
    }
    println!("{tried} ways were tried");
}

#[test]
fn the_teachers_fingering_is_never_changed() {
    let shapes: Vec<Shape> = COMMON.iter().map(|(name, ..)| common(name)).collect();
    let changes = circle(&(0..shapes.len()).collect::<Vec<_>>(), 1);
    let chosen = choose_fingerings(&changes, &shapes, 0, &Weights::PROPOSAL);
    assert_eq!(grips(&chosen), COMMON.map(|(name, ..)| usual(name)));
    // One is free beside one that is given.
    let shapes = [common("D"), shape("A", "x02220", "")];
    let chosen = choose_fingerings(&circle(&[0, 1], 1), &shapes, 0, &Weights::PROPOSAL);
    assert_eq!(grips(&chosen)[0], usual("D"));
}

#[test]
fn fingers_are_chosen_for_the_changes() {
    // Alone, Em is best with any two neighbours; between C and Am finger 2 is on string 4, where Em can keep it.
    let shapes = [common("C"), shape("Em", "022000", ""), common("Am")];
    let chosen = choose_fingerings(&circle(&[0, 1, 2], 1), &shapes, 0, &Weights::PROPOSAL);
    let em = grips(&chosen).swap_remove(1);
    assert_eq!(em.hold(Finger::Middle).map(|hold| hold.from), Some(2), "{em:?}");
}

#[test]
fn where_nothing_changes_the_easiest_is_taken() {
    let shapes = [shape("D", "xx0232", ""), shape("impossible", "012345", "")];
    let chosen = choose_fingerings(&[], &shapes, 0, &Weights::PROPOSAL);
    assert_eq!(chosen.grips, [Some(usual("D")), None]);
    assert!(choose_fingerings(&[], &[], 0, &Weights::PROPOSAL).grips.is_empty());
    // What no hand can take takes part in no change.
    assert_eq!(choose_fingerings(&circle(&[0, 1], 1), &shapes, 0, &Weights::PROPOSAL).grips, chosen.grips);
}

#[test]
fn an_offer_gains_what_it_says_and_nothing_else_is_offered() {
    let mut offers = 0;
    for (at, (one, ..)) in COMMON.iter().enumerate() {
        for (other, ..) in &COMMON[..at] {
            let shapes = [common(one), common(other)];
            let changes = circle(&[0, 1], 4);
            let now = [usual(one), usual(other)];
            for offer in refingerings(&changes, &shapes, 2, &Weights::PROPOSAL) {
                let mut then = now.clone();
                then[offer.shape] = offer.offered.clone();
                let (before, after) = (total(&changes, &shapes, &now, 2), total(&changes, &shapes, &then, 2));
                assert_abs_diff_eq!(offer.gain, before - after, epsilon = 1e-9);
                assert_abs_diff_eq!(offer.cost, before, epsilon = 1e-9);
                assert!(offer.gain > 0.0 && offer.offered != offer.given);
                assert_eq!(offer.given, now[offer.shape]);
                assert_eq!(offer.offered.on(&shapes[offer.shape]).strings, shapes[offer.shape].strings, "same frets");
                let [given, offered] =
                    [&offer.given, &offer.offered].map(|grip| ShapeParts::of(&shapes[offer.shape], grip, 2));
                assert!(offered.little <= given.little && offered.barres <= given.barres, "no harder fingers");
                offers += 1;
            }
        }
    }
    assert!(offers > 0);
}

#[test]
fn a_with_finger_1_in_the_middle_is_offered_beside_d() {
    let shapes = [common("D"), common("A")];
    let offers = refingerings(&circle(&[0, 1], 1), &shapes, 0, &Weights::PROPOSAL);
    let a = offers.iter().find(|offer| offer.shape == 1).expect("there is one for A");
    let index = a.offered.hold(Finger::Index).expect("finger 1 is in use");
    assert_eq!((index.fret, index.from), (2, 3), "finger 1 stays on string 3: {:?}", a.offered);
    assert!(a.changes.iter().all(|change| change.gain > 0.0));
}

#[test]
fn nothing_is_offered_where_nothing_changes_or_nothing_is_given() {
    assert!(refingerings(&[], &[common("A")], 0, &Weights::PROPOSAL).is_empty());
    let free = [shape("D", "xx0232", ""), shape("A", "x02220", "")];
    assert!(refingerings(&circle(&[0, 1], 1), &free, 0, &Weights::PROPOSAL).is_empty());
}
