//! The chord asked for, read from afar: its name above its diagram, and what to do now as large as it must be.

use egui::{Rect, Ui, pos2, vec2};

use super::view::{AskedChord, ChordsPage};
use super::{hears, spoken, strokes, which};
use crate::draw::chord::{self, Weight};
use crate::draw::{Pen, Side, say};
use crate::text::chords as text;
use crate::theme::{Face, Step};

/// Where the words beside the diagram begin, in units from the left.
const WORDS_LEFT: f32 = 276.0;
/// Room kept for the strokes under the words, in units.
const STROKES: f32 = 76.0;

/// Draws it.
pub(super) fn ask(ui: &Ui, pen: &Pen<'_>, rect: Rect, asked: &AskedChord, view: &ChordsPage) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let at = |x: f32, y: f32| rect.min + vec2(x, y) * unit;
    let name = pen.fitted(&asked.chord.name, pen.set(Face::Bold, Step::Now, palette.ink), 220.0 * unit);
    pen.text(at(8.0, 70.0), Side::Left, &asked.chord.name, name);
    if let Some(shape) = &asked.chord.shape {
        chord::paint(pen, shape, chord::board(at(14.0, 118.0), 206.0 * unit), view.capo, Weight::Ink);
    }
    let left = at(WORDS_LEFT, 0.0).x;
    let room = rect.right() - left;
    which(pen, at(WORDS_LEFT, 12.0), asked);
    hears(pen, pos2(rect.right(), rect.top() + 12.0 * unit), view);
    let (sentence, more) = text::instruction(asked.task.way, asked.wait, asked.task.strokes, &asked.chord.name);
    let set = pen.read(Face::SemiBold, Step::Large, palette.ink);
    let y = pen.paragraph(at(WORDS_LEFT, 32.0), &sentence, set, room, 2).bottom() + 8.0 * unit;
    let strokes_top = rect.bottom() - STROKES * unit;
    // What was not as asked takes the place of what would be said beside it.
    let (words, colour) = match asked.trouble {
        Some(trouble) => (format!("△ {}", text::trouble(trouble, asked.task)), palette.late),
        None => (more, palette.quiet),
    };
    let least = pen.set(Face::Medium, Step::Lead, colour).size;
    let read = pen.read(Face::Medium, Step::Lead, colour);
    let words = [words];
    let set = pen.fitted_rows(&words, read, (room, strokes_top - y), 0.0, least);
    pen.paragraph(pos2(left, y), &words[0], set, room, 4);
    strokes(pen, Rect::from_min_max(pos2(left, strokes_top), rect.max), asked);
    say(ui, rect, "asked", &spoken(asked));
}
