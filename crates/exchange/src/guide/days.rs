//! A grid to write the minutes of each day into.

use sixrung_drawing::{Face, Ink, Mark, Point, Rect, Side};

use super::page::{Node, Role};
use super::sheet::{Sheet, level, text_mark};

/// Weeks in the grid.
const WEEKS: usize = 4;
/// In fewer points of usual print, two digits of handwriting have no room in a box.
pub(super) const LEAST_WIDTH: f32 = 300.0;

/// Under everything, under a heading with its rule.
pub(super) fn below(sheet: &mut Sheet<'_>) {
    let unit = sheet.unit();
    sheet.put_heading(sheet.words.days);
    let (marks, height) = sheet.paragraph(sheet.words.days_hint, sheet.sentence(), sheet.width());
    sheet.lead(vec![Node::of(Role::Paragraph, marks)], height, 0.0);
    let (figure, height) = grid(sheet, sheet.width(), 26.0);
    sheet.put(vec![figure], height, 6.0 * unit);
}

/// The same beside something, in so much of the width; and its height.
pub(super) fn beside(sheet: &Sheet<'_>, width: f32) -> (Vec<Node>, f32) {
    let unit = sheet.unit();
    let title = text_mark(Point::new(0.0, 12.0 * unit), sheet.words.days, sheet.set(Face::Bold, 13.0, Ink::Ink));
    let heading = Node::of(Role::Heading(2, sheet.words.days.to_owned()), vec![title]);
    let (marks, hint) = sheet.paragraph(sheet.words.days_hint, sheet.sentence(), width);
    let top = Point::new(0.0, 18.0 * unit);
    let (figure, height) = grid(sheet, width, 20.0);
    let under = Point::new(0.0, top.y + hint + 6.0 * unit);
    let nodes = vec![heading, Node::of(Role::Paragraph, marks).moved(top), figure.moved(under)];
    (nodes, under.y + height)
}

/// One figure: empty boxes in a table would be read out one by one.
fn grid(sheet: &Sheet<'_>, width: f32, pitch: f32) -> (Node, f32) {
    let unit = sheet.unit();
    let head = 50.0 * unit;
    let apart = 3.0 * unit;
    let (column, pitch) = ((width - head + apart) / 7.0, pitch * unit);
    let set = sheet.label();
    let x = |day: u8| head + column * f32::from(day);
    let name = |(day, name): (u8, &str)| text_mark(Point::new(x(day), 11.0 * unit), format!("{name} "), set);
    let mut marks: Vec<Mark> = (0..).zip(sheet.words.weekdays).map(name).collect();
    let mut y = 16.0 * unit;
    for week in 1..=WEEKS {
        let at = Point::new(0.0, y + (pitch - apart) / 2.0);
        marks.push(level(at, Side::Left, (sheet.words.week)(week) + " ", set));
        marks.extend((0..7).map(|day| {
            let rect = Rect::sized(Point::new(x(day), y), column - apart, pitch - apart);
            Mark::Frame { rect, radius: 0.0, width: 0.75, ink: Ink::Thin }
        }));
        y += pitch;
    }
    (Node::of(Role::Figure(sheet.words.days_grid.to_owned()), marks), y)
}
