//! Two shapes to and fro, read from afar: how the fingers go beside them, what to do now and how it goes below.

use egui::{Rect, Ui, pos2, vec2};

use super::view::{ChangesPage, DrillView};
use super::{sentence, shapes, spoken, times};
use crate::draw::{Pen, Side, say};
use crate::text::changes as text;
use crate::theme::{Face, Step};

/// The two lines under the shapes are so high, in sizes of their type.
pub(in crate::pages) const LINES: f32 = 2.7;
/// How far the second shape lies from the first, in units.
const PITCH: f32 = 288.0;
/// Where the words beside the shapes begin, in units.
const WORDS_LEFT: f32 = 548.0;
/// How wide the rings of the slow ones are, in units.
const RINGS: f32 = 320.0;

/// The size of the type of these lines, in points.
pub(super) fn line(pen: &Pen<'_>) -> f32 {
    pen.read(Face::SemiBold, Step::Large, pen.palette().ink).size
}

/// Draws it.
pub(super) fn both(ui: &Ui, pen: &Pen<'_>, rect: Rect, drill: &DrillView, view: &ChangesPage) {
    let unit = pen.unit;
    let palette = *pen.palette();
    shapes(pen, rect.min, PITCH, drill, view);
    let size = line(pen);
    let foot = rect.bottom() - LINES * size;
    let left = rect.left() + WORDS_LEFT * unit;
    let (room, gap) = (rect.right() - left, 10.0 * unit);
    let top = rect.top() + 12.0 * unit;
    let least = pen.set(Face::Regular, Step::Lead, palette.ink).size;
    let read = pen.read(Face::Regular, Step::Lead, palette.ink);
    let set = pen.fitted_rows(&drill.moves, read, (room, foot - top), gap, least);
    let mut y = top;
    for words in &drill.moves {
        y = pen.paragraph(pos2(left, y), words, set, room, 12).bottom() + gap;
    }
    let level = |row: f32| foot + (0.75 + 1.3 * row) * size;
    let now = sentence(drill, view);
    let set = pen.fitted(now, pen.read(Face::SemiBold, Step::Large, palette.ink), rect.width());
    pen.text_level(pos2(rect.left(), level(0.0)), Side::Left, now, set, rect.width());
    let is_slow = drill.count < drill.slow;
    let rings = if is_slow { RINGS * unit } else { 0.0 };
    let figures = text::figures(drill);
    let colour = if drill.is_steady { palette.heard } else { palette.quiet };
    let room = rect.width() - rings - 16.0 * unit;
    let set = pen.fitted(&figures, pen.read(Face::SemiBold, Step::Title, colour), room);
    pen.text_level(pos2(rect.left(), level(1.0)), Side::Left, &figures, set, room);
    if is_slow {
        let size = vec2(rings, 30.0 * unit);
        times(pen, Rect::from_center_size(pos2(rect.right() - rings / 2.0, level(1.0)), size), drill);
    }
    say(ui, rect, "changes", &spoken(drill, view));
}
