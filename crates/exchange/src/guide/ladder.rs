//! The ladder with boxes to tick: a table for each handful of sections.

use sixrung_drawing::{Face, Ink, Mark, Point, Rect, Side};
use sixrung_lesson::Lesson;
use sixrung_practice::Ladder;

use super::days;
use super::page::{Node, Role};
use super::sheet::{Sheet, Type, level, rule, text_mark};
use super::used::sections;

/// More boxes than this in a cell can't be told apart at a glance.
const MOST_BOXES: u8 = 5;
/// Between the ladder and the days beside it, in points of usual print.
const APART: f32 = 36.0;

/// The ladder and the days, on one page as far as a page can hold them.
pub(super) fn write(sheet: &mut Sheet<'_>, lesson: &Lesson) {
    let unit = sheet.unit();
    sheet.put_heading(sheet.words.ladder);
    let rule_words = (sheet.words.rule)(lesson.ladder.up_after, lesson.ladder.down_after);
    let (marks, height) = sheet.paragraph(&rule_words, sheet.sentence(), sheet.width());
    sheet.lead(vec![Node::of(Role::Paragraph, marks)], height, 0.0);
    let mut columns: Vec<String> = sections(lesson).iter().map(|section| section.name.clone()).collect();
    if columns.len() > 1 {
        columns.push(sheet.words.whole.to_owned());
    }
    let ladder = Ladder::new(&lesson.ladder, lesson.tempo);
    let table = Table::new(sheet, &columns, ladder.rungs().len(), lesson.ladder.up_after);
    let left = sheet.width() - table.width(columns.len()) - APART * unit;
    if columns.len() <= table.abreast && left >= days::LEAST_WIDTH * unit {
        // One or two sections leave room for the days beside them.
        let (rungs, height) = table.draw(sheet, &columns, &ladder);
        let (days, days_height) = days::beside(sheet, left);
        let by = Point::new(sheet.width() - left, 0.0);
        let nodes = [rungs].into_iter().chain(days.into_iter().map(|node| node.moved(by))).collect();
        sheet.put(nodes, height.max(days_height), 6.0 * unit);
        return;
    }
    for part in columns.chunks(table.abreast) {
        let nodes = table.draw(sheet, part, &ladder);
        sheet.put(vec![nodes.0], nodes.1, 6.0 * unit);
    }
    days::below(sheet);
}

/// Sizes of the ladder's table.
struct Table {
    head: f32,
    column: f32,
    abreast: usize,
    boxes: u8,
    edge: f32,
    pitch: f32,
}

impl Table {
    fn new(sheet: &Sheet<'_>, columns: &[String], rungs: usize, up_after: u8) -> Self {
        let unit = sheet.unit();
        let boxes = up_after.clamp(1, MOST_BOXES);
        // The most rungs a ladder has still stand on one page, under their heading.
        let room = (sheet.height() - 122.0 * unit) / f32::from(u16::try_from(rungs).unwrap_or(u16::MAX));
        let pitch = (19.0 * unit).min(room);
        let edge = (11.0 * unit).min(pitch - 3.0);
        let boxed = f32::from(boxes) * (edge + 3.5 * unit) + 6.0 * unit;
        let set = sheet.set(Face::SemiBold, 10.0, Ink::Ink);
        let widest = columns.iter().map(|name| sheet.measure(name, set)).fold(boxed, f32::max);
        let head = 70.0 * unit;
        let most = sheet.width() - head;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a handful of columns")]
        let abreast = ((most / boxed) as usize).clamp(1, columns.len().max(1));
        // Where one table is too narrow, all are about as wide.
        let abreast = columns.len().div_ceil(columns.len().div_ceil(abreast).max(1)).max(1);
        // Long names take two lines where that saves a second table.
        let shared = most / f32::from(u16::try_from(abreast).unwrap_or(u16::MAX));
        let column = (widest + 8.0 * unit).min(shared);
        Self { head, column, abreast, boxes, edge, pitch }
    }

    fn width(&self, columns: usize) -> f32 {
        self.head + self.column * f32::from(u16::try_from(columns).unwrap_or(u16::MAX))
    }

