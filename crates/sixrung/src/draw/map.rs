//! The bars of a section as a row one can drag along to pick a range.

use std::ops::Range;

use egui::{CursorIcon, Rect, Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};

use super::pen::{Pen, Side};
use crate::stand::{MapBar, MapView};
use crate::theme::{Face, Step};

/// What the player picked on the map.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Picked {
    /// These bars.
    Bars(Range<usize>),
    /// All of them.
    All,
}

/// The bars between two places of a drag, as indices, the end not included. `from` and `to` are fractions of the row.
#[must_use]
pub fn dragged(from: f32, to: f32, bars: usize) -> Range<usize> {
    #[expect(clippy::cast_precision_loss, reason = "bars are few")]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0 to 1")]
    let bar = |place: f32| ((place.clamp(0.0, 1.0) * bars as f32) as usize).min(bars.saturating_sub(1));
    let (first, last) = (bar(from.min(to)), bar(from.max(to)));
    if bars == 0 { 0..0 } else { first..last + 1 }
}

/// Shows the map in `rect`. Dragging picks a range, a double click all bars.
pub fn map(ui: &Ui, pen: &Pen<'_>, rect: Rect, view: &MapView) -> Option<Picked> {
    let response = ui.interact(rect, ui.scope_id().with("map"), Sense::click_and_drag());
    let response = response.on_hover_cursor(CursorIcon::ResizeHorizontal);
    response.widget_info(|| WidgetInfo::labeled(Role::Slider, true, crate::text::map_name(view)));
    let place = |at: egui::Pos2| (at.x - rect.left()) / rect.width();
    if response.drag_started()
        && let Some(origin) = ui.input(|input| input.pointer.press_origin())
    {
        ui.data_mut(|data| data.insert_temp(response.id, origin));
    }
    let origin = ui.data(|data| data.get_temp::<egui::Pos2>(response.id));
    let now = response.interact_pointer_pos();
    let drag = origin.zip(now).map(|(from, to)| dragged(place(from), place(to), view.bars.len()));
    let shown = if response.dragged() { drag.clone() } else { view.chosen.clone() };
    paint(pen, rect, view, shown.as_ref());
    if response.has_focus() {
        pen.focus_ring(rect, 4.0);
    }
    if response.double_clicked() {
        Some(Picked::All)
    } else if response.drag_stopped() {
        drag.filter(|bars| !bars.is_empty())
            .map(|bars| if bars.len() == view.bars.len() { Picked::All } else { Picked::Bars(bars) })
    } else {
        None
    }
}

fn paint(pen: &Pen<'_>, rect: Rect, view: &MapView, chosen: Option<&Range<usize>>) {
    let palette = *pen.palette();
    #[expect(clippy::cast_precision_loss, reason = "bars are few")]
    let pitch = rect.width() / view.bars.len().max(1) as f32;
    let gap = (6.0 * pen.unit).min(pitch * 0.25);
    let level = rect.top() + rect.height() * 0.3;
    let names = rect.top() + rect.height() * 0.8;
    let mut free_from = rect.left();
    for (index, bar) in view.bars.iter().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "bars are few")]
        let left = rect.left() + pitch * index as f32;
        let is_chosen = chosen.is_none_or(|range| range.contains(&index));
        let is_current = view.current == Some(index);
        let thick = if is_chosen { 8.0 } else { 3.0 } * pen.unit;
        let line = Rect::from_min_size(pos2(left, level - thick / 2.0), vec2(pitch - gap, thick));
        let colour = match (is_current, bar.done) {
            (true, _) => palette.now,
            (false, true) => palette.quiet,
            (false, false) => palette.pale_wood,
        };
        pen.block(line, thick / 2.0, colour);
        let until = next_name(view, index, rect.left(), pitch).unwrap_or(rect.right());
        free_from = paint_names(pen, bar, is_current, (left, left + pitch - gap, names), free_from, until);
    }
    if let Some(range) = chosen
        && range.len() < view.bars.len()
    {
        paint_range(pen, rect, range, pitch, gap);
    }
}

/// Where the next chord name after `index` begins.
fn next_name(view: &MapView, index: usize, left: f32, pitch: f32) -> Option<f32> {
    let next = view.bars.iter().enumerate().skip(index + 1).find(|(_, bar)| bar.chord.is_some());
    #[expect(clippy::cast_precision_loss, reason = "bars are few")]
    next.map(|(next, _)| left + pitch * next as f32)
}

/// The chord's name under the bar's start and the current bar's number under its end; names never run into each other.
fn paint_names(
    pen: &Pen<'_>,
    bar: &MapBar,
    current: bool,
    (left, right, y): (f32, f32, f32),
    free_from: f32,
    until: f32,
) -> f32 {
    let palette = pen.palette();
    let mut free = free_from;
    if let Some(chord) = bar.chord.as_deref().filter(|_| left >= free_from) {
        let colour = if current || bar.done { palette.ink } else { palette.quiet };
        let set = pen.set(Face::SemiBold, Step::Label, colour);
        free = pen.text_level(pos2(left, y), Side::Left, chord, set, until - left).right() + 4.0 * pen.unit;
    }
    if current {
        let set = pen.set(Face::Regular, Step::Small, palette.quiet);
        let words = crate::text::bar(bar.number);
        if right - pen.width(&words, set) >= free {
            pen.text_level(pos2(right, y), Side::Right, &words, set, f32::INFINITY);
            free = right + 4.0 * pen.unit;
        }
    }
    free
}

/// Brackets around the bars picked.
fn paint_range(pen: &Pen<'_>, rect: Rect, range: &Range<usize>, pitch: f32, gap: f32) {
    let colour = pen.palette().now;
    let (top, bottom) = (rect.top(), rect.top() + rect.height() * 0.6);
    #[expect(clippy::cast_precision_loss, reason = "bars are few")]
    let at = |bar: usize| rect.left() + pitch * bar as f32;
    let tick = 6.0 * pen.unit;
    let width = (2.0 * pen.unit).max(1.5);
    for (x, inward) in [(at(range.start) - gap / 2.0, tick), (at(range.end) - gap / 2.0, -tick)] {
        pen.path(vec![pos2(x + inward, top), pos2(x, top), pos2(x, bottom), pos2(x + inward, bottom)], width, colour);
    }
}

#[cfg(test)]
mod tests {
    use super::dragged;

    #[test]
    fn a_drag_picks_whole_bars_either_way() {
        let rows = [
            (0.0, 1.0, 8, 0..8),
            (1.0, 0.0, 8, 0..8),
            (0.26, 0.49, 8, 2..4),
            (0.3, 0.3, 8, 2..3),
            (-3.0, 0.1, 8, 0..1),
            (0.9, 9.0, 8, 7..8),
            (0.5, 0.5, 1, 0..1),
            (0.2, 0.7, 0, 0..0),
        ];
        for (from, to, bars, expected) in rows {
            assert_eq!(dragged(from, to, bars), expected, "{from} to {to} of {bars}");
        }
    }
}
