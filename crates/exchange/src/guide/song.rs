//! How the song goes: the form, and for each section its map and its words.

use sixrung_drawing::{Face, Ink, Mark, Point, Rect};
use sixrung_lesson::{Entry, LayoutError, Lesson, Occasion, Section, Stretch, layout, section_bars};

use super::page::{Node, Role};
use super::sheet::{Boxed, Sheet, Type, rule, text_mark};
use super::sung;
use super::used::{Played, entries, played_name, sections};

/// Between two boxes of a map, in points of usual print.
const APART: f32 = 4.0;

pub(super) fn write(sheet: &mut Sheet<'_>, lesson: &Lesson) -> Result<(), LayoutError> {
    sheet.put_heading(sheet.words.song);
    if lesson.form.len() > 1 {
        let (marks, height) = sheet.paragraph(&lesson.form.join(" – "), sheet.sentence(), sheet.width());
        sheet.lead(vec![Node::of(Role::Paragraph, marks)], height, 0.0);
    }
    for (index, section) in sections(lesson).into_iter().enumerate() {
        let from = sheet.len();
        title(sheet, lesson, section, if index == 0 && lesson.form.len() < 2 { 3.0 } else { 10.0 })?;
        map(sheet, lesson, section);
        let score = layout(lesson, &Stretch::Section(section.name.clone()), &sheet.options.arrangement)?;
        sung::write(sheet, &score);
        sheet.keep_together(from);
    }
    Ok(())
}

fn title(sheet: &mut Sheet<'_>, lesson: &Lesson, section: &Section, gap: f32) -> Result<(), LayoutError> {
    let unit = sheet.unit();
    let bars = section_bars(lesson, &section.name, &sheet.options.arrangement)?;
    let set = sheet.fitted(&section.name, sheet.set(Face::SemiBold, 12.0, Ink::Ink), sheet.width() * 0.8);
    let name = text_mark(Point::new(0.0, 12.0 * unit), format!("{} ", section.name), set);
    let x = sheet.measure(&section.name, set) + 8.0 * unit;
    let length = text_mark(Point::new(x, 12.0 * unit), (sheet.words.bars)(bars), sheet.label());
    let heading = Node::of(Role::Heading(3, section.name.clone()), vec![name, length]);
    sheet.lead(vec![heading], 18.0 * unit, gap * unit);
    Ok(())
}

fn map(sheet: &mut Sheet<'_>, lesson: &Lesson, section: &Section) {
    let unit = sheet.unit();
    let arrangement = sheet.options.arrangement.clone();
    let played = entries(section, &arrangement);
    let lines: Vec<_> = played.iter().map(|played| entry(sheet, lesson, played)).collect();
    let spans = spans(sheet, &played);
    // All boxes of a section are as high as the highest.
    let most = lines.iter().map(Vec::len).max().unwrap_or_default();
    let boxes = lines.iter().zip(&spans).map(|(lines, span)| framed(sheet, lines, span.as_ref(), most)).collect();
    sheet.put_row(boxes, (APART * unit, 4.0 * unit), Some(Role::Paragraph));
}

/// Over a box that is played in one ending only, or that an option decides on.
struct Span {
    /// What it is, over its first box.
    label: Option<String>,
    /// Whether the next box belongs to it too.
    goes_on: bool,
}

fn spans(sheet: &Sheet<'_>, played: &[Played<'_>]) -> Vec<Option<Span>> {
    let same = |one: &Played<'_>, other: &Played<'_>| one.ending == other.ending && one.options == other.options;
    let span = |(index, now): (usize, &Played<'_>)| {
        let before = index.checked_sub(1).and_then(|index| played.get(index));
        let mut words = Vec::new();
        if now.ending > 0 && before.is_none_or(|before| before.ending != now.ending) {
            words.push((sheet.words.ending)(now.ending));
        }
        if before.is_none_or(|before| !same(before, now)) {
            let known = before.map_or(&[][..], |before| &before.options);
            let new = now.options.iter().filter(|option| !known.contains(option));
            words.extend(new.map(|(name, is_taken)| (sheet.words.option)(name, *is_taken)));
        }
        let goes_on = played.get(index + 1).is_some_and(|next| same(now, next));
        let label = (!words.is_empty()).then(|| words.join(", "));
        (now.ending > 0 || !now.options.is_empty()).then_some(Span { label, goes_on })
    };
    played.iter().enumerate().map(span).collect()
}

