//! The patterns: arrows, letters, counts and change points.

use sixrung_drawing::strip::{BarStrip, Rows, SlotView, StrokePlace, lead, letter, middle, pattern_strips, stroke};
use sixrung_drawing::{Face, Ink, Mark, Point, Rect, Side};
use sixrung_lesson::{Lesson, Meter, Pattern, Stroke};

use super::page::{Node, Role};
use super::sheet::{Boxed, Sheet, rule, text_mark};
use super::used;

/// Height of a strip in usual print, in points.
const STRIP: f32 = 66.0;
/// Between two patterns in a row, in points of usual print.
const APART: f32 = 14.0;
/// Slots that share the width of a page.
const SLOTS_ABREAST: u16 = 16;
/// The same at most in large print, where no bar needs more.
const LARGE_ABREAST: u16 = 12;

pub(super) fn write(sheet: &mut Sheet<'_>, lesson: &Lesson) {
    let patterns = used::patterns(lesson, &sheet.options.arrangement);
    sheet.put_heading(sheet.words.strokes);
    let unit = sheet.unit();
    let slot = slot_width(sheet, &patterns);
    let boxes = patterns.iter().map(|(pattern, meter)| cell(sheet, pattern, *meter, slot)).collect();
    sheet.put_row(boxes, (APART * unit, 8.0 * unit), None);
    // The last row and what the signs mean stay on one page.
    let last = sheet.len().saturating_sub(1);
    let strokes: Vec<Stroke> = patterns.iter().flat_map(|(pattern, _)| pattern.strokes.iter().copied()).collect();
    let legend = (sheet.words.legend)(&strokes).join(" · ");
    sheet.put_paragraph(&legend, sheet.label(), 6.0 * unit);
    sheet.keep_together(last);
}

/// Slots are equally wide in all patterns, and leave room for three in a row. In large print whole bars fill the width of a page.
fn slot_width(sheet: &Sheet<'_>, patterns: &[(&Pattern, Meter)]) -> f32 {
    let strips = patterns.iter().flat_map(|(pattern, meter)| pattern_strips(pattern, *meter, ""));
    let longest = strips.map(|(strip, _)| strip.slots.len()).max().unwrap_or_default();
    let abreast = match u16::try_from(longest) {
        Ok(longest @ 1..=LARGE_ABREAST) if sheet.is_large() => LARGE_ABREAST - LARGE_ABREAST % longest,
        _ => SLOTS_ABREAST,
    };
    (sheet.width() - 2.0 * APART * sheet.unit()) / f32::from(abreast)
}

fn cell(sheet: &Sheet<'_>, pattern: &Pattern, meter: Meter, slot: f32) -> Boxed {
    let unit = sheet.unit();
    let strips: Vec<BarStrip> =
        pattern_strips(pattern, meter, sheet.words.next_chord).into_iter().map(|(strip, _)| strip).collect();
    let grid = (sheet.words.grid)(pattern.grid);
    let name = sheet.fitted(&pattern.name, sheet.set(Face::SemiBold, 11.0, Ink::Ink), sheet.width() * 0.6);
    let named = sheet.measure(&pattern.name, name) + 8.0 * unit;
    let label = sheet.fitted(&grid, sheet.label(), sheet.width() - named);
    let titled = named + sheet.measure(&grid, label);
    let title = vec![
        text_mark(Point::new(0.0, 11.0 * unit), format!("{} ", pattern.name), name),
        text_mark(Point::new(named, 11.0 * unit), format!("{grid} "), label),
    ];
    let mut marks = Vec::new();
    let mut shading = Vec::new();
    let (mut top, mut width) = (17.0 * unit, titled + 4.0 * unit);
    for (index, row) in rows(&strips, slot, sheet.width()).into_iter().enumerate() {
        top += if index > 0 { (STRIP + 6.0) * unit } else { 0.0 };
        top += if row.iter().any(|(strip, _)| has_change(strip)) { 13.0 * unit } else { 0.0 };
        let mut x = 0.0;
        for (strip, wide) in row {
            let rect = Rect::sized(Point::new(x, top), wide, STRIP * unit);
            shading.extend(shades(strip, rect, unit));
            if x > 0.0 {
                shading.push(rule(Point::new(x, rect.min.y), Point::new(x, rect.max.y), 1.0, Ink::Ink));
            }
            marks.extend(bar(sheet, strip, rect));
            x += wide;
        }
        width = width.max(x);
    }
    let role = Role::Figure((sheet.words.pattern)(&format!("{}, {grid}", pattern.name), &strips));
    let nodes = vec![Node::Decoration(shading), Node::Marks(marks)];
    Boxed { role: Some(role), head: vec![Node::Marks(title)], nodes, width, height: top + STRIP * unit }
}

