//! What a change costs, and what the fingers do in it.

use approx::assert_abs_diff_eq;
use sixrung_lesson::Finger;
use sixrung_practice::hands::{ChangeMoves, Features, FingerMove, Grip, Weights, span_mm};

use crate::shapes::{COMMON, shape, usual};

fn features(from: &Grip, to: &Grip) -> Features {
    ChangeMoves::between(from, to, 0).features()
}

fn cost(from: &str, to: &str) -> f64 {
    Weights::PROPOSAL.cost(&features(&usual(from), &usual(to)))
}

/// Fingers that stay, slide, go to another string, are placed, are lifted; barres entered.
fn check(from: &str, to: &str, counts: [u8; 6], shift_mm: f64) {
    let found = features(&usual(from), &usual(to));
    let in_order = [found.anchors, found.guides, found.new_strings, found.placed, found.lifted, found.barres_entered];
    assert_eq!(in_order, counts, "{from} to {to}");
    assert_abs_diff_eq!(found.shift_mm, shift_mm, epsilon = 0.05);
}

#[test]
fn the_moves_are_those_the_diagrams_show() {
    // Read off the diagrams by hand. Frets 1 to 2 of an open neck are 34.4 mm.
    check("C", "Am", [2, 0, 1, 0, 0, 0], 0.0);
    check("Am", "E", [0, 0, 3, 0, 0, 0], 0.0);
    check("E", "Am", [0, 0, 3, 0, 0, 0], 0.0);
    check("D", "A", [0, 1, 2, 0, 0, 0], 0.0);
    check("C", "G", [0, 0, 3, 0, 0, 0], 0.0);
    check("Em", "E", [2, 0, 0, 1, 0, 0], 0.0);
    check("E", "Em", [2, 0, 0, 0, 1, 0], 0.0);
    check("C", "F", [1, 0, 2, 1, 0, 1], 0.0);
    check("F", "C", [1, 0, 2, 0, 1, 0], 0.0);
    check("F", "Bm", [0, 1, 3, 0, 0, 0], 34.4);
    check("G", "Em", [0, 0, 2, 0, 1, 0], 0.0);
}

#[test]
fn the_cost_is_the_proposals_sum() {
    // C to F: finger 3 stays; 1 is laid flat (1 + 1), 2 moves (1), 4 is placed (½).
    assert_abs_diff_eq!(cost("C", "F"), 3.5, epsilon = 1e-9);
    assert_abs_diff_eq!(cost("Em", "E"), 0.5, epsilon = 1e-9);
    assert_abs_diff_eq!(cost("C", "Am"), 1.0, epsilon = 1e-9);
    // A guide, three moves and 34.4 mm.
    assert_abs_diff_eq!(cost("F", "Bm"), 0.5 + 3.0 + 34.4 / 50.0, epsilon = 1e-3);
    let c_to_g = features(&usual("C"), &usual("G"));
    assert_abs_diff_eq!(Weights::PROPOSAL.demand(&c_to_g, 0.5), 2.0 * cost("C", "G"), epsilon = 1e-9);
}

#[test]
fn no_change_costs_nothing_and_no_cost_is_below_zero() {
    for (from, ..) in COMMON {
        for (to, ..) in COMMON {
            let cost = cost(from, to);
            if from == to {
                assert_abs_diff_eq!(cost, 0.0);
            } else {
                assert!(cost > 0.0, "{from} to {to}: {cost}");
            }
        }
    }
}

#[test]
fn the_way_back_has_the_same_moves_but_for_placing_and_barres() {
    for (one, ..) in COMMON {
        for (other, ..) in COMMON {
            let (there, back) = (features(&usual(one), &usual(other)), features(&usual(other), &usual(one)));
            assert_eq!(
                (there.anchors, there.guides, there.new_strings, there.placed, there.lifted),
                (back.anchors, back.guides, back.new_strings, back.lifted, back.placed),
                "{one} and {other}"
            );
            assert_abs_diff_eq!(there.shift_mm, back.shift_mm, epsilon = 1e-9);
            if there.barres_entered == back.barres_entered {
                assert_abs_diff_eq!(cost(one, other), cost(other, one), epsilon = 1e-9);
            }
        }
    }
}

#[test]
fn a_finger_that_stays_makes_a_change_easier() {
    // The same frets: G with finger 3 waiting on string 2 for D, and G without.
    let grip = |frets, fingers| Grip::given(&shape("it", frets, fingers)).expect("fingered");
    let d = grip("xx0232", "---132");
    let (with, without) = (grip("320033", "21--34"), grip("320033", "21--43"));
    let cost = |from: &Grip, to: &Grip| Weights::PROPOSAL.cost(&features(from, to));
    assert_eq!((features(&with, &d).anchors, features(&without, &d).anchors), (1, 0));
    assert!(cost(&with, &d) < cost(&without, &d));
    assert!(cost(&d, &with) < cost(&d, &without));
    // In general: of the changes of three fingers to three, those with an anchor are the cheaper ones.
    let three: Vec<Grip> = COMMON.iter().map(|(name, ..)| usual(name)).filter(plain).collect();
    let pairs = || three.iter().flat_map(|one| three.iter().map(move |other| (one, other)));
    let changes =
        || pairs().filter(|(one, other)| one != other).map(|(one, other)| (features(one, other), cost(one, other)));
    let dearest = changes().filter(|(found, _)| found.anchors >= 2).map(|(_, cost)| cost).fold(0.0, f64::max);
    let none = |found: &Features| found.anchors == 0 && found.guides == 0;
    let cheapest = changes().filter(|(found, _)| none(found)).map(|(_, cost)| cost).fold(f64::INFINITY, f64::min);
    assert!(dearest > 0.0 && dearest < cheapest, "{dearest} with two anchors, {cheapest} without");
}