    /// The fastest rung at the top, as a ladder stands.
    fn draw(&self, sheet: &Sheet<'_>, columns: &[String], ladder: &Ladder) -> (Node, f32) {
        let unit = sheet.unit();
        let right = self.width(columns.len());
        let (heads, mut y) = self.heads(sheet, columns);
        let mut rows = vec![Node::Group(Role::Row, heads)];
        let mut rules = Vec::new();
        for rung in ladder.rungs().iter().rev() {
            rules.push(rule(Point::new(0.0, y), Point::new(right, y), 0.5, Ink::Thin));
            let middle = y + self.pitch / 2.0;
            let tempo = sheet.set(Face::Bold, 12.0, Ink::Ink);
            let label = sheet.label();
            let percent = (sheet.words.percent)(ladder.percent(*rung));
            let marks = vec![
                level(Point::new(0.0, middle), Side::Left, format!("{} ", bpm(rung.bpm())), tempo),
                level(Point::new(self.head - 10.0 * unit, middle), Side::Right, percent, label),
            ];
            let mut cells = vec![Node::of(Role::RowHead, marks)];
            for index in 0..columns.len() {
                let left = Point::new(self.width(index) + 4.0 * unit, middle);
                cells.push(Node::of(Role::Cell, self.ticks(left, unit)));
            }
            rows.push(Node::Group(Role::Row, cells));
            y += self.pitch;
        }
        rules.push(rule(Point::new(0.0, y), Point::new(right, y), 0.5, Ink::Thin));
        rows.push(Node::Decoration(rules));
        (Node::Group(Role::Table, rows), y + 1.0)
    }

    /// The columns' heads, all standing on one line, and where the rows begin.
    fn heads(&self, sheet: &Sheet<'_>, columns: &[String]) -> (Vec<Node>, f32) {
        let unit = sheet.unit();
        let set = sheet.set(Face::SemiBold, 10.0, Ink::Ink);
        let room = self.column - 6.0 * unit;
        let broken = |name: &String| {
            let set = sheet.fitting_words(name, set, room);
            // Two lines at most: what does not fit into them is set smaller, in one.
            match sheet.lines(name, set, room) {
                lines if lines.len() <= 2 => (lines, set),
                _ => (vec![name.clone()], sheet.fitted(name, set, room)),
            }
        };
        let broken: Vec<(Vec<String>, Type)> = columns.iter().map(broken).collect();
        let most = broken.iter().map(|(lines, _)| lines.len()).max().unwrap_or(1);
        let pitch = set.size * 1.15;
        let foot = 12.0 * unit + pitch * f32::from(u8::try_from(most.saturating_sub(1)).unwrap_or_default());
        let mut heads = vec![Node::of(
            Role::ColumnHead,
            vec![text_mark(Point::new(0.0, foot), format!("{} ", sheet.words.tempo), set)],
        )];
        heads.extend(broken.into_iter().enumerate().map(|(index, (lines, set))| {
            let x = self.width(index) + 4.0 * unit;
            let marks = (0_u8..)
                .zip(lines.iter().rev())
                .map(|(up, line)| text_mark(Point::new(x, foot - pitch * f32::from(up)), format!("{line} "), set));
            let mut marks: Vec<Mark> = marks.collect();
            marks.reverse();
            Node::of(Role::ColumnHead, marks)
        }));
        (heads, foot + 6.0 * unit)
    }

    fn ticks(&self, left: Point, unit: f32) -> Vec<Mark> {
        let tick = |index: u8| {
            let corner = Point::new(left.x + f32::from(index) * (self.edge + 3.5 * unit), left.y - self.edge / 2.0);
            let rect = Rect::sized(corner, self.edge, self.edge);
            Mark::Frame { rect, radius: 0.0, width: 0.9, ink: Ink::Ink }
        };
        (0..self.boxes).map(tick).collect()
    }
}

/// A tempo as it is said: whole, or with what is behind the point.
fn bpm(bpm: f64) -> String {
    let text = format!("{bpm:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
