//! A chord diagram on the sheet.

use egui::{Color32, Pos2, Rect, pos2, vec2};
use sixrung_lesson::Shape;

use super::diagram::{Bar, Diagram, lay_out};
use super::pen::{Pen, Side, Type};
use crate::pages::FingerMarks;
use crate::theme::Face;

/// How strongly a diagram is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Weight {
    /// In ink: what to play.
    Ink,
    /// In quiet ink: what comes later.
    Quiet,
}

/// The board's height for a width, as drawn for six strings and four frets.
#[must_use]
pub fn board(corner: Pos2, width: f32) -> Rect {
    Rect::from_min_size(corner, vec2(width, width * 0.908))
}

/// Draws a shape with its fretboard in `board`. `capo` is printed under it when there is one.
pub fn paint(pen: &Pen<'_>, shape: &Shape, board: Rect, capo: u8, weight: Weight) {
    let diagram = lay_out(shape, board, pen.theme.look.hand);
    let ink = match weight {
        Weight::Ink => pen.palette().ink,
        Weight::Quiet => pen.palette().quiet,
    };
    // Lines grow with the drawing, but never thinner than a point.
    let thin = (board.width() / 152.0).max(1.0);
    paint_board(pen, &diagram, board, thin, ink);
    paint_signs(pen, &diagram, (thin * 1.35).max(1.2));
    for bar in &diagram.bars {
        paint_barre(pen, bar, diagram.radius, ink);
    }
    for dot in &diagram.dots {
        pen.dot(dot.at, diagram.radius, ink);
        if let Some(finger) = dot.finger {
            paint_digit(pen, dot.at, finger.letter(), diagram.radius);
        }
    }
    paint_label(pen, &diagram, board, capo);
}

/// Draws a shape with the fingers marked that need not let go on the way to the next: a ring around one that stays, a
/// line along its string through one that slides.
pub fn paint_change(pen: &Pen<'_>, shape: &Shape, board: Rect, capo: u8, marks: &FingerMarks) {
    let diagram = lay_out(shape, board, pen.theme.look.hand);
    let palette = *pen.palette();
    let width = (board.width() / 76.0).max(2.0);
    let x = |string: &usize| diagram.strings.get(*string).map(|(x, _)| *x);
    let on = |string: &usize| {
        x(string).and_then(|x| diagram.dots.iter().map(|dot| dot.at).find(|at| (at.x - x).abs() < 0.5))
    };
    for at in marks.slide.iter().filter_map(on) {
        let reach = vec2(0.0, diagram.radius * 2.1);
        pen.line(at - reach, at + reach, width * 2.0, palette.now);
    }
    paint(pen, shape, board, capo, Weight::Ink);
    for at in marks.stay.iter().filter_map(on) {
        pen.ring(at, diagram.radius + width * 1.5, width, palette.now);
    }
}

/// Draws a shape whose first `placed` fingers are down: the last of them stands out, those to come are rings. With all
/// down it is drawn as ever; with none down all are rings.
pub fn paint_fingers(pen: &Pen<'_>, shape: &Shape, board: Rect, capo: u8, placed: usize) {
    let diagram = lay_out(shape, board, pen.theme.look.hand);
    let palette = *pen.palette();
    let thin = (board.width() / 152.0).max(1.0);
    paint_board(pen, &diagram, board, thin, palette.ink);
    paint_signs(pen, &diagram, (thin * 1.35).max(1.2));
    let colour = |place: usize| if place + 1 == placed { palette.now } else { palette.ink };
    for (place, bar) in diagram.bars.iter().enumerate() {
        if place < placed {
            paint_barre(pen, bar, diagram.radius, colour(place));
        } else {
            pen.line(bar.from, bar.to, thin * 2.0, palette.quiet);
        }
    }
    for (place, dot) in (diagram.bars.len()..).zip(&diagram.dots) {
        if place < placed {
            pen.dot(dot.at, diagram.radius, colour(place));
        } else {
            pen.dot(dot.at, diagram.radius, palette.sheet);
            pen.ring(dot.at, diagram.radius, thin * 1.5, palette.quiet);
        }
        if let Some(finger) = dot.finger {
            let ink = if place < placed { palette.sheet } else { palette.quiet };
            paint_letter(pen, dot.at, finger.letter(), diagram.radius, ink);
        }
    }
    paint_label(pen, &diagram, board, capo);
}

fn paint_board(pen: &Pen<'_>, diagram: &Diagram, board: Rect, thin: f32, ink: Color32) {
    for (x, weight) in &diagram.strings {
        pen.rule(pos2(*x, board.top()), pos2(*x, board.bottom()), thin * weight, ink);
    }
    for y in &diagram.frets {
        pen.rule(pos2(board.left(), *y), pos2(board.right(), *y), thin, ink);
    }
    if diagram.nut {
        let thick = (board.width() / 32.0).max(3.0);
        let nut = Rect::from_min_max(
            pos2(board.left() - thin, board.top() - thick / 2.0),
            pos2(board.right() + thin, board.top() + thick / 2.0),
        );
        pen.block(nut, 0.0, ink);
    }
}

fn paint_signs(pen: &Pen<'_>, diagram: &Diagram, width: f32) {
    let reach = diagram.radius * 0.5;
    for sign in &diagram.signs {
        if sign.open {
            pen.ring(sign.at, reach + width / 2.0, width, pen.palette().quiet);
        } else {
            pen.cross(sign.at, reach, width, pen.palette().quiet);
        }
    }
}

fn paint_barre(pen: &Pen<'_>, bar: &Bar, radius: f32, ink: Color32) {
    let half = vec2(0.0, radius * 0.82);
    let (left, right) = if bar.from.x <= bar.to.x { (bar.from, bar.to) } else { (bar.to, bar.from) };
    let rounded = Rect::from_min_max(left - half - vec2(radius, 0.0), right + half + vec2(radius, 0.0));
    pen.block(rounded, radius * 0.82, ink);
    paint_digit(pen, bar.from, bar.finger.letter(), radius);
    paint_digit(pen, bar.to, bar.finger.letter(), radius);
}

fn paint_digit(pen: &Pen<'_>, at: Pos2, letter: char, radius: f32) {
    paint_letter(pen, at, letter, radius, pen.palette().sheet);
}

fn paint_letter(pen: &Pen<'_>, at: Pos2, letter: char, radius: f32, colour: Color32) {
    let set = Type { face: Face::Bold, size: radius * 1.2, colour };
    // Below six points a digit is a smudge.
    if set.size >= 6.0 {
        pen.text_centred(at, letter.encode_utf8(&mut [0; 4]), set);
    }
}

/// The fret of the top space beside it when it is not the first, and the capo under the board.
fn paint_label(pen: &Pen<'_>, diagram: &Diagram, board: Rect, capo: u8) {
    let set = Type { face: Face::Medium, size: (diagram.radius * 1.05).max(9.0), colour: pen.palette().quiet };
    if capo > 0 {
        let below = pos2(board.center().x, board.bottom() + set.size);
        pen.text_level(below, Side::Centre, &crate::text::capo(capo), set, f32::INFINITY);
    }
    if let Some(space) = diagram.frets.windows(2).next().filter(|_| !diagram.nut) {
        let beside = pos2(board.right() + diagram.radius * 1.4, f32::midpoint(space[0], space[1]));
        pen.text_level(beside, Side::Left, &crate::text::fret(diagram.first_fret), set, f32::INFINITY);
    }
}
