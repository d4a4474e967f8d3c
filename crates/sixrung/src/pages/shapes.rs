//! Shapes: one chord, large, its fingers put down one by one, its strings heard one by one. Both hands stay on the
//! guitar.

pub(super) mod view;

use egui::{Rect, Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};

use self::view::{ShapeItem, ShapesPage};
use super::parts::Hand;
use crate::draw::chord;
use crate::draw::{Pen, Side, say};
use crate::stand::{Intent, ShapesWish, step_mark};
use crate::text::shapes as text;
use crate::theme::{Face, Step};

/// Where the words beside the diagram begin, in units from the left.
const WORDS_LEFT: f32 = 560.0;
/// The same from afar.
const WORDS_LEFT_FAR: f32 = 384.0;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &ShapesPage, intents: &mut Vec<Intent>) {
    hand.heading_near(ui, text::TITLE);
    let Some(item) = view.shapes.get(view.now) else { return hand.sentence(ui, text::EMPTY) };
    let size = vec2(ui.available_width(), 372.0 * hand.unit);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let least = hand.theme.look.least_pt();
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit).reading(least);
    large(ui, &pen, rect, item, (view, hand.is_far));
    shapes(ui, hand, view, intents);
    hand.gap(ui, 6.0);
    hand.sentence_near(ui, text::KEYS);
}

/// The shape, and what to do with it.
fn large(ui: &Ui, pen: &Pen<'_>, rect: Rect, item: &ShapeItem, (view, is_far): (&ShapesPage, bool)) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let at = |x: f32, y: f32| rect.min + vec2(x, y) * unit;
    // From afar the name stands above the words, and the diagram has the whole left.
    let (name_at, board_left, words_at) = match is_far {
        false => (pos2(0.0, 130.0), 200.0, pos2(WORDS_LEFT, 34.0)),
        true => (pos2(WORDS_LEFT_FAR, 72.0), 26.0, pos2(WORDS_LEFT_FAR, 86.0)),
    };
    let name = pen.fitted(&item.chord.name, pen.set(Face::Bold, Step::Now, palette.ink), 150.0 * unit);
    pen.text(at(name_at.x, name_at.y), Side::Left, &item.chord.name, name);
    let below = [
        item.chord.stands_in_for.as_deref().map(crate::text::stands_in),
        item.chord.sounds.as_deref().map(crate::text::sounds),
    ];
    let below_at = if is_far { pos2(name_at.x + 170.0, 38.0) } else { pos2(2.0, 156.0) };
    for (row, words) in (0_u8..).zip(below.into_iter().flatten()) {
        let set = pen.set(Face::Medium, Step::Lead, palette.quiet);
        let level = below_at.y + 24.0 * f32::from(row);
        pen.text_level(at(below_at.x, level), Side::Left, &words, set, 150.0 * unit);
    }
    if let Some(shape) = &item.chord.shape {
        let board = chord::board(at(board_left, 46.0), 300.0 * unit);
        chord::paint_fingers(pen, shape, board, view.capo, view.placed);
        if view.listens {
            heard(pen, board, view);
        }
    }
    let left = at(words_at.x, 0.0).x;
    let room = rect.right() - left;
    let set = pen.read(Face::SemiBold, Step::Large, palette.ink);
    let mut y = pen.paragraph(at(words_at.x, words_at.y), &view.sentence, set, room, 3).bottom() + 8.0 * unit;
    let quiet = pen.set(Face::Regular, Step::Lead, palette.quiet);
    if is_far {
        let texts = [view.more.clone()];
        let size = (room, rect.bottom() - y);
        let read = pen.fitted_rows(&texts, pen.read(Face::Regular, Step::Lead, palette.ink), size, 0.0, quiet.size);
        y = pen.paragraph(pos2(left, y), &view.more, read, room, 5).bottom() + 8.0 * unit;
    } else if !view.more.is_empty() {
        y = pen.paragraph(pos2(left, y), &view.more, quiet, room, 2).bottom() + 8.0 * unit;
    }
    for words in &view.mutes {
        // From afar only what there is room for.
        if !is_far || y + pen.height(words, quiet, room) <= rect.bottom() {
            y = pen.paragraph(pos2(left, y), words, quiet, room, 2).bottom() + 8.0 * unit;
        }
    }
    if view.explains && !is_far {
        let set = pen.set(Face::SemiBold, Step::Label, palette.quiet);
        y = pen.text_level(pos2(left, y + 18.0 * unit), Side::Left, text::HOW_TO_READ, set, room).bottom();
        let set = pen.set(Face::Regular, Step::Body, palette.ink);
        y += 6.0 * unit;
        for words in text::diagram(pen.theme.look.hand) {
            y = pen.paragraph(pos2(left, y), words, set, room, 2).bottom() + 3.0 * unit;
        }
    }
    let explained = if view.explains { text::diagram(pen.theme.look.hand).join(" ") } else { String::new() };
    let spoken = format!(
        "{} {} {} {} {explained}",
        crate::text::spoken::chord_name("", &item.chord),
        view.sentence,
        view.more,
        view.mutes.join(" ")
    );
    say(ui, rect, "shape", spoken.trim());
}

