//! A chord diagram on the sheet.

use egui::{Pos2, Rect, pos2, vec2};
use sixrung_drawing::Ink;
use sixrung_drawing::diagram::{self, Diagram, lay_out, thin};
use sixrung_lesson::Shape;

use super::marks::{drawn, drawn_rect, screen, screen_rect};
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
    screen_rect(diagram::board(drawn(corner), width))
}

/// Draws a shape with its fretboard in `board`. `capo` is printed under it when there is one.
pub fn paint(pen: &Pen<'_>, shape: &Shape, board: Rect, capo: u8, weight: Weight) {
    let on = drawn_rect(board);
    let diagram = lay_out(shape, on, pen.theme.look.hand);
    let ink = match weight {
        Weight::Ink => pen.palette().ink,
        Weight::Quiet => pen.palette().quiet,
    };
    pen.marks(&diagram.marks(on, thin(on, LEAST_LINE), Ink::Ink), ink);
    paint_label(pen, &diagram, board, capo);
}

/// Lines grow with the drawing, but are never thinner than a point.
const LEAST_LINE: f32 = 1.0;

/// Draws a shape with the fingers marked that need not let go on the way to the next: a ring around one that stays, a
/// line along its string through one that slides.
pub fn paint_change(pen: &Pen<'_>, shape: &Shape, board: Rect, capo: u8, marks: &FingerMarks) {
    let diagram = lay_out(shape, drawn_rect(board), pen.theme.look.hand);
    let palette = *pen.palette();
    let width = (board.width() / 76.0).max(2.0);
    let x = |string: &usize| diagram.strings.get(*string).map(|(x, _)| *x);
    let on = |string: &usize| {
        x(string).and_then(|x| diagram.dots.iter().map(|dot| screen(dot.at)).find(|at| (at.x - x).abs() < 0.5))
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
    let on = drawn_rect(board);
    let diagram = lay_out(shape, on, pen.theme.look.hand);
    let palette = *pen.palette();
    let thin = thin(on, LEAST_LINE);
    pen.marks(&diagram.board_marks(on, thin, Ink::Ink), palette.ink);
    pen.marks(&diagram.sign_marks(thin), palette.ink);
    let colour = |place: usize| if place + 1 == placed { palette.now } else { palette.ink };
    for (place, bar) in diagram.bars.iter().enumerate() {
        if place < placed {
            pen.marks(&diagram.barre_marks(bar, Ink::Ink), colour(place));
        } else {
            pen.line(screen(bar.from), screen(bar.to), thin * 2.0, palette.quiet);
        }
    }
    for (place, dot) in (diagram.bars.len()..).zip(&diagram.dots) {
        if place < placed {
            pen.marks(&diagram.dot_marks(dot, Ink::Ink), colour(place));
        } else {
            pen.dot(screen(dot.at), diagram.radius, palette.sheet);
            pen.ring(screen(dot.at), diagram.radius, thin * 1.5, palette.quiet);
            let letter = dot.finger.and_then(|finger| diagram.letter_mark(dot.at, finger, Ink::Quiet));
            pen.marks(letter.as_slice(), palette.ink);
        }
    }
    paint_label(pen, &diagram, board, capo);
}

/// The fret of the top space beside it when it is not the first, and the capo under the board.
fn paint_label(pen: &Pen<'_>, diagram: &Diagram, board: Rect, capo: u8) {
    let set = Type { face: Face::Medium, size: (diagram.radius * 1.05).max(9.0), colour: pen.palette().quiet };
    if capo > 0 {
        let below = pos2(board.center().x, board.bottom() + set.size);
        pen.text_level(below, Side::Centre, &crate::text::capo(capo), set, f32::INFINITY);
    }
    if let Some(beside) = diagram.fret_label(drawn_rect(board)) {
        pen.text_level(screen(beside), Side::Left, &crate::text::fret(diagram.first_fret), set, f32::INFINITY);
    }
}
