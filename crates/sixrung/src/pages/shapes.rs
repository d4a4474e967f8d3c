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

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &ShapesPage, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::TITLE);
    let Some(item) = view.shapes.get(view.now) else { return hand.sentence(ui, text::EMPTY) };
    let size = vec2(ui.available_width(), 372.0 * hand.unit);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let least = hand.theme.look.least_pt();
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit).reading(least);
    large(ui, &pen, rect, item, view);
    shapes(ui, hand, view, intents);
    hand.gap(ui, 6.0);
    hand.sentence(ui, text::KEYS);
}

/// The shape, and what to do with it.
fn large(ui: &Ui, pen: &Pen<'_>, rect: Rect, item: &ShapeItem, view: &ShapesPage) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let at = |x: f32, y: f32| rect.min + vec2(x, y) * unit;
    let name = pen.fitted(&item.chord.name, pen.set(Face::Bold, Step::Now, palette.ink), 150.0 * unit);
    pen.text(at(0.0, 130.0), Side::Left, &item.chord.name, name);
    let below = [
        item.chord.stands_in_for.as_deref().map(crate::text::stands_in),
        item.chord.sounds.as_deref().map(crate::text::sounds),
    ];
    for (row, words) in (0_u8..).zip(below.into_iter().flatten()) {
        let set = pen.set(Face::Medium, Step::Lead, palette.quiet);
        pen.text_level(at(2.0, 156.0 + 24.0 * f32::from(row)), Side::Left, &words, set, 150.0 * unit);
    }
    if let Some(shape) = &item.chord.shape {
        let board = chord::board(at(200.0, 46.0), 300.0 * unit);
        chord::paint_fingers(pen, shape, board, view.capo, view.placed);
        if view.listens {
            heard(pen, board, view);
        }
    }
    let left = at(WORDS_LEFT, 0.0).x;
    let room = rect.right() - left;
    let set = pen.read(Face::SemiBold, Step::Large, palette.ink);
    let mut y = pen.paragraph(at(WORDS_LEFT, 34.0), &view.sentence, set, room, 2).bottom() + 8.0 * unit;
    let set = pen.set(Face::Regular, Step::Lead, palette.quiet);
    for words in std::iter::once(&view.more).chain(&view.mutes).filter(|words| !words.is_empty()) {
        y = pen.paragraph(pos2(left, y), words, set, room, 2).bottom() + 8.0 * unit;
    }
    if view.explains {
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