fn plain(grip: &Grip) -> bool {
    grip.holds().len() == 3 && grip.holds().iter().all(|hold| !hold.is_barre())
}

#[test]
fn entering_a_barre_is_hardest() {
    // From each of the eight open chords, the barre of F is the hardest of all the open chords of four strings and more
    // to come to; and entering it is harder than leaving it.
    let open = ["C", "A", "G", "E", "D", "Am", "Em", "Dm"];
    for from in open {
        let into_f = cost(from, "F");
        for to in open {
            assert!(cost(from, to) < into_f, "{from} to {to} {} against F {into_f}", cost(from, to));
        }
        assert_abs_diff_eq!(into_f - cost("F", from), 1.0, epsilon = 1e-9);
    }
}

#[test]
fn open_chords_are_one_position() {
    // Common practice: the open chords are all played in first position.
    for (from, ..) in COMMON {
        for (to, ..) in COMMON.iter().filter(|(to, ..)| from != "Bm" && *to != "Bm") {
            assert_abs_diff_eq!(ChangeMoves::between(&usual(from), &usual(to), 0).shift_mm, 0.0);
        }
    }
}

#[test]
fn a_capo_makes_shifts_smaller() {
    let (f, bm) = (usual("F"), usual("Bm"));
    let shift = |capo| ChangeMoves::between(&f, &bm, capo).shift_mm;
    assert!(shift(0) > 0.0, "towards the body");
    assert_abs_diff_eq!(shift(3) / shift(0), 0.8409, epsilon = 5e-5);
    assert_abs_diff_eq!(ChangeMoves::between(&bm, &f, 0).shift_mm, -shift(0), epsilon = 1e-9);
}

#[test]
fn a_hand_goes_as_far_as_its_fingers_ask() {
    // A barre of F moved up seven frets: from fret 1 to fret 8.
    let grip = |frets| Grip::given(&shape("it", frets, "134211")).expect("fingered");
    let moves = ChangeMoves::between(&grip("133211"), &grip("8aa988"), 0);
    assert_abs_diff_eq!(moves.shift_mm, span_mm(1, 8, 0), epsilon = 1e-9);
    let features = moves.features();
    assert_eq!((features.guides, features.barres_entered), (4, 0), "all slide, and the barre is kept");
    // The thumb alone holds no position.
    let thumb = Grip::given(&shape("it", "200000", "T-----")).expect("fingered");
    assert_abs_diff_eq!(ChangeMoves::between(&thumb, &grip("8aa988"), 0).shift_mm, 0.0);
}

#[test]
fn the_most_important_is_said_first() {
    let check = |from: &str, to: &str, expected: &[(char, &str)]| {
        let moves = ChangeMoves::between(&usual(from), &usual(to), 0);
        let found: Vec<(char, &str)> =
            moves.fingers.iter().map(|(finger, moved)| (finger.letter(), word(moved))).collect();
        assert_eq!(found, expected, "{from} to {to}");
    };
    check("C", "Am", &[('1', "stays"), ('2', "stays"), ('3', "moves")]);
    check("D", "A", &[('3', "slides"), ('1', "moves"), ('2', "moves")]);
    check("C", "F", &[('3', "stays"), ('1', "moves"), ('2', "moves"), ('4', "placed")]);
    check("Em", "F", &[('1', "placed"), ('2', "moves"), ('3', "moves"), ('4', "placed")]);
    check("F", "Em", &[('2', "moves"), ('3', "moves"), ('1', "lifted"), ('4', "lifted")]);
}

fn word(moved: &FingerMove) -> &'static str {
    match moved {
        FingerMove::Stays { .. } => "stays",
        FingerMove::Slides { .. } => "slides",
        FingerMove::Moves { .. } => "moves",
        FingerMove::Placed { .. } => "placed",
        FingerMove::Lifted { .. } => "lifted",
    }
}

#[test]
fn a_barre_that_grows_stays() {
    let grip = |frets, fingers| Grip::given(&shape("it", frets, fingers)).expect("fingered");
    let (bm, f_sharp_minor) = (grip("x24432", "-13421"), grip("244222", "134111"));
    let moves = ChangeMoves::between(&bm, &f_sharp_minor, 0);
    let (finger, moved) = moves.fingers[0];
    assert_eq!((finger, word(&moved), moved.enters_barre()), (Finger::Index, "stays", false));
    assert_eq!((moved.before().map(|hold| hold.from), moved.after().map(|hold| hold.from)), (Some(1), Some(0)));
}

#[test]
fn fingers_that_keep_their_form_move_together() {
    let check = |from: &str, to: &str, expected| {
        assert_eq!(ChangeMoves::between(&usual(from), &usual(to), 0).kept_form(), expected, "{from} to {to}");
    };
    // E and Am are one form, a string apart.
    check("E", "Am", Some((1, 0)));
    check("Am", "E", Some((-1, 0)));
    check("C", "D", None);
    check("C", "Am", None);
    check("E", "Em", None);
    check("G", "C", None);
}
