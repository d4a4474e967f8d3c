//! A bar as a row of strokes with counts under it, and the cursor that moves through it.

use egui::{Color32, Pos2, Rect, pos2};
use sixrung_drawing::Ink;
use sixrung_drawing::strip::{Rows, StrokePlace, letter, stroke};

use super::marks::{drawn, drawn_rect};
use super::pen::{Pen, Side};
use crate::stand::{BarStrip, SlotView};
use crate::theme::{Face, Step};

pub use sixrung_drawing::strip::{lead, middle};

/// Where the cursor stands in the picture, 0 to 1, and whether the next bar is already shown. `at` is where the
/// cursor is in its bar, 0 to 1.
///
/// The picture turns over half a slot before the bar line: the first arrow of the new bar is there before it sounds.
#[must_use]
pub fn cursor_place(at: f32, this: &BarStrip, next: Option<&BarStrip>) -> (f32, bool) {
    let shifted = at + lead(this);
    match next {
        Some(next) if shifted >= 1.0 => {
            // Time left to the bar line, measured in the next bar's own shift, so that it arrives in its first slot's middle.
            let left = (1.0 - at) / lead(this).max(f32::EPSILON);
            ((lead(next) * (1.0 - left)).max(0.0), true)
        }
        _ => (shifted.min(1.0), false),
    }
}

/// What is going on in the bar.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moment {
    /// Where the cursor stands in the picture, 0 to 1.
    pub cursor: Option<f32>,
    /// The slot that sounds.
    pub sounding: Option<usize>,
    /// The beat being counted in, from 0: strokes are quiet and its count is ringed.
    pub counted: Option<usize>,
}

/// Draws the bar in `rect`; the cursor's pennant stands above it.
pub fn paint(pen: &Pen<'_>, rect: Rect, strip: &BarStrip, moment: Moment) {
    let palette = *pen.palette();
    let gap = 4.0 * pen.unit;
    for beat in strip.beats.iter().step_by(2) {
        let left = rect.left() + rect.width() * beat.start;
        let right = rect.left() + rect.width() * beat.end;
        let shade = Rect::from_min_max(pos2(left, rect.top()), pos2(right - gap, rect.bottom()));
        pen.block(shade, 4.0 * pen.unit, palette.shade);
    }
    // The cursor lies under the ink: a count stays readable while it passes.
    if let Some(cursor) = moment.cursor {
        paint_cursor(pen, rect.left() + rect.width() * cursor, rect);
    }
    let rows = Rows::of(drawn_rect(rect));
    let mut beat = 0;
    for (index, slot) in strip.slots.iter().enumerate() {
        let x = rect.left() + rect.width() * middle(slot, strip);
        let room = rect.width() * lead(strip) * 2.0;
        let ink = match (moment.counted, moment.sounding == Some(index)) {
            (Some(_), _) => palette.quiet,
            (None, true) => palette.now,
            (None, false) => palette.ink,
        };
        let place = StrokePlace { x, rows, room, unit: pen.unit, least: 2.0 };
        pen.marks(&stroke(slot, place, Ink::Ink), ink);
        pen.marks(letter(slot, place, Step::Label.points() * pen.unit).as_slice(), ink);
        let ringed = slot.on_beat && moment.counted == Some(beat);
        beat += usize::from(slot.on_beat);
        paint_count(pen, slot, pos2(x, rows.count), room, ringed);
        if let Some(chord) = &slot.change {
            paint_change(pen, chord, pos2(x - room / 2.0, rect.top()), rect.bottom(), room);
        }
    }
}

/// A plain arrow with an open head.
pub fn arrow(pen: &Pen<'_>, tail: Pos2, head: Pos2, width: f32, reach: f32, ink: Color32) {
    pen.marks(&sixrung_drawing::strip::arrow(drawn(tail), drawn(head), width, reach, Ink::Ink), ink);
}

fn paint_count(pen: &Pen<'_>, slot: &SlotView, at: Pos2, room: f32, ringed: bool) {
    let palette = *pen.palette();
    let (face, step, colour) =
        if slot.on_beat { (Face::Bold, Step::Large, palette.ink) } else { (Face::Medium, Step::Title, palette.quiet) };
    let colour = if ringed { palette.now } else { colour };
    let set = pen.fitted(&slot.count, pen.read(face, step, colour), room * 0.8);
    pen.text_centred(at, &slot.count, set);
    if ringed {
        pen.ring(at, set.size * 0.72, (2.5 * pen.unit).max(2.0), palette.now);
    }
}

fn paint_change(pen: &Pen<'_>, chord: &str, top: Pos2, bottom: f32, room: f32) {
    let colour = pen.palette().now;
    let set = pen.read(Face::Bold, Step::Lead, colour);
    pen.dashed_upright(top.x, top.y, bottom, (2.0 * pen.unit).max(1.5), colour);
    pen.text_within(pos2(top.x, top.y - 8.0 * pen.unit), Side::Centre, chord, set, room * 2.0);
}

fn paint_cursor(pen: &Pen<'_>, x: f32, rect: Rect) {
    let colour = pen.palette().now;
    let top = rect.top() - 12.0 * pen.unit;
    pen.rule(pos2(x, top), pos2(x, rect.bottom()), (3.0 * pen.unit).max(2.0), colour);
    let half = 9.0 * pen.unit;
    pen.triangle([pos2(x - half, top), pos2(x + half, top), pos2(x, rect.top())], colour);
}

#[cfg(test)]
mod tests;
