//! The plots: tempo, trouble, changes, distance from the beat, minutes.

use egui::{Rect, Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};

use super::view::{ChangeItem, JournalPage, SectionLine};
use crate::draw::days::{DaysPlot, moved_apart};
use crate::draw::{Pen, Side, say};
use crate::pages::parts::Hand;
use crate::stand::{Intent, JournalWish};
use crate::text::journal as text;
use crate::theme::{Face, Step};

/// Room for the names of tempi, and for those of sections, in units.
const LEFT: f32 = 48.0;
const RIGHT: f32 = 112.0;
/// One mark in a bar stands for this share of passes.
const TENTH: f32 = 0.1;
/// So many marks fit into a bar.
const MOST_MARKS: u8 = 10;

fn area(ui: &mut Ui, hand: Hand, height: f32) -> Rect {
    ui.allocate_exact_size(vec2(ui.available_width(), height * hand.unit), Sense::hover()).0
}

/// Tempo over days: the chosen section in full ink, the others beside it dashed.
pub(super) fn tempo(ui: &mut Ui, hand: Hand, view: &JournalPage) {
    hand.label(ui, &format!("{}, {}", text::TEMPO, view.span.0));
    let area = area(ui, hand, 204.0);
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    let unit = hand.unit;
    let rect = Rect::from_min_max(
        pos2(area.left() + LEFT * unit, area.top() + 10.0 * unit),
        pos2(area.right() - RIGHT * unit, area.bottom() - 30.0 * unit),
    );
    let values = view.sections.iter().flat_map(|section| section.reached.iter().chain(&section.held));
    let values = values.map(|(_, bpm)| *bpm).chain(view.rungs.iter().map(|(bpm, _)| *bpm));
    let (low, high) = values.fold((f32::MAX, f32::MIN), |(low, high), bpm| (low.min(bpm), high.max(bpm)));
    let plot = DaysPlot { days: &view.days, rect, range: (low, high) };
    plot.paint_levels(&pen, &view.rungs);
    plot.paint_days(&pen);
    let ends: Vec<f32> = view.sections.iter().map(|section| end_of(&plot, section)).collect();
    let labels = moved_apart(&ends, 17.0 * unit, (rect.top(), rect.bottom()));
    // The chosen one last, so that it lies on top.
    let mut order: Vec<usize> = (0..view.sections.len()).filter(|place| *place != view.chosen).collect();
    order.extend((view.chosen < view.sections.len()).then_some(view.chosen));
    for place in order {
        let section = &view.sections[place];
        if section.reached.is_empty() && section.held.is_empty() {
            continue;
        }
        let is_chosen = place == view.chosen;
        line(&pen, &plot, section, is_chosen);
        let palette = pen.palette();
        let (face, colour) = if is_chosen { (Face::Bold, palette.now) } else { (Face::Medium, palette.quiet) };
        let set = pen.set(face, Step::Label, colour);
        let at = pos2(rect.right() + 12.0 * unit, labels[place]);
        pen.text_level(at, Side::Left, &section.name, set, (RIGHT - 12.0) * unit);
    }
    let words: Vec<_> = view.sections.iter().map(|section| section.words.as_str()).collect();
    say(ui, area, "tempo by section", &words.join("; "));
    hand.sentence(ui, text::TEMPO_MARKS);
}

/// How high a section's line ends.
fn end_of(plot: &DaysPlot<'_>, section: &SectionLine) -> f32 {
    let last = section.reached.last().or(section.held.last());
    last.map_or(plot.rect.bottom(), |(_, bpm)| plot.y(*bpm))
}

fn line(pen: &Pen<'_>, plot: &DaysPlot<'_>, section: &SectionLine, is_chosen: bool) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let colour = if is_chosen { palette.now } else { palette.thin };
    let points: Vec<_> = section.reached.iter().map(|(day, bpm)| plot.at(*day, *bpm)).collect();
    let width = if is_chosen { 2.5 } else { 1.8 } * unit;
    if points.len() > 1 {
        if is_chosen {
            pen.path(points.clone(), width, colour);
        } else {
            pen.dashed(&points, width, colour);
        }
    }
    let radius = if is_chosen { 5.0 } else { 4.0 } * unit;
    for point in points {
        // The line is taken out of the ring, so that it reads as empty.
        pen.dot(point, radius, palette.sheet);
        pen.ring(point, radius, (1.8 * unit).max(1.2), colour);
    }
    for (day, bpm) in &section.held {
        pen.dot(plot.at(*day, *bpm), radius + 0.5 * unit, colour);
    }
}

