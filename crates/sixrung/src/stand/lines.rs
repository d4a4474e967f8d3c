//! The line above the sheet: title, where one is, what there is to know. Each is a way to choose.

use egui::{Rect, Ui, pos2};
use sixrung_practice::Step as StepOfPath;

use super::{Intent, Note, Page, StandView, elsewhere, path};
use crate::draw::{Pen, Side, press};
use crate::text;
use crate::theme::{Face, Step};

/// Draws it in `rect`; `page` is the page that lies over the stand.
pub(crate) fn top_line(
    ui: &Ui,
    pen: &Pen<'_>,
    rect: Rect,
    view: &StandView,
    page: Option<Page>,
    intents: &mut Vec<Intent>,
) {
    let (place, notes) = (&view.place, view.notes.as_slice());
    let unit = pen.unit;
    let middle = rect.center().y - 36.0 * unit;
    let width = rect.width() * 0.45;
    let has_lesson = !place.title.is_empty();
    let title = if has_lesson { place.title.as_str() } else { text::PROGRAM };
    let set = pen.set(Face::BookBold, Step::Title, pen.palette().ink);
    let drawn = pen.text_level(pos2(rect.left(), middle + 28.0 * unit), Side::Left, title, set, width);
    let mut written = drawn.right();
    let target = Rect::from_min_max(drawn.min, pos2(drawn.right(), middle + 41.0 * unit));
    if press(ui, pen, target, "title", &text::controls::title_name(title)).clicked() {
        intents.push(Intent::OpenPage(Page::Lessons));
    }
    if has_lesson {
        let set = pen.set(Face::Regular, Step::Label, pen.palette().quiet);
        let words = text::where_line(place);
        let drawn = pen.text_level(pos2(rect.left(), middle + 53.0 * unit), Side::Left, &words, set, width);
        written = written.max(drawn.right());
        let target =
            Rect::from_min_max(pos2(drawn.left(), middle + 41.0 * unit), pos2(drawn.right(), middle + 66.0 * unit));
        if press(ui, pen, target, "where", &text::controls::where_name(&words)).clicked() {
            intents.push(Intent::OpenPage(Page::Sections));
        }
    }
    let rows = [29.0, 55.0].map(|row| middle + row * unit);
    let elsewhere_left = elsewhere::show(ui, pen, rect.right(), rows, page, intents);
    let area = Rect::from_min_max(
        pos2(rect.left() + width + 24.0 * unit, middle + 14.0 * unit),
        pos2(elsewhere_left - 42.0 * unit, middle + 66.0 * unit),
    );
    let Some(path) = &view.path else {
        if !notes.is_empty() {
            note(ui, pen, area, notes, intents);
        }
        return;
    };
    // The title leaves what it does not need.
    let left = (written + 24.0 * unit).max(rect.left() + 200.0 * unit).min(area.left());
    let steps = Rect::from_min_max(pos2(left, area.top()), area.max);
    let below = path::steps(ui, pen, steps, path, shown_step(path, page), intents);
    if notes.is_empty() {
        path::task(pen, below, path, page.and_then(Page::step), view.today.as_ref());
    } else {
        short_note(ui, pen, below, notes, intents);
    }
}

/// The step that is marked as the one in front of the player; none where the page has its own mark in this line.
fn shown_step(path: &path::PathView, page: Option<Page>) -> Option<StepOfPath> {
    match page {
        Some(page) if elsewhere::has(page) => None,
        _ => Some(page.and_then(Page::step).unwrap_or(path.current)),
    }
}

/// The newest note in one line, under the steps; pressing it takes it away.
fn short_note(ui: &Ui, pen: &Pen<'_>, area: Rect, notes: &[Note], intents: &mut Vec<Intent>) {
    let Some((newest, older)) = notes.split_last() else { return };
    let more = if older.is_empty() { String::new() } else { text::more_notes(older.len()) };
    let parts = [newest.text.as_str(), newest.hint.as_str(), more.as_str()];
    let words = parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ");
    let unit = pen.unit;
    let y = area.center().y;
    sign(pen, pos2(area.left() + 8.0 * unit, y));
    let left = area.left() + 24.0 * unit;
    let set = pen.set(Face::Medium, Step::Small, pen.palette().late);
    pen.text_level(pos2(left, y), Side::Left, &words, set, area.right() - left);
    let response = press(ui, pen, area, "note", &text::controls::note_name(newest));
    if response.clicked() {
        intents.push(Intent::DismissNote(older.len()));
    }
    response.on_hover_text(words);
}

/// The sign before what there is to know.
fn sign(pen: &Pen<'_>, at: egui::Pos2) {
    let unit = pen.unit;
    let (half, height) = (8.0 * unit, 7.0 * unit);
    let corners = vec![
        pos2(at.x, at.y - height),
        pos2(at.x + half, at.y + height),
        pos2(at.x - half, at.y + height),
        pos2(at.x, at.y - height),
    ];
    pen.path(corners, (1.8 * unit).max(1.5), pen.palette().late);
}

/// The newest note with its hint; pressing it takes it away.
fn note(ui: &Ui, pen: &Pen<'_>, area: Rect, notes: &[Note], intents: &mut Vec<Intent>) {
    let Some((newest, older)) = notes.split_last() else { return };
    if area.width() < 60.0 * pen.unit {
        return;
    }
    let unit = pen.unit;
    let palette = *pen.palette();
    let y = area.top() + 14.0 * unit;
    sign(pen, pos2(area.left() + 8.0 * unit, y));
    let left = area.left() + 26.0 * unit;
    let set = pen.set(Face::Medium, Step::Label, palette.late);
    pen.text_level(pos2(left, y), Side::Left, &newest.text, set, area.right() - left);
    let more = if older.is_empty() { String::new() } else { text::more_notes(older.len()) };
    let second = [newest.hint.as_str(), more.as_str()]
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect::<Vec<_>>()
        .join(" · ");
    let set = pen.set(Face::Regular, Step::Small, palette.quiet);
    pen.text_level(pos2(left, y + 21.0 * unit), Side::Left, &second, set, area.right() - left);
    if press(ui, pen, area, "note", &text::controls::note_name(newest)).clicked() {
        intents.push(Intent::DismissNote(older.len()));
    }
}
