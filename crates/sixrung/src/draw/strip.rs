//! A bar as a row of strokes with counts under it, and the cursor that moves through it.

use egui::{Color32, Pos2, Rect, pos2, vec2};
use sixrung_lesson::{Action, Direction, Dynamic};

use super::pen::{Pen, Side, Type};
use crate::stand::{BarStrip, SlotView};
use crate::theme::{Face, Step};

/// How far along its bar's time the picture is shifted, so that the cursor meets an arrow when
/// the stroke sounds: half the shortest slot, as a fraction of the bar, so that the last arrow too stays inside.
#[must_use]
pub fn lead(strip: &BarStrip) -> f32 {
    let shortest = strip.slots.iter().map(|slot| slot.width).fold(1.0, f32::min);
    if strip.slots.is_empty() { 0.0 } else { shortest / 2.0 }
}

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

/// The middle of a slot in the picture, 0 to 1: slots of unequal length (swing) keep their unequal places.
#[must_use]
pub fn middle(slot: &SlotView, strip: &BarStrip) -> f32 {
    slot.at + lead(strip)
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

/// Heights in a strip, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Rows {
    accent: f32,
    arrow: (f32, f32),
    letter: f32,
    count: f32,
}

impl Rows {
    /// As drawn in a strip 164 units high.
    fn of(rect: Rect) -> Self {
        let y = |share: f32| rect.top() + rect.height() * share / 164.0;
        Self { accent: y(11.0), arrow: (y(22.0), y(86.0)), letter: y(106.0), count: y(141.0) }
    }
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
    let rows = Rows::of(rect);
    let mut beat = 0;
    for (index, slot) in strip.slots.iter().enumerate() {
        let x = rect.left() + rect.width() * middle(slot, strip);
        let room = rect.width() * lead(strip) * 2.0;
        let ink = match (moment.counted, moment.sounding == Some(index)) {
            (Some(_), _) => palette.quiet,
            (None, true) => palette.now,
            (None, false) => palette.ink,
        };
        paint_stroke(pen, slot, x, rows, room, ink);
        let ringed = slot.on_beat && moment.counted == Some(beat);
        beat += usize::from(slot.on_beat);
        paint_count(pen, slot, pos2(x, rows.count), room, ringed);
        if let Some(chord) = &slot.change {
            paint_change(pen, chord, pos2(x - room / 2.0, rect.top()), rect.bottom(), room);
        }
    }
}

fn paint_stroke(pen: &Pen<'_>, slot: &SlotView, x: f32, rows: Rows, room: f32, ink: Color32) {
    let palette = *pen.palette();
    let width = (4.0 * pen.unit).min(room * 0.12).max(2.0);
    let (top, bottom) = rows.arrow;
    let level = f32::midpoint(top, bottom);
    let reach = (15.0 * pen.unit).min(room * 0.2);
    match slot.action {
        Action::Air => {
            pen.line(pos2(x - reach * 0.45, level), pos2(x + reach * 0.45, level), width * 0.75, palette.thin);
        }
        Action::Ring => {
            pen.line(pos2(x - room * 0.3, level), pos2(x + room * 0.3, level), width * 0.4, palette.thin);
        }
        Action::Stop => {
            let half = reach * 0.5;
            let square = Rect::from_center_size(pos2(x, level), vec2(half, half) * 2.0);
            pen.frame(square, 1.0, width * 0.8, ink);
        }
        Action::Strum | Action::Bass | Action::Chuck => paint_sounding(pen, slot, x, rows, (width, reach), ink),
    }
    let letter = crate::text::stroke_letter(slot.action, slot.direction);
    let set =
        Type { face: Face::Medium, size: (Step::Label.points() * pen.unit).min(room * 0.6), colour: palette.quiet };
    pen.text_level(pos2(x, rows.letter), Side::Centre, letter, set, room);
}

fn paint_sounding(pen: &Pen<'_>, slot: &SlotView, x: f32, rows: Rows, (width, reach): (f32, f32), ink: Color32) {
    let (top, bottom) = rows.arrow;
    let height = bottom - top;
    // Up strokes are drawn a little shorter, soft ones shorter still.
    let top = match slot.direction {
        Direction::Down => top,
        Direction::Up => top + height * 0.22,
    };
    let top = if slot.dynamic == Dynamic::Soft { top + height * 0.22 } else { top };
    let width = if slot.dynamic == Dynamic::Soft { width * 0.65 } else { width };
    let (tail, head) = match slot.direction {
        Direction::Down => (pos2(x, top), pos2(x, bottom)),
        Direction::Up => (pos2(x, bottom), pos2(x, top)),
    };
    if slot.action == Action::Bass {
        // Only the lowest string is struck: the arrow starts from a dot and is short.
        let short = tail + (head - tail) * 0.45;
        arrow(pen, short, head, width, reach * 0.6, ink);
        pen.dot(short, width * 1.2, ink);
    } else {
        arrow(pen, tail, head, width, reach * 0.6, ink);
    }
    if slot.action == Action::Chuck {
        pen.cross(tail + (head - tail) * 0.42, reach * 0.6, width, ink);
    }
    if slot.dynamic == Dynamic::Accent {
        let tip = pos2(x + reach * 0.6, rows.accent);
        let (above, below) = (pos2(x - reach * 0.6, tip.y - reach * 0.4), pos2(x - reach * 0.6, tip.y + reach * 0.4));
        pen.path(vec![above, tip, below], width * 0.5, ink);
    }
}

/// A plain arrow with an open head.
pub fn arrow(pen: &Pen<'_>, tail: Pos2, head: Pos2, width: f32, reach: f32, ink: Color32) {
    let along = (head - tail).normalized() * reach;
    let across = along.rot90();
    pen.line(tail, head, width, ink);
    pen.path(vec![head - along + across, head, head - along - across], width, ink);
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
