//! The diagrams, each with its stand-in beside it.

use sixrung_drawing::{Face, Ink, Mark, Point, Side, chord_name, diagram};
use sixrung_lesson::{Lesson, Shape, raised_name};

use super::page::{Node, Role};
use super::sheet::{Boxed, Sheet, Type, text_mark};
use super::used;

/// Width of a diagram's board in usual print, in points: its digits are set in 6.2.
const BOARD: f32 = 68.0;
/// On either side of a board, for dots on the outer strings and a fret's number.
const BESIDE: f32 = 11.0;

pub(super) fn write(sheet: &mut Sheet<'_>, lesson: &Lesson) {
    let shapes = used::shapes(lesson, &sheet.options.arrangement);
    if shapes.is_empty() {
        return;
    }
    sheet.put_heading(sheet.words.chords);
    let unit = sheet.unit();
    let mut boxes = Vec::new();
    // A stand-in that is also played for itself is drawn once, beside the chord it can replace.
    let is_stand_in = |shape: &Shape| {
        shapes.iter().any(|other| other.name != shape.name && other.stand_in.as_ref() == Some(&shape.name))
    };
    // Where nothing is said under any name, the diagrams stand closer to them.
    let has_stand_in = shapes.iter().any(|shape| shape.stand_in.is_some());
    let below = if has_stand_in || capo(sheet, lesson) > 0 { 11.0 } else { 0.0 };
    for shape in shapes.iter().filter(|shape| !is_stand_in(shape)) {
        let own = cell(sheet, lesson, shape, None, below);
        let stand_in = shape.stand_in.as_ref().and_then(|name| lesson.shape(name));
        boxes.push(match stand_in.map(|easier| cell(sheet, lesson, easier, Some(shape), below)) {
            Some(easier) if sheet.options.arrangement.stand_ins => side_by_side(easier, own, 4.0 * unit),
            Some(easier) => side_by_side(own, easier, 4.0 * unit),
            None => own,
        });
    }
    sheet.put_row(boxes, (12.0 * unit, 8.0 * unit), None);
}

fn capo(sheet: &Sheet<'_>, lesson: &Lesson) -> u8 {
    lesson.capo.saturating_add(sheet.options.arrangement.capo_shift)
}

fn cell(sheet: &Sheet<'_>, lesson: &Lesson, shape: &Shape, replaces: Option<&Shape>, below: f32) -> Boxed {
    let unit = sheet.unit();
    let width = (BOARD + 2.0 * BESIDE) * unit;
    let name = chord_name(&shape.name);
    let middle = width / 2.0;
    let capo = capo(sheet, lesson);
    let sounds = (capo > 0).then(|| raised_name(&shape.name, capo)).flatten();
    let under = [
        sounds.map(|name| (sheet.words.sounds)(&chord_name(&name))),
        replaces.map(|harder| (sheet.words.stands_in)(&chord_name(&harder.name))),
    ];
    let under: Vec<String> = under.into_iter().flatten().collect();
    let under = under.join(", ");
    let mut marks = Vec::new();
    let set = sheet.set(Face::Bold, 15.0, Ink::Ink);
    marks.push(centred(Point::new(middle, 14.0 * unit), &name, sheet.fitted(&name, set, width)));
    if !under.is_empty() {
        let set = sheet.fitted(&under, sheet.label(), width - 8.0 * unit);
        marks.push(centred(Point::new(middle, 25.0 * unit), &under, set));
    }
    let board = diagram::board(Point::new(BESIDE * unit, (33.0 + below) * unit), BOARD * unit);
    let drawn = diagram::lay_out(shape, board, sheet.options.hand);
    marks.extend(drawn.marks(board, diagram::thin(board, 0.6), Ink::Ink));
    if let Some(at) = drawn.fret_label(board) {
        let label = sheet.label();
        let text = (sheet.words.fret)(drawn.first_fret);
        marks.push(Mark::level(at, Side::Left, text, (label.face, label.size), label.ink));
    }
    let notes = notes(sheet, shape);
    let mut height = board.max.y + 8.0 * unit;
    for note in &notes {
        let room = width - 6.0 * unit;
        let set = sheet.fitting_words(note, sheet.set(Face::Regular, 8.0, Ink::Quiet), room);
        for line in sheet.lines(note, set, room) {
            height += set.size * 1.2;
            marks.push(text_mark(Point::new(5.0 * unit, height), format!("{line} "), set));
        }
        height += 2.0 * unit;
    }
    height += if notes.is_empty() { 0.0 } else { 3.0 * unit };
    let figure = Node::of(Role::Figure((sheet.words.diagram)(&name, shape)), marks);
    Boxed { role: None, head: vec![figure], nodes: Vec::new(), width, height }
}

/// How strings are kept silent; strings kept so in one way share a note.
fn notes(sheet: &Sheet<'_>, shape: &Shape) -> Vec<String> {
    let mut ways: Vec<(&str, Vec<usize>)> = Vec::new();
    for note in &shape.mute_notes {
        let number = shape.strings.len().saturating_sub(note.string);
        match ways.iter_mut().find(|(with, _)| *with == note.with) {
            Some((_, strings)) => strings.push(number),
            None => ways.push((&note.with, vec![number])),
        }
    }
    ways.iter().map(|(with, strings)| (sheet.words.silent)(strings, with)).collect()
}

fn centred(at: Point, text: &str, set: Type) -> Mark {
    Mark::Text { at, side: Side::Centre, text: format!("{text} "), face: set.face, size: set.size, ink: set.ink }
}

/// Two boxes that are not parted, with a thin frame around both.
fn side_by_side(left: Boxed, right: Boxed, gap: f32) -> Boxed {
    let width = left.width + gap * 1.75 + right.width;
    let height = left.height.max(right.height);
    let rect = sixrung_drawing::Rect::sized(Point::default(), width, height);
    let frame = Mark::Frame { rect, radius: 4.0, width: 0.6, ink: Ink::Thin };
    let by = Point::new(left.width + gap, 0.0);
    let mut head = vec![Node::Decoration(vec![frame])];
    head.extend(left.head);
    head.extend(right.head.into_iter().map(|node| node.moved(by)));
    Boxed { role: None, head, nodes: Vec::new(), width, height }
}