/// Bar by bar, how often something goes wrong there; a press on a section's name chooses it.
pub(super) fn trouble(ui: &mut Ui, hand: Hand, view: &JournalPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::TROUBLE);
    let unit = hand.unit;
    let most = view.sections.iter().map(|section| section.trouble.len()).max().unwrap_or(0);
    for (place, section) in view.sections.iter().enumerate() {
        // A section nobody heard says nothing, but for the one looked at.
        if section.trouble.iter().all(Option::is_none) && place != view.chosen {
            continue;
        }
        let row = area(ui, hand, 34.0);
        let name = Rect::from_min_max(row.min, pos2(row.left() + 116.0 * unit, row.bottom()));
        let is_chosen = place == view.chosen;
        let info = || WidgetInfo::selected(Role::RadioButton, true, is_chosen, &section.name);
        if hand.cell(ui, name, ("section", &place.to_string()), info).clicked() {
            intents.push(Intent::Journal(JournalWish::Section(place)));
        }
        let pen = Pen::new(ui.painter(), hand.theme, unit);
        let palette = *pen.palette();
        let (face, colour) = if is_chosen { (Face::Bold, palette.now) } else { (Face::SemiBold, palette.ink) };
        let set = pen.set(face, Step::Label, colour);
        let at = pos2(row.left() + 4.0 * unit, row.center().y);
        pen.text_level(at, Side::Left, &section.name, set, 108.0 * unit);
        let bars = Rect::from_min_max(
            pos2(name.right() + 4.0 * unit, row.top() + 3.0 * unit),
            row.max - vec2(0.0, 3.0 * unit),
        );
        #[expect(clippy::cast_precision_loss, reason = "some dozen bars")]
        let width = bars.width() / most.max(1) as f32;
        for (bar, share) in section.trouble.iter().enumerate() {
            #[expect(clippy::cast_precision_loss, reason = "some dozen bars")]
            let left = bars.left() + width * bar as f32;
            let cell = Rect::from_min_max(pos2(left, bars.top()), pos2(left + width - 3.0 * unit, bars.bottom()));
            paint_bar(&pen, cell, *share);
        }
        say(ui, bars, ("trouble", place), &text::trouble(section));
    }
    hand.sentence(ui, text::TROUBLE_MARKS);
}

/// A bar with a mark for each tenth; one that was never heard is an empty frame.
fn paint_bar(pen: &Pen<'_>, cell: Rect, share: Option<f32>) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let Some(share) = share else { return pen.frame(cell, 3.0 * unit, unit.max(1.0), palette.hair) };
    pen.block(cell, 3.0 * unit, palette.shade);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of ten")]
    let marks = ((share / TENTH).round() as u8).min(MOST_MARKS);
    let room = cell.width() - 8.0 * unit;
    let step = (13.0 * unit).min(room / f32::from(marks.max(1)));
    for mark in 0..marks {
        let left = cell.left() + 6.0 * unit + step * f32::from(mark);
        let size = vec2((step * 0.7).min(9.0 * unit), cell.height() * 0.55);
        let corner = pos2(left, cell.center().y - size.y / 2.0);
        pen.block(Rect::from_min_size(corner, size), 1.5 * unit, palette.late);
    }
}

/// The slowest changes, side by side.
pub(super) fn changes(ui: &mut Ui, hand: Hand, view: &JournalPage) {
    hand.label(ui, text::CHANGES);
    if view.changes.is_empty() {
        return hand.sentence(ui, text::NO_CHANGES);
    }
    let row = area(ui, hand, 78.0);
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    #[expect(clippy::cast_precision_loss, reason = "four")]
    let width = row.width() / view.changes.len().max(4) as f32;
    let mut left = row.left();
    for item in &view.changes {
        let cell = Rect::from_min_max(pos2(left, row.top()), pos2(left + width - 8.0 * hand.unit, row.bottom()));
        change(&pen, cell, item);
        say(ui, cell, ("change", &item.name), &format!("{}: {}, {}", item.name, item.takes, item.fits));
        left += width;
    }
}

