//! A report as a table.

use egui::{Rect, Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};

use super::view::ReportView;
use crate::draw::{Pen, Side};
use crate::pages::parts::Hand;
use crate::text::hand_over as text;
use crate::text::report::{COLUMNS, HEADS, LEGEND, NOT_PLAYED, NOTHING};
use crate::theme::{Face, Step};

/// Where each column ends, in units from the left; the first and the last are set from where they begin.
const ENDS: [f32; COLUMNS] = [0.0, 232.0, 304.0, 372.0, 440.0, 532.0, 596.0, 660.0, 692.0];
/// How high a row is, in units.
const ROW: f32 = 28.0;

/// Draws it.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &ReportView) {
    for line in &view.head {
        hand.line(ui, line);
    }
    hand.label(ui, text::TABLE);
    row(ui, hand, &HEADS.map(str::to_owned), true);
    for cells in &view.rows {
        row(ui, hand, cells, false);
    }
    hand.gap(ui, 4.0);
    hand.sentence(ui, LEGEND);
    if !view.days.is_empty() {
        hand.label(ui, text::DAYS_PLAYED);
        hand.sentence(ui, &view.days.join(" · "));
    }
    hand.gap(ui, 12.0);
    for line in &view.findings {
        hand.sentence(ui, line);
    }
}

fn row(ui: &mut Ui, hand: Hand, cells: &[String; COLUMNS], is_head: bool) {
    let unit = hand.unit;
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), ROW * unit), Sense::empty());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, said(cells, is_head)));
    let pen = Pen::new(ui.painter(), hand.theme, unit);
    let palette = *pen.palette();
    let (face, ink) = if is_head { (Face::SemiBold, palette.quiet) } else { (Face::Regular, palette.ink) };
    let set = pen.set(face, Step::Label, ink);
    // A narrow page draws the columns closer.
    let shrink = (rect.width() / (900.0 * unit)).min(1.0);
    for (place, (cell, end)) in cells.iter().zip(ENDS).enumerate() {
        let at = pos2(rect.left() + end * unit * shrink, rect.center().y);
        let (side, room) = match place {
            0 => (Side::Left, 170.0 * unit * shrink),
            _ if place + 1 == COLUMNS => (Side::Left, rect.right() - at.x),
            _ => (Side::Right, 88.0 * unit * shrink),
        };
        let inset = if cell.starts_with(' ') { 16.0 * unit } else { 0.0 };
        pen.text_level(pos2(at.x + inset, at.y), side, cell.trim(), set, room);
    }
    let line = Rect::from_min_max(pos2(rect.left(), rect.bottom() - 1.0), rect.max);
    pen.block(line, 0.0, palette.hair);
}

/// A row as it is read aloud: each number with its column's name.
fn said(cells: &[String; COLUMNS], is_head: bool) -> String {
    if is_head {
        return HEADS.join(", ");
    }
    let is_known = |cell: &str| !cell.is_empty() && cell != NOTHING;
    let named = cells.iter().zip(HEADS).skip(1).filter(|(cell, _)| is_known(cell));
    let mut named: Vec<String> = named.map(|(cell, head)| format!("{head} {cell}")).collect();
    if !is_known(&cells[2]) {
        named.push(NOT_PLAYED.to_owned());
    }
    format!("{}: {}", cells[0].trim(), named.join(", "))
}
