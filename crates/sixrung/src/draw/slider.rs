//! A volume: a thin rail with a knob.

use std::ops::RangeInclusive;

use egui::{CursorIcon, EventFilter, Key, Rect, Sense, Ui, WidgetInfo, pos2};

use super::pen::Pen;

/// Shows `value` on a rail in `rect`; gives the new value when it is dragged, pressed or moved by keys (`step` each).
pub fn slider(
    ui: &Ui,
    pen: &Pen<'_>,
    rect: Rect,
    name: &str,
    value: f32,
    range: &RangeInclusive<f32>,
    step: f32,
) -> Option<f32> {
    let target = rect.expand2(egui::vec2(6.0, 0.0));
    let response = ui.interact(target, ui.scope_id().with(("slider", name)), Sense::click_and_drag());
    let response = response.on_hover_cursor(CursorIcon::ResizeHorizontal);
    // A range from high to low is as empty as one of a single value.
    let (low, high) = (*range.start(), range.end().max(*range.start()));
    let mut new = value.clamp(low, high);
    if let Some(at) = response.interact_pointer_pos()
        && (response.dragged() || response.clicked())
    {
        new = low + (high - low) * ((at.x - rect.left()) / rect.width()).clamp(0.0, 1.0);
    }
    if response.has_focus() {
        // The arrows move the knob instead of the focus.
        let filter = EventFilter { horizontal_arrows: true, ..EventFilter::default() };
        ui.memory_mut(|memory| memory.set_focus_lock_filter(response.id, filter));
        let (less, more) = ui.input(|input| (input.num_presses(Key::ArrowLeft), input.num_presses(Key::ArrowRight)));
        #[expect(clippy::cast_precision_loss, reason = "presses in one frame are few")]
        let moved = more as f32 - less as f32;
        new = (new + moved * step).clamp(low, high);
        pen.focus_ring(target, 4.0);
    }
    response.widget_info(|| WidgetInfo::slider(true, f64::from(new), name));
    paint(pen, rect, share(new, low, high));
    ((new - value).abs() > f32::EPSILON).then_some(new)
}

/// How far along the rail; at its beginning where there is nothing to choose.
fn share(value: f32, low: f32, high: f32) -> f32 {
    if high > low { (value - low) / (high - low) } else { 0.0 }
}

fn paint(pen: &Pen<'_>, rect: Rect, share: f32) {
    let palette = pen.palette();
    let width = (3.0 * pen.unit).max(2.0);
    let knob = pos2(rect.left() + rect.width() * share, rect.center().y);
    pen.line(pos2(rect.left(), knob.y), pos2(rect.right(), knob.y), width, palette.thin);
    pen.line(pos2(rect.left(), knob.y), knob, width, palette.ink);
    pen.dot(knob, (6.0 * pen.unit).max(5.0), palette.ink);
}

#[cfg(test)]
mod tests {
    use super::share;

    #[test]
    fn the_knob_has_a_place_on_every_rail() {
        let check = |value, low, high, expected: f32| assert!((share(value, low, high) - expected).abs() < 1e-6);
        check(3.0, 1.0, 5.0, 0.5);
        check(0.0, 0.0, 0.0, 0.0);
        check(7.0, 7.0, 7.0, 0.0);
    }
}
