//! How the song goes: the form, and for each section its map and its words.

use sixrung_drawing::{Face, Ink, Mark, Point, Rect};
use sixrung_lesson::{Entry, LayoutError, Lesson, Occasion, Section, Stretch, layout, section_bars};

use super::page::{Node, Role};
use super::sheet::{Boxed, Sheet, Type, text_mark};
use super::sung;
use super::used::{Played, entries, played_name, sections};

pub(super) fn write(sheet: &mut Sheet<'_>, lesson: &Lesson) -> Result<(), LayoutError> {
    sheet.put_heading(sheet.words.song);
    if lesson.form.len() > 1 {
        let (marks, height) = sheet.paragraph(&lesson.form.join(" – "), sheet.sentence(), sheet.width());
        sheet.lead(vec![Node::of(Role::Paragraph, marks)], height, 0.0);
    }
    for section in sections(lesson) {
        let from = sheet.len();
        title(sheet, lesson, section)?;
        map(sheet, lesson, section);
        let score = layout(lesson, &Stretch::Section(section.name.clone()), &sheet.options.arrangement)?;
        sung::write(sheet, &score);
        sheet.keep_together(from);
    }
    Ok(())
}

fn title(sheet: &mut Sheet<'_>, lesson: &Lesson, section: &Section) -> Result<(), LayoutError> {
    let unit = sheet.unit();
    let bars = section_bars(lesson, &section.name, &sheet.options.arrangement)?;
    let set = sheet.fitted(&section.name, sheet.set(Face::SemiBold, 12.0, Ink::Ink), sheet.width() * 0.8);
    let name = text_mark(Point::new(0.0, 12.0 * unit), format!("{} ", section.name), set);
    let x = sheet.measure(&section.name, set) + 8.0 * unit;
    let length = text_mark(Point::new(x, 12.0 * unit), (sheet.words.bars)(bars), sheet.label());
    let heading = Node::of(Role::Heading(3, section.name.clone()), vec![name, length]);
    sheet.lead(vec![heading], 18.0 * unit, 10.0 * unit);
    Ok(())
}

fn map(sheet: &mut Sheet<'_>, lesson: &Lesson, section: &Section) {
    let unit = sheet.unit();
    let arrangement = sheet.options.arrangement.clone();
    let mut ending = 0;
    let mut entries_shown = Vec::new();
    for played in entries(section, &arrangement) {
        let opens = played.ending != ending;
        ending = played.ending;
        let above = opens.then(|| (sheet.words.ending)(ending));
        entries_shown.push((entry(sheet, lesson, &played), above));
    }
    // All boxes of a section are as high as the highest.
    let most = entries_shown.iter().map(|(lines, _)| lines.len()).max().unwrap_or_default();
    let top = if ending > 0 { 13.0 } else { 0.0 } * unit;
    let boxes = entries_shown.iter().map(|(lines, above)| framed(sheet, lines, above.as_ref(), (top, most))).collect();
    sheet.put_row(boxes, (4.0 * unit, 4.0 * unit), Some(Role::Paragraph));
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

/// Lines in a frame, with room for `most` of them; its top is `top` points below what stands above it.
fn framed(sheet: &Sheet<'_>, lines: &[(String, Type)], above: Option<&String>, (top, most): (f32, usize)) -> Boxed {
    let unit = sheet.unit();
    let most_wide = sheet.width() - 12.0 * unit;
    let lines: Vec<(&String, Type)> =
        lines.iter().map(|(text, set)| (text, sheet.fitted(text, *set, most_wide))).collect();
    let inner = lines.iter().map(|(text, set)| sheet.measure(text, *set)).fold(0.0, f32::max);
    let label = sheet.label();
    let headed = above.map_or(0.0, |text| sheet.measure(text, label));
    let width = (inner + 12.0 * unit).max(headed + 4.0 * unit).max(44.0 * unit);
    let mut marks: Vec<Mark> =
        above.map(|text| text_mark(Point::new(0.0, 9.0 * unit), format!("{text} "), label)).into_iter().collect();
    let mut y = top + 3.0 * unit;
    for (text, set) in &lines {
        y += set.size * 1.25;
        marks.push(text_mark(Point::new(6.0 * unit, y), format!("{text} "), *set));
    }
    let missing = f32::from(u16::try_from(most - lines.len()).unwrap_or_default());
    let height = y + 6.0 * unit + missing * label.size * 1.25;
    let rect = Rect::sized(Point::new(0.0, top), width, height - top);
    let frame = Mark::Frame { rect, radius: 3.0 * unit, width: 0.6, ink: Ink::Thin };
    let nodes = vec![Node::Decoration(vec![frame]), Node::Marks(marks)];
    Boxed { nodes, width, height }
}
