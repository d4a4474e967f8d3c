//! Strings that were not as they should be, above the plot where their chord begins: the string's number in a circle, as guitar
//! music has always numbered strings (common practice), and beside it what is wrong, as a sign and in a word.

use egui::{Pos2, pos2, vec2};
use sixrung_listen::StringFault;

use crate::draw::pen::{Pen, Side};
use crate::stand::StringMark;
use crate::text;
use crate::theme::{Face, Step};

/// Draws the marks side by side from `at` on, no wider than `room`.
pub(super) fn paint(pen: &Pen<'_>, at: Pos2, room: f32, marks: &[StringMark]) {
    let unit = pen.unit;
    let colour = pen.palette().late;
    let line = (1.8 * unit).max(1.5);
    let bold = pen.set(Face::Bold, Step::Small, colour);
    let set = pen.set(Face::SemiBold, Step::Small, colour);
    let bare = 44.0 * unit;
    let words = |mark: &StringMark| text::string_fault(mark.fault);
    // A word cut short says nothing: where one does not fit, numbers and signs stand alone.
    let with_words = marks.iter().map(|mark| bare + pen.width(words(mark), set) + 8.0 * unit).sum::<f32>() <= room;
    let mut left = at.x;
    for mark in marks {
        let middle = pos2(left + 9.0 * unit, at.y);
        pen.ring(middle, 9.0 * unit, line, colour);
        pen.text_centred(middle, &mark.number.to_string(), bold);
        sign(pen, middle + vec2(19.0, 0.0) * unit, mark.fault, line);
        left += bare;
        if with_words {
            let corner = pos2(left - 7.0 * unit, at.y);
            left = pen.text_level(corner, Side::Left, words(mark), set, room).right() + 15.0 * unit;
        }
    }
}

/// A dead string is crossed out, one that should be silent rings in waves, a wrong fret is a dot beside its place.
fn sign(pen: &Pen<'_>, at: Pos2, fault: StringFault, line: f32) {
    let unit = pen.unit;
    let colour = pen.palette().late;
    match fault {
        StringFault::Dead => pen.cross(at, 4.5 * unit, line, colour),
        StringFault::WrongFret => {
            pen.rule(at + vec2(-6.0, 0.0) * unit, at + vec2(6.0, 0.0) * unit, line, colour);
            pen.rule(at + vec2(0.0, -6.0) * unit, at + vec2(0.0, 6.0) * unit, line * 0.6, colour);
            pen.dot(at + vec2(4.0, 0.0) * unit, 3.5 * unit, colour);
        }
        StringFault::ShouldBeMuted => {
            let wave = |x: i8| {
                let x = f32::from(x);
                at + vec2(x, 4.0 * (x / 7.0 * std::f32::consts::PI).sin()) * unit
            };
            pen.path((-7..=7).map(wave).collect(), line, colour);
        }
    }
}
