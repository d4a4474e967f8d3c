//! The recording as a picture: a strip of all of it, and below it the part around the cursor with its beats.

use egui::{CursorIcon, Rect, Sense, Ui, pos2, vec2};

use super::SongPage;
use crate::draw::{Pen, Side, say as name};
use crate::pages::parts::Hand;
use crate::song::{PEAKS_A_SECOND, Peak};
use crate::stand::{Intent, SongWish};
use crate::text::song as text;
use crate::theme::{Face, Step};

/// Heights, in units.
const STRIP: f32 = 30.0;
const WAVE: f32 = 120.0;
/// Above the wave: bar numbers; below it: time.
const NUMBERS: f32 = 22.0;

/// Draws both; a press moves the cursor.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &SongPage, intents: &mut Vec<Intent>) {
    let unit = hand.unit;
    let width = ui.available_width() - 8.0 * unit;
    let (all, _) = ui.allocate_exact_size(vec2(width, (STRIP + WAVE + 2.0 * NUMBERS + 6.0) * unit), Sense::hover());
    let strip = Rect::from_min_size(all.min, vec2(width, STRIP * unit));
    let top = strip.bottom() + (6.0 + NUMBERS) * unit;
    let wave = Rect::from_min_size(pos2(all.left(), top), vec2(width, WAVE * unit));
    let pen = Pen::new(ui.painter(), hand.theme, unit);
    let whole = (0.0, view.length_s.max(0.001));
    pressed(ui, strip, "strip", whole, intents);
    pressed(ui, wave, "wave", view.window, intents);
    name(ui, wave, "wave words", &text::wave_name(view));
    paint_strip(&pen, strip, view, whole);
    paint_wave(&pen, wave, view);
}

/// A press anywhere moves the cursor there.
fn pressed(ui: &Ui, rect: Rect, key: &str, window: (f64, f64), intents: &mut Vec<Intent>) {
    let response = ui.interact(rect, ui.scope_id().with(("song", key)), Sense::click());
    let response = response.on_hover_cursor(CursorIcon::Text);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::Button, true, text::place_name(key)));
    if let Some(at) = response.interact_pointer_pos().filter(|_| response.clicked()) {
        let share = f64::from(((at.x - rect.left()) / rect.width()).clamp(0.0, 1.0));
        intents.push(Intent::Song(SongWish::To(window.0 + share * (window.1 - window.0))));
    }
}

fn paint_strip(pen: &Pen<'_>, rect: Rect, view: &SongPage, whole: (f64, f64)) {
    let palette = *pen.palette();
    pen.block(rect, 3.0 * pen.unit, palette.shade);
    let x = |at_s: f64| place(rect, whole, at_s);
    columns(pen, rect, &view.peaks, whole, palette.thin);
    let window = Rect::from_x_y_ranges(x(view.window.0)..=x(view.window.1.min(view.length_s)), rect.y_range());
    pen.frame(window.expand2(vec2(1.0, 0.0)), 3.0 * pen.unit, (1.5 * pen.unit).max(1.0), palette.ink);
    pen.rule(pos2(x(view.at_s), rect.top()), pos2(x(view.at_s), rect.bottom()), 2.0 * pen.unit, palette.now);
}

fn paint_wave(pen: &Pen<'_>, rect: Rect, view: &SongPage) {
    let palette = *pen.palette();
    let unit = pen.unit;
    let x = |at_s: f64| place(rect, view.window, at_s);
    pen.block(rect, 3.0 * unit, palette.shade);
    columns(pen, rect, &view.peaks, view.window, palette.quiet);
    let mut free_from = rect.left();
    for beat in &view.beats {
        let at = x(beat.at_s);
        let (reach, width) = if beat.bar.is_some() { (8.0, 2.0) } else { (0.0, 1.0) };
        let colour = if beat.is_before { palette.thin } else { palette.ink };
        let (top, bottom) = (rect.top() - reach * unit, rect.bottom());
        pen.rule(pos2(at, top), pos2(at, bottom), (width * unit).max(1.0), colour);
        if beat.is_anchor {
            // A pin on the line: this beat lies where it was put.
            let head = pos2(at, rect.bottom() + 7.0 * unit);
            let (side, high) = (6.0 * unit, 9.0 * unit);
            pen.triangle([head + vec2(-side, high), head + vec2(side, high), head], palette.now);
        }
        if let Some(bar) = beat.bar.filter(|_| at >= free_from) {
            let set = pen.set(Face::SemiBold, Step::Small, palette.quiet);
            let drawn =
                pen.text_level(pos2(at + 5.0 * unit, rect.top() - 9.0 * unit), Side::Left, &bar.to_string(), set, 60.0);
            free_from = drawn.right() + 6.0 * unit;
        }
    }
    let at = x(view.at_s);
    pen.rule(pos2(at, rect.top() - 6.0 * unit), pos2(at, rect.bottom() + 4.0 * unit), 3.0 * unit, palette.now);
    let pennant = pos2(at, rect.top() - 6.0 * unit);
    pen.triangle([pennant, pennant + vec2(12.0, 5.0) * unit, pennant + vec2(0.0, 10.0) * unit], palette.now);
    let set = pen.set(Face::Regular, Step::Small, palette.quiet);
    let time = rect.bottom() + 12.0 * unit;
    let left = text::clock(view.window.0);
    pen.text_level(pos2(rect.left(), time), Side::Left, &left, set, 90.0 * unit);
    pen.text_level(
        pos2(rect.right(), time),
        Side::Right,
        &text::clock(view.window.1.min(view.length_s)),
        set,
        90.0 * unit,
    );
}

#[expect(clippy::cast_possible_truncation, reason = "a place on the screen")]
fn place(rect: Rect, (from, to): (f64, f64), at_s: f64) -> f32 {
    rect.left() + rect.width() * ((at_s - from) / (to - from)) as f32
}

/// Uprights from the lowest to the highest sample, every two points.
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "places on the screen"
)]
fn columns(pen: &Pen<'_>, rect: Rect, peaks: &[Peak], (from, to): (f64, f64), colour: egui::Color32) {
    let step = 2.0_f32;
    let count = (rect.width() / step) as usize;
    let index = |share: f64| ((from + share * (to - from)) * f64::from(PEAKS_A_SECOND)) as usize;
    // As high as the loudest of all, so that a quiet recording can be read too.
    let loudest = peaks.iter().flatten().fold(0.05_f32, |loudest, sample| loudest.max(sample.abs()));
    let half = rect.height() / 2.0 / loudest * 0.94;
    for column in 0..count {
        let (first, last) = (index(column as f64 / count as f64), index((column + 1) as f64 / count as f64));
        let here = peaks.get(first..last.max(first + 1).min(peaks.len())).unwrap_or(&[]);
        if here.is_empty() {
            continue;
        }
        let [low, high] = here.iter().fold([0.0_f32, 0.0], |[low, high], peak| [low.min(peak[0]), high.max(peak[1])]);
        let at = rect.left() + (column as f32 + 0.5) * step;
        let middle = rect.center().y;
        pen.rule(pos2(at, middle - high * half - 0.5), pos2(at, middle - low * half + 0.5), step * 0.75, colour);
    }
}
