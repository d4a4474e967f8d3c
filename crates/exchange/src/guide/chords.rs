//! The diagrams, each with its stand-in beside it.

use sixrung_drawing::{Face, Ink, Mark, Point, Side, chord_name, diagram};
use sixrung_lesson::{Lesson, Shape, raised_name};

use super::page::{Node, Role};
use super::sheet::{Boxed, Sheet};
use super::used;

/// Width of a diagram's board in usual print, in points: its digits are set in 6.2.
const BOARD: f32 = 68.0;

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
    for shape in shapes.iter().filter(|shape| !is_stand_in(shape)) {
        let own = cell(sheet, lesson, shape, None);
        let stand_in = shape.stand_in.as_ref().and_then(|name| lesson.shape(name));
        boxes.push(match stand_in.map(|easier| cell(sheet, lesson, easier, Some(shape))) {
            Some(easier) if sheet.options.arrangement.stand_ins => side_by_side(easier, own, 4.0 * unit),
            Some(easier) => side_by_side(own, easier, 4.0 * unit),
            None => own,
        });
    }
    sheet.put_row(boxes, (12.0 * unit, 8.0 * unit), None);
}

fn cell(sheet: &Sheet<'_>, lesson: &Lesson, shape: &Shape, replaces: Option<&Shape>) -> Boxed {
    let unit = sheet.unit();
    let width = (BOARD + 22.0) * unit;
    let name = chord_name(&shape.name);
    let middle = Point::new(11.0 * unit + BOARD * unit / 2.0, 0.0);
    let capo = lesson.capo.saturating_add(sheet.options.arrangement.capo_shift);
    let sounds = (capo > 0).then(|| raised_name(&shape.name, capo)).flatten();
    let under = [
        sounds.map(|name| (sheet.words.sounds)(&chord_name(&name))),
        replaces.map(|harder| (sheet.words.stands_in)(&chord_name(&harder.name))),
    ];
    let under: Vec<String> = under.into_iter().flatten().collect();
    let under = under.join(", ");
    let mut marks = Vec::new();
    let set = sheet.set(Face::Bold, 15.0, Ink::Ink);
    marks.push(centred(Point::new(middle.x, 14.0 * unit), &name, sheet.fitted(&name, set, width)));
    if !under.is_empty() {
        let set = sheet.fitted(&under, sheet.label(), width - 8.0 * unit);
        marks.push(centred(Point::new(middle.x, 25.0 * unit), &under, set));
    }
    let board = diagram::board(Point::new(11.0 * unit, 44.0 * unit), BOARD * unit);
    let drawn = diagram::lay_out(shape, board, sheet.options.hand);
    marks.extend(drawn.marks(board, diagram::thin(board, 0.6), Ink::Ink));
    if let Some(at) = drawn.fret_label(board) {
        let label = sheet.label();
        let text = (sheet.words.fret)(drawn.first_fret);
        marks.push(Mark::level(at, Side::Left, text, (label.face, label.size), label.ink));
    }
    let figure = Node::of(Role::Figure((sheet.words.diagram)(&name, shape)), marks);
    Boxed { nodes: vec![figure], width, height: board.max.y + 8.0 * unit }
}

fn centred(at: Point, text: &str, set: super::sheet::Type) -> Mark {
    Mark::Text { at, side: Side::Centre, text: format!("{text} "), face: set.face, size: set.size, ink: set.ink }
}

/// Two boxes that are not parted, with a thin frame around both.
fn side_by_side(left: Boxed, right: Boxed, gap: f32) -> Boxed {
    let width = left.width + gap + right.width;
    let height = left.height.max(right.height);
    let rect = sixrung_drawing::Rect::sized(Point::default(), width, height);
    let frame = Mark::Frame { rect, radius: 4.0, width: 0.6, ink: Ink::Thin };
    let by = Point::new(left.width + gap, 0.0);
    let mut nodes = vec![Node::Decoration(vec![frame])];
    nodes.extend(left.nodes);
    nodes.extend(right.nodes.into_iter().map(|node| node.moved(by)));
    Boxed { nodes, width, height }
}
