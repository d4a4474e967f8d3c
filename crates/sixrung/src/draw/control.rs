//! What makes a drawing a control: a place to press, a name to be read aloud, a ring when the keyboard is there.

use egui::accesskit::{Live, Role};
use egui::{CursorIcon, Rect, Response, Sense, Ui, WidgetInfo};

use super::pen::Pen;

/// Makes `rect` a control that is pressed. `key` tells controls of one place apart; `name` is read aloud.
pub fn press(ui: &Ui, pen: &Pen<'_>, rect: Rect, key: impl std::hash::Hash + std::fmt::Debug, name: &str) -> Response {
    let response = ui.interact(rect, ui.scope_id().with(key), Sense::click()).on_hover_cursor(CursorIcon::PointingHand);
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, name));
    if response.has_focus() {
        pen.focus_ring(rect, 4.0);
    }
    response
}

/// Words that a screen reader says by itself as soon as they are there: a sentence or two, and rarely.
pub fn announce(ui: &Ui, rect: Rect, key: impl std::hash::Hash + std::fmt::Debug, words: &str) {
    let response = ui.interact(rect, ui.scope_id().with(key), Sense::empty());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_live(Live::Polite));
}

/// Gives a drawing that is only looked at its words for a screen reader.
pub fn say(ui: &Ui, rect: Rect, key: impl std::hash::Hash + std::fmt::Debug, words: &str) {
    let response = ui.interact(rect, ui.scope_id().with(key), Sense::empty());
    response.widget_info(|| WidgetInfo::labeled(Role::Label, true, words));
}