/// Under each string that should ring: a ring that fills once it was heard.
fn heard(pen: &Pen<'_>, board: Rect, view: &ShapesPage) {
    let unit = pen.unit;
    let count = u16::try_from(view.rings.len()).unwrap_or(u16::MAX);
    let gap = board.width() / f32::from(count.max(2) - 1);
    for (place, rings) in (0_u16..).zip(&view.rings) {
        let along = gap * f32::from(place);
        let x = match pen.theme.look.hand {
            crate::theme::Hand::Right => board.left() + along,
            crate::theme::Hand::Left => board.right() - along,
        };
        let at = pos2(x, board.bottom() + if view.capo > 0 { 48.0 } else { 26.0 } * unit);
        match rings {
            Some(true) => pen.dot(at, 10.0 * unit, pen.palette().heard),
            Some(false) => pen.ring(at, 10.0 * unit, (2.0 * unit).max(1.5), pen.palette().quiet),
            None => {}
        }
    }
}

/// The section's shapes side by side. A press shows one.
fn shapes(ui: &mut Ui, hand: Hand, view: &ShapesPage, intents: &mut Vec<Intent>) {
    let size = vec2(ui.available_width(), 44.0 * hand.unit);
    let (row, _) = ui.allocate_exact_size(size, Sense::hover());
    let count = u16::try_from(view.shapes.len()).unwrap_or(u16::MAX).max(1);
    let width = (row.width() / f32::from(count)).min(120.0 * hand.unit);
    for (place, item) in (0_u16..).zip(&view.shapes) {
        let cell = Rect::from_min_size(row.min + vec2(width * f32::from(place), 0.0), vec2(width, row.height()));
        let name = text::control(&item.chord.name, item.is_done);
        let response = hand.cell(ui, cell, ("shape", name.as_str()), || WidgetInfo::labeled(Role::Button, true, &name));
        let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
        let palette = *pen.palette();
        let is_now = usize::from(place) == view.now;
        let (face, colour) = if is_now { (Face::Bold, palette.now) } else { (Face::SemiBold, palette.ink) };
        let room = cell.width() - 24.0 * pen.unit;
        let set = pen.fitted(&item.chord.name, pen.set(face, Step::Title, colour), room);
        let left = pos2(cell.left() + 4.0 * pen.unit, cell.center().y);
        let drawn = pen.text_level(left, Side::Left, &item.chord.name, set, room);
        if is_now {
            let level = drawn.bottom() + 2.0 * pen.unit;
            pen.line(pos2(drawn.left(), level), pos2(drawn.right(), level), 3.0 * pen.unit, palette.now);
        }
        if item.is_done {
            step_mark(&pen, pos2(drawn.right() + 11.0 * pen.unit, cell.center().y), sixrung_practice::Done::Heard);
        }
        if response.clicked() {
            intents.push(Intent::Shapes(ShapesWish::Only(usize::from(place))));
        }
    }
}
