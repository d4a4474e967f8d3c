//! The path as the sheet shows it: its steps in the line above the sheet.

use egui::{Rect, Ui, pos2, vec2};
use sixrung_practice::{Done, Step};

use super::{Intent, TodayView};
use crate::draw::{Pen, Side, press};
use crate::text::path as text;
use crate::theme::{Face, Step as Size};

/// The steps of the section's path, and which is on the stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PathView {
    /// The steps in order.
    pub steps: Vec<StepView>,
    /// The one on the stand.
    pub current: Step,
}

/// A step.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct StepView {
    /// Which.
    pub step: Step,
    /// How it was done; `None` when it is not.
    pub done: Option<Done>,
}

/// Draws the steps side by side in `area`, from the right, and says where the line under them lies. `shown` is the step that
/// is in front of the player.
pub(super) fn steps(
    ui: &Ui,
    pen: &Pen<'_>,
    area: Rect,
    path: &PathView,
    shown: Option<Step>,
    intents: &mut Vec<Intent>,
) -> Rect {
    let unit = pen.unit;
    let palette = *pen.palette();
    let gap = 20.0 * unit;
    let set_of = |view: &StepView| {
        let (face, colour) =
            if shown == Some(view.step) { (Face::Bold, palette.ink) } else { (Face::Medium, palette.quiet) };
        pen.set(face, Size::Label, colour)
    };
    let tick_room = |view: &StepView| if view.done.is_some() { 15.0 * unit } else { 0.0 };
    let widths: Vec<f32> =
        path.steps.iter().map(|view| pen.width(text::name(view.step), set_of(view)) + tick_room(view)).collect();
    #[expect(clippy::cast_precision_loss, reason = "eight steps")]
    let all = widths.iter().sum::<f32>() + gap * (widths.len().max(1) - 1) as f32;
    let y = area.top() + 15.0 * unit;
    let below = |left: f32| Rect::from_min_max(pos2(left, y + 15.0 * unit), pos2(area.right(), y + 37.0 * unit));
    if all > area.width() {
        let left = area.right() - area.width().min(420.0 * unit);
        short(ui, pen, pos2(left, y), area.right() - left, path, shown.unwrap_or(path.current), intents);
        return below(left);
    }
    let mut x = area.right() - all;
    let begins = x;
    for (view, width) in path.steps.iter().zip(&widths) {
        let name = text::name(view.step);
        let drawn = pen.text_level(pos2(x, y), Side::Left, name, set_of(view), f32::INFINITY);
        if let Some(done) = view.done {
            mark(pen, pos2(drawn.right() + 9.0 * unit, y), done);
        }
        if shown == Some(view.step) {
            let level = y + 14.0 * unit;
            pen.line(pos2(drawn.left(), level), pos2(drawn.right(), level), 3.0 * unit, palette.now);
        }
        let target = Rect::from_min_size(pos2(x, y - 14.0 * unit), vec2(*width, 28.0 * unit));
        if press(ui, pen, target, name, &text::control(view.step, view.done)).clicked() {
            intents.push(Intent::ChooseStep(view.step));
        }
        x += width + gap;
    }
    below(begins)
}

/// With little room: the step on the stand, of how many.
fn short(
    ui: &Ui,
    pen: &Pen<'_>,
    left: egui::Pos2,
    room: f32,
    path: &PathView,
    current: Step,
    intents: &mut Vec<Intent>,
) {
    let unit = pen.unit;
    let words = text::place(current, path.steps.len());
    let set = pen.set(Face::Bold, Size::Label, pen.palette().ink);
    let drawn = pen.text_level(left, Side::Left, &words, set, room);
    let target = Rect::from_min_size(left - vec2(0.0, 14.0 * unit), vec2(drawn.width().min(room), 28.0 * unit));
    if press(ui, pen, target, "steps", &words).clicked() {
        intents.push(Intent::OpenPage(super::Page::Path));
    }
}

/// Where in today's plan one is, and what is asked for.
fn today_words(today: &TodayView, asked: &str) -> String {
    let place = crate::text::today::place(today.number, today.of, today.minutes_left);
    format!("{place} · {asked}")
}

/// Under the steps: what the one on the stand asks for, or where in today's plan one is.
pub(super) fn task(pen: &Pen<'_>, area: Rect, path: &PathView, page: Option<Step>, today: Option<&TodayView>) {
    let asked = text::task(page.unwrap_or(path.current));
    let words = today.map_or_else(|| asked.to_owned(), |today| today_words(today, asked));
    let set = pen.set(Face::Regular, Size::Label, pen.palette().quiet);
    pen.text_level(area.left_center(), Side::Left, &words, pen.fitted(&words, set, area.width()), area.width());
}

/// A tick for done, a dash for left out: told by shape.
pub(crate) fn mark(pen: &Pen<'_>, at: egui::Pos2, done: Done) {
    let unit = pen.unit;
    let points: &[(f32, f32)] = match done {
        Done::Heard | Done::SelfMarked => &[(-4.5, 0.0), (-1.0, 3.5), (5.0, -4.0)],
        Done::Skipped => &[(-4.0, 0.0), (4.0, 0.0)],
    };
    let colour = if done == Done::Skipped { pen.palette().quiet } else { pen.palette().heard };
    pen.path(points.iter().map(|(x, y)| at + vec2(*x, *y) * unit).collect(), (2.0 * unit).max(1.5), colour);
}