/// The chord or chords, what is played on them and how often, and what differs on which time.
fn entry(sheet: &Sheet<'_>, lesson: &Lesson, played: &Played<'_>) -> Vec<(String, Type)> {
    let arrangement = &sheet.options.arrangement;
    let chords: Vec<String> = played.play.chords.iter().map(|chord| played_name(lesson, chord, arrangement)).collect();
    let mut lines = vec![(chords.join(" → "), sheet.set(Face::Bold, 12.0, Ink::Ink))];
    if let Entry::Played { times, exceptions, meter, .. } = played.entry {
        let mut usual = (sheet.words.times)(&played.play.pattern, *times);
        if let Some(meter) = meter.filter(|meter| *meter != lesson.meter) {
            usual = format!("{usual}, {}", (sheet.words.meter)(meter));
        }
        lines.push((usual, sheet.sentence()));
        for exception in exceptions {
            let chords: Vec<String> =
                exception.play.chords.iter().map(|chord| played_name(lesson, chord, arrangement)).collect();
            let same = exception.play.chords == played.play.chords;
            let what = match same {
                true => exception.play.pattern.clone(),
                false => format!("{} {}", chords.join(" → "), exception.play.pattern),
            };
            lines.push((
                match exception.on {
                    Occasion::Nth(time) => (sheet.words.nth_time)(time, &what),
                    Occasion::Last => (sheet.words.last_time)(&what),
                },
                sheet.label(),
            ));
        }
    }
    lines
}

/// Lines in a frame, with room for `most` of them; what it belongs to stands above it.
fn framed(sheet: &Sheet<'_>, lines: &[(String, Type)], span: Option<&Span>, most: usize) -> Boxed {
    let unit = sheet.unit();
    let top = if span.is_some() { 16.0 * unit } else { 0.0 };
    let most_wide = sheet.width() - 12.0 * unit;
    let lines: Vec<(&String, Type)> =
        lines.iter().map(|(text, set)| (text, sheet.fitted(text, *set, most_wide))).collect();
    let inner = lines.iter().map(|(text, set)| sheet.measure(text, *set)).fold(0.0, f32::max);
    let above = span.and_then(|span| span.label.as_ref());
    let label = above.map_or(sheet.label(), |text| sheet.fitted(text, sheet.label(), most_wide));
    // What is said of several boxes reaches over the next one.
    let share = if span.is_some_and(|span| span.goes_on) { 0.5 } else { 1.0 };
    let headed = above.map_or(0.0, |text| sheet.measure(text, label) * share);
    let width = (inner + 12.0 * unit).max(headed + 4.0 * unit).max(44.0 * unit);
    let named: Vec<Mark> =
        above.map(|text| text_mark(Point::new(0.0, 9.0 * unit), format!("{text} "), label)).into_iter().collect();
    let mut marks = Vec::new();
    let mut y = top + 3.0 * unit;
    for (text, set) in &lines {
        y += set.size * 1.25;
        marks.push(text_mark(Point::new(6.0 * unit, y), format!("{text} "), *set));
    }
    let missing = f32::from(u16::try_from(most - lines.len()).unwrap_or_default());
    let height = y + 6.0 * unit + missing * sheet.label().size * 1.25;
    let rect = Rect::sized(Point::new(0.0, top), width, height - top);
    let frame = Mark::Frame { rect, radius: 3.0 * unit, width: 0.6, ink: Ink::Thin };
    let over = span.map(|span| {
        let end = width + if span.goes_on { APART * unit } else { 0.0 };
        let y = top - 3.5 * unit;
        rule(Point::new(0.0, y), Point::new(end, y), 0.9, Ink::Thin)
    });
    let head = vec![Node::Decoration(over.into_iter().collect()), Node::Marks(named)];
    let nodes = vec![Node::Decoration(vec![frame]), Node::Marks(marks)];
    Boxed { role: None, head, nodes, width, height }
}
