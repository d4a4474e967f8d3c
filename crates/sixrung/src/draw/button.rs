//! Buttons: at most one on a screen is filled, the next thing to do.

use egui::{CursorIcon, Rect, Response, Sense, Ui, WidgetInfo, accesskit::Role};

use super::pen::{Pen, Side};
use crate::theme::{Face, Step};

/// How a button is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Fill {
    /// The next thing to do: one on a screen.
    Filled,
    /// Anything else.
    Outline,
}

/// A pill with words on it.
pub fn button(ui: &Ui, pen: &Pen<'_>, rect: Rect, words: &str, fill: Fill) -> Response {
    let response = ui.interact(rect, ui.scope_id().with(("button", words, fill)), Sense::click());
    let response = response.on_hover_cursor(CursorIcon::PointingHand);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, words));
    let palette = *pen.palette();
    let radius = rect.height() / 2.0;
    let colour = match fill {
        Fill::Filled => {
            pen.block(rect, radius, palette.ink);
            palette.sheet
        }
        Fill::Outline => {
            pen.frame(rect, radius, (1.5 * pen.unit).max(1.5), palette.ink);
            palette.ink
        }
    };
    let lift = if response.is_pointer_button_down_on() { 1.0 } else { 0.0 };
    let middle = rect.center() + egui::vec2(0.0, lift);
    let set = pen.set(Face::SemiBold, Step::Label, colour);
    pen.text_level(middle, Side::Centre, words, set, rect.width() - radius);
    if response.has_focus() {
        pen.focus_ring(rect, radius);
    } else if response.hovered() {
        pen.frame(rect.expand(2.0), radius + 2.0, 1.0, palette.quiet);
    }
    response
}

/// The width a button needs for its words.
#[must_use]
pub fn width(pen: &Pen<'_>, words: &str) -> f32 {
    let set = pen.set(Face::SemiBold, Step::Label, pen.palette().ink);
    (pen.width(words, set) + 48.0 * pen.unit).max(150.0 * pen.unit)
}
