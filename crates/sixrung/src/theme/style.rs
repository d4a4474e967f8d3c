//! The few ready-made widgets (a text field, a scroll bar) in the hand of the rest.

use egui::{CornerRadius, Stroke, Visuals};

use super::{Sheet, Theme};

/// Visuals for ready-made widgets.
#[must_use]
pub fn visuals(theme: &Theme) -> Visuals {
    let palette = &theme.palette;
    let is_dark = matches!(theme.look.sheet, Sheet::Dark | Sheet::ContrastDark);
    let mut visuals = if is_dark { Visuals::dark() } else { Visuals::light() };
    visuals.override_text_color = Some(palette.ink);
    visuals.panel_fill = palette.surround;
    visuals.extreme_bg_color = palette.sheet;
    visuals.text_edit_bg_color = Some(palette.sheet);
    visuals.selection.bg_fill = palette.shade;
    visuals.selection.stroke = Stroke::new(2.0, palette.now);
    visuals.text_cursor.stroke = Stroke::new(2.0, palette.now);
    visuals.text_cursor.blink = false;
    let widgets = &mut visuals.widgets;
    for state in [&mut widgets.inactive, &mut widgets.hovered, &mut widgets.active, &mut widgets.open] {
        state.bg_fill = palette.thin;
        state.weak_bg_fill = palette.shade;
        state.bg_stroke = Stroke::new(1.5, palette.thin);
        state.fg_stroke = Stroke::new(1.5, palette.ink);
        state.corner_radius = CornerRadius::same(4);
    }
    visuals
}