/// Bars side by side, each with its width, in as many rows as they need.
fn rows(strips: &[BarStrip], slot: f32, width: f32) -> Vec<Vec<(&BarStrip, f32)>> {
    let mut rows: Vec<Vec<(&BarStrip, f32)>> = Vec::new();
    let mut x = 0.0;
    for strip in strips {
        let slots = f32::from(u16::try_from(strip.slots.len()).unwrap_or(u16::MAX));
        let wide = (slot * slots).min(width);
        match rows.last_mut() {
            Some(row) if x + wide <= width => row.push((strip, wide)),
            _ => {
                rows.push(vec![(strip, wide)]);
                x = 0.0;
            }
        }
        x += wide;
    }
    rows
}

fn has_change(strip: &BarStrip) -> bool {
    strip.slots.iter().any(|slot| slot.change.is_some())
}

fn shades(strip: &BarStrip, rect: Rect, unit: f32) -> Vec<Mark> {
    let shade = |beat: &std::ops::Range<f32>| {
        let corner = Point::new(rect.min.x + rect.width() * beat.start, rect.min.y);
        let width = rect.width() * (beat.end - beat.start) - 1.5 * unit;
        Mark::Block { rect: Rect::sized(corner, width, rect.height()), radius: 0.0, ink: Ink::Shade }
    };
    strip.beats.iter().step_by(2).map(shade).collect()
}

fn bar(sheet: &Sheet<'_>, strip: &BarStrip, rect: Rect) -> Vec<Mark> {
    let room = rect.width() * lead(strip) * 2.0;
    let rows = Rows::of(rect);
    let mut marks = Vec::new();
    for slot in &strip.slots {
        let x = rect.min.x + rect.width() * middle(slot, strip);
        let place = StrokePlace { x, rows, room, unit: rect.height() / 164.0, least: 0.75 };
        marks.extend(stroke(slot, place, Ink::Ink));
        marks.push(count(sheet, slot, Point::new(x, rows.count), room));
        marks.extend(letter(slot, place, 9.0 * sheet.unit()).map(parted));
        if let Some(chord) = &slot.change {
            marks.extend(change(sheet, chord, Point::new(x - room / 2.0, rect.min.y), rect.max.y, room));
        }
    }
    marks
}

/// With a space after it, by which it is read apart from what follows.
fn parted(mut mark: Mark) -> Mark {
    if let Mark::Text { text, .. } = &mut mark {
        text.push(' ');
    }
    mark
}

fn count(sheet: &Sheet<'_>, slot: &SlotView, at: Point, room: f32) -> Mark {
    let set = match slot.on_beat {
        true => sheet.set(Face::Bold, 13.0, Ink::Ink),
        false => sheet.set(Face::Medium, 10.5, Ink::Quiet),
    };
    let set = sheet.fitted(&slot.count, set, room * 0.8);
    Mark::level(at, Side::Centre, format!("{} ", slot.count), (set.face, set.size), set.ink)
}

/// A dashed upright with the new chord over it.
fn change(sheet: &Sheet<'_>, chord: &str, top: Point, bottom: f32, room: f32) -> Vec<Mark> {
    let unit = sheet.unit();
    let set = sheet.fitted(chord, sheet.set(Face::SemiBold, 9.0, Ink::Ink), room * 2.0);
    let mut marks = vec![Mark::Text {
        at: Point::new(top.x, top.y - 3.0 * unit),
        side: Side::Centre,
        text: format!("{chord} "),
        face: set.face,
        size: set.size,
        ink: set.ink,
    }];
    let mut y = top.y;
    while y < bottom {
        let end = (y + 3.0 * unit).min(bottom);
        marks.push(rule(Point::new(top.x, y), Point::new(top.x, end), 1.0, Ink::Now));
        y += 5.5 * unit;
    }
    marks
}
