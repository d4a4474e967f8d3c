//! Two rows of plain words at the right of the line above the sheet: what lies beside the stand, and how to get there.

use egui::{Rect, Ui, pos2, vec2};

use super::{Intent, Page};
use crate::draw::{Pen, Side, Type, press};
use crate::text::elsewhere as text;
use crate::theme::{Face, Step};

/// What is gone to from anywhere, row by row.
const ROWS: [[Page; 3]; 2] = [[Page::Today, Page::Journal, Page::Guide], [Page::HandOver, Page::Tuner, Page::Look]];

/// Whether one of the words is this page's.
pub(super) fn has(page: Page) -> bool {
    ROWS.as_flattened().contains(&page)
}

/// Draws them with their right edge at `right`, the two rows at the levels `rows`; says where their left edge is.
pub(super) fn show(
    ui: &Ui,
    pen: &Pen<'_>,
    right: f32,
    rows: [f32; 2],
    open: Option<Page>,
    intents: &mut Vec<Intent>,
) -> f32 {
    let unit = pen.unit;
    let gap = 18.0 * unit;
    let bold = set(pen, true);
    // Room for each word as it is when its page is open, so that nothing moves.
    let widths =
        [0, 1, 2].map(|column| ROWS.iter().map(|row| pen.width(text::word(row[column]), bold)).fold(0.0, f32::max));
    let left = right - widths.iter().sum::<f32>() - 2.0 * gap;
    for (row, y) in ROWS.iter().zip(rows) {
        let mut x = left;
        for (page, width) in row.iter().zip(widths) {
            word(ui, pen, pos2(x, y), width, (*page, open == Some(*page)), intents);
            x += width + gap;
        }
    }
    left
}

fn set(pen: &Pen<'_>, is_open: bool) -> Type {
    let (face, colour) = if is_open { (Face::Bold, pen.palette().ink) } else { (Face::Regular, pen.palette().quiet) };
    pen.set(face, Step::Label, colour)
}

fn word(
    ui: &Ui,
    pen: &Pen<'_>,
    left: egui::Pos2,
    width: f32,
    (page, is_open): (Page, bool),
    intents: &mut Vec<Intent>,
) {
    let unit = pen.unit;
    let drawn = pen.text_level(left, Side::Left, text::word(page), set(pen, is_open), f32::INFINITY);
    if is_open {
        let level = left.y + 12.0 * unit;
        pen.line(pos2(drawn.left(), level), pos2(drawn.right(), level), 3.0 * unit, pen.palette().now);
    }
    let target = Rect::from_min_size(left - vec2(4.0, 13.0) * unit, vec2(width + 8.0 * unit, 26.0 * unit));
    if press(ui, pen, target, ("elsewhere", page), &text::name(page)).clicked() {
        intents.push(Intent::OpenPage(page));
    }
}