fn change(pen: &Pen<'_>, cell: Rect, item: &ChangeItem) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let set = pen.set(Face::Bold, Step::Body, palette.ink);
    pen.text_level(cell.min + vec2(0.0, 14.0 * unit), Side::Left, &item.name, set, cell.width());
    let set = pen.set(Face::SemiBold, Step::Title, palette.ink);
    pen.text_level(cell.min + vec2(0.0, 42.0 * unit), Side::Left, &item.takes, set, cell.width());
    let set = pen.set(Face::Regular, Step::Small, palette.quiet);
    pen.text_level(cell.min + vec2(0.0, 66.0 * unit), Side::Left, &item.fits, set, cell.width());
}

/// Minutes a day as uprights.
pub(super) fn minutes(ui: &mut Ui, hand: Hand, view: &JournalPage) {
    hand.label(ui, &format!("{}, {}", text::MINUTES, view.minutes_words));
    let area = area(ui, hand, 92.0);
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    let unit = hand.unit;
    let rect = Rect::from_min_max(
        pos2(area.left() + 30.0 * unit, area.top() + 8.0 * unit),
        pos2(area.right() - 8.0 * unit, area.bottom() - 28.0 * unit),
    );
    let most = view.minutes.iter().map(|(_, minutes)| *minutes).fold(10.0, f32::max);
    let plot = DaysPlot { days: &view.days, rect, range: (0.0, most) };
    let top = (most / 10.0).floor() * 10.0;
    plot.paint_levels(&pen, &[(0.0, "0".to_owned()), (top, format!("{top:.0}"))]);
    plot.paint_days(&pen);
    #[expect(clippy::cast_precision_loss, reason = "some thousand days")]
    let width = (rect.width() / view.days.count.max(1) as f32 * 0.6).clamp(1.0, 9.0 * unit);
    for (day, minutes) in &view.minutes {
        let top = plot.at(*day, *minutes);
        let upright = Rect::from_min_max(pos2(top.x - width / 2.0, top.y), pos2(top.x + width / 2.0, rect.bottom()));
        pen.block(upright, 1.0, pen.palette().wood);
    }
    say(ui, area, "minutes", &text::minutes_said(&view.minutes));
}

/// How close to the beat the chosen section was: the middle as a dot, what lies around it as an upright.
pub(super) fn offsets(ui: &mut Ui, hand: Hand, view: &JournalPage) {
    let Some(section) = view.sections.get(view.chosen).filter(|_| !view.offsets.is_empty()) else { return };
    let title = text::offsets(&section.name);
    hand.label(ui, &title);
    let area = area(ui, hand, 118.0);
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    let unit = hand.unit;
    let palette = *pen.palette();
    let rect = Rect::from_min_max(
        pos2(area.left() + 30.0 * unit, area.top() + 8.0 * unit),
        pos2(area.right() - 8.0 * unit, area.bottom() - 28.0 * unit),
    );
    let reach = view.offsets.iter().map(|day| day.offset_ms.abs() + day.spread_ms).fold(20.0, f32::max);
    let step = if reach > 60.0 { 50.0 } else { 20.0 };
    let plot = DaysPlot { days: &view.days, rect, range: (-reach, reach) };
    let level = |ms: f32| (ms, if ms > 0.0 { format!("+{ms:.0}") } else { format!("{ms:.0}").replace('-', "−") });
    plot.paint_levels(&pen, &[level(-step), level(0.0), level(step)]);
    plot.paint_days(&pen);
    for day in &view.offsets {
        let (low, high) = (day.offset_ms - day.spread_ms, day.offset_ms + day.spread_ms);
        let thick = (3.0 * unit).max(2.0);
        pen.rule(plot.at(day.day, low), plot.at(day.day, high), thick, palette.pale_wood);
    }
    for day in &view.offsets {
        pen.dot(plot.at(day.day, day.offset_ms), 3.5 * unit, palette.now);
    }
    let set = pen.set(Face::Regular, Step::Small, palette.quiet);
    pen.text_level(pos2(rect.right(), rect.top() + 2.0 * unit), Side::Right, crate::text::LATE, set, f32::INFINITY);
    pen.text_level(pos2(rect.right(), rect.bottom() - 2.0 * unit), Side::Right, crate::text::EARLY, set, f32::INFINITY);
    say(ui, area, "offsets", &title);
}
