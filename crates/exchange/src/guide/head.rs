//! Title and facts at the top, the caution at the end.

use sixrung_drawing::{Face, Ink, Point};
use sixrung_lesson::Lesson;

use super::page::{Node, Role};
use super::sheet::{Sheet, text_mark};
use super::words::Facts;

pub(super) fn write(sheet: &mut Sheet<'_>, lesson: &Lesson) {
    let unit = sheet.unit();
    let set = sheet.fitting_words(&lesson.title, sheet.set(Face::Book, 28.0, Ink::Ink), sheet.width());
    let mut y = 0.0;
    let mut marks = Vec::new();
    for line in sheet.lines(&lesson.title, set, sheet.width()) {
        y += set.size * if marks.is_empty() { 0.85 } else { 1.1 };
        marks.push(text_mark(Point::new(0.0, y), line, set));
    }
    sheet.lead(vec![Node::of(Role::Heading(1, lesson.title.clone()), marks)], y + 6.0 * unit, 0.0);
    if !lesson.credit.is_empty() {
        sheet.put_paragraph(&lesson.credit, sheet.label(), 2.0 * unit);
    }
    let facts = (sheet.words.facts)(&Facts { lesson, arrangement: &sheet.options.arrangement });
    sheet.put_paragraph(&facts.join(" · "), sheet.sentence(), 4.0 * unit);
}

pub(super) fn caution(sheet: &mut Sheet<'_>) {
    let gap = 8.0 * sheet.unit();
    sheet.put_paragraph(sheet.words.caution, sheet.sentence(), gap);
}
