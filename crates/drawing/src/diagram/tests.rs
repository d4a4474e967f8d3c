//! Where fingers are drawn.

use sixrung_lesson::{Barre, Finger, Shape, StringUse};

use super::{Diagram, lay_out};
use crate::place::{Hand, Point, Rect};

const BOARD: Rect = Rect { min: Point::new(100.0, 50.0), max: Point::new(200.0, 130.0) };

/// A shape from one sign a string: `x`, or a fret's digit; and one a finger: `-`, or its digit.
fn shape(frets: &str, fingers: &str, barres: Vec<Barre>) -> Shape {
    let finger = |sign| match sign {
        'T' => Some(Finger::Thumb),
        '1' => Some(Finger::Index),
        '2' => Some(Finger::Middle),
        '3' => Some(Finger::Ring),
        '4' => Some(Finger::Little),
        _ => None,
    };
    let string = |sign: char| match sign.to_digit(10).and_then(|digit| u8::try_from(digit).ok()) {
        None => StringUse::Muted,
        Some(0) => StringUse::Open,
        Some(fret) => StringUse::Fret(fret),
    };
    Shape {
        name: "a shape".to_owned(),
        strings: frets.chars().map(string).collect(),
        fingers: fingers.chars().map(finger).collect(),
        barres,
        stand_in: None,
        mute_notes: Vec::new(),
    }
}

fn b_minor() -> Shape {
    shape("x24432", "-13421", vec![Barre { fret: 2, from: 1, to: 5, finger: Finger::Index }])
}

/// What it is to be seen in a mirror that stands upright in the board's middle.
fn mirrored(mut diagram: Diagram) -> Diagram {
    let flip = |x: &mut f32| *x = BOARD.min.x + BOARD.max.x - *x;
    diagram.strings.iter_mut().for_each(|(x, _)| flip(x));
    diagram.dots.iter_mut().for_each(|dot| flip(&mut dot.at.x));
    diagram.signs.iter_mut().for_each(|sign| flip(&mut sign.at.x));
    for bar in &mut diagram.bars {
        flip(&mut bar.from.x);
        flip(&mut bar.to.x);
    }
    diagram
}

#[test]
fn a_left_handed_diagram_is_the_mirror_image_and_twice_mirrored_is_the_first() {
    for shape in [shape("xx0232", "---132", vec![]), b_minor(), shape("320033", "21--34", vec![])] {
        let right = lay_out(&shape, BOARD, Hand::Right);
        assert_eq!(lay_out(&shape, BOARD, Hand::Left), mirrored(right.clone()));
        assert_eq!(mirrored(mirrored(right.clone())), right);
        assert_ne!(mirrored(right.clone()), right);
    }
}

#[test]
fn digits_are_never_mirrored() {
    let shape = shape("xx0232", "---132", vec![]);
    for hand in [Hand::Right, Hand::Left] {
        let digits: String =
            lay_out(&shape, BOARD, hand).dots.iter().filter_map(|dot| dot.finger).map(Finger::letter).collect();
        assert_eq!(digits, "132", "{hand:?}: each finger stays on its string, its digit as it is");
    }
}

#[test]
fn heavier_strings_lie_left_and_are_thicker() {
    let diagram = lay_out(&shape("xx0232", "---132", vec![]), BOARD, Hand::Right);
    assert!(diagram.strings.windows(2).all(|pair| pair[0].0 < pair[1].0 && pair[0].1 > pair[1].1));
    assert_eq!((diagram.strings[0].0, diagram.strings[5].0), (BOARD.min.x, BOARD.max.x));
}

#[test]
fn frets_start_at_the_nut_unless_the_hand_is_higher_up() {
    let rows = [("xx0232", true, 1, 4), ("x24432", true, 1, 4), ("x79987", false, 7, 4), ("x15551", false, 1, 5)];
    for (frets, nut, first, count) in rows {
        let diagram = lay_out(&shape(frets, "------", vec![]), BOARD, Hand::Right);
        assert_eq!((diagram.first_fret, diagram.frets.len() - 1), (first, count), "{frets}");
        assert_eq!(diagram.nut, nut || first == 1, "{frets}");
    }
}

#[test]
fn a_barre_takes_the_place_of_its_dots() {
    let diagram = lay_out(&b_minor(), BOARD, Hand::Right);
    assert_eq!((diagram.bars.len(), diagram.dots.len(), diagram.signs.len()), (1, 3, 1));
    assert_eq!((diagram.bars[0].from.x, diagram.bars[0].to.x), (120.0, 200.0));
    assert!(!diagram.signs[0].open);
}

#[test]
fn everything_lies_on_the_board_for_four_to_eight_strings() {
    for strings in 4..=8 {
        let frets: String = "x02312x0".chars().take(strings).collect();
        let diagram = lay_out(&shape(&frets, &"-".repeat(strings), vec![]), BOARD, Hand::Left);
        let on_board = |at: Point| {
            (BOARD.min.x - 0.01..=BOARD.max.x + 0.01).contains(&at.x) && (BOARD.min.y..=BOARD.max.y).contains(&at.y)
        };
        assert!(diagram.dots.iter().all(|dot| on_board(dot.at)), "{strings} strings");
        assert!(diagram.signs.iter().all(|sign| sign.at.y < BOARD.min.y), "{strings} strings");
    }
}
