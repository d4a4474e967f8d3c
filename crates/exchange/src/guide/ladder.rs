//! The ladder with boxes to tick, and a grid for the days.

use sixrung_drawing::{Face, Ink, Mark, Point, Rect, Side};
use sixrung_lesson::Lesson;
use sixrung_practice::Ladder;

use super::page::{Node, Role};
use super::sheet::{Sheet, Type, rule, text_mark};
use super::used::sections;

/// Weeks in the day grid.
const WEEKS: usize = 4;
/// More boxes than this in a cell can't be told apart at a glance.
const MOST_BOXES: u8 = 5;

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
    for part in columns.chunks(table.abreast) {
        let nodes = table.draw(sheet, part, &ladder);
        sheet.put(vec![nodes.0], nodes.1, 6.0 * unit);
    }
    days(sheet);
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
        let room = (sheet.height() - 110.0 * unit) / f32::from(u16::try_from(rungs).unwrap_or(u16::MAX));
        let pitch = (19.0 * unit).min(room);
        let edge = (11.0 * unit).min(pitch - 3.0);
        let boxed = f32::from(boxes) * (edge + 4.0 * unit) + 8.0 * unit;
        let set = sheet.set(Face::SemiBold, 10.0, Ink::Ink);
        let widest = columns.iter().map(|name| sheet.measure(name, set)).fold(boxed, f32::max);
        let head = 78.0 * unit;
        let most = sheet.width() - head;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a handful of columns")]
        let abreast = ((most / boxed) as usize).clamp(1, columns.len().max(1));
        // Long names are set smaller where that saves a second table.
        let shared = most / f32::from(u16::try_from(abreast).unwrap_or(u16::MAX));
        let column = (widest + 8.0 * unit).min(shared);
        Self { head, column, abreast, boxes, edge, pitch }
    }

    /// The fastest rung at the top, as a ladder stands.
    fn draw(&self, sheet: &Sheet<'_>, columns: &[String], ladder: &Ladder) -> (Node, f32) {
        let unit = sheet.unit();
        let x = |index: usize| self.head + self.column * f32::from(u16::try_from(index).unwrap_or(u16::MAX));
        let right = x(columns.len());
        let set = sheet.set(Face::SemiBold, 10.0, Ink::Ink);
        let head = |at: f32, text: &str| {
            let set = sheet.fitted(text, set, self.column - 6.0 * unit);
            Node::of(Role::ColumnHead, vec![text_mark(Point::new(at, 12.0 * unit), format!("{text} "), set)])
        };
        let mut cells = vec![head(0.0, sheet.words.tempo)];
        cells.extend(columns.iter().enumerate().map(|(index, name)| head(x(index) + 4.0 * unit, name)));
        let mut rows = vec![Node::Group(Role::Row, cells)];
        let mut y = 18.0 * unit;
        let mut rules = Vec::new();
        for rung in ladder.rungs().iter().rev() {
            rules.push(rule(Point::new(0.0, y), Point::new(right, y), 0.5, Ink::Thin));
            let middle = y + self.pitch / 2.0;
            let tempo = sheet.set(Face::Bold, 12.0, Ink::Ink);
            let label = sheet.label();
            let percent = (sheet.words.percent)(ladder.percent(*rung));
            let marks = vec![
                level(Point::new(0.0, middle), Side::Left, format!("{} ", bpm(rung.bpm())), tempo),
                level(Point::new(self.head - 12.0 * unit, middle), Side::Right, percent, label),
            ];
            let mut cells = vec![Node::of(Role::RowHead, marks)];
            for index in 0..columns.len() {
                cells.push(Node::of(Role::Cell, self.ticks(Point::new(x(index) + 4.0 * unit, middle), unit)));
            }
            rows.push(Node::Group(Role::Row, cells));
            y += self.pitch;
        }
        rules.push(rule(Point::new(0.0, y), Point::new(right, y), 0.5, Ink::Thin));
        rows.push(Node::Decoration(rules));
        (Node::Group(Role::Table, rows), y + 1.0)
    }

    fn ticks(&self, left: Point, unit: f32) -> Vec<Mark> {
        let tick = |index: u8| {
            let corner = Point::new(left.x + f32::from(index) * (self.edge + 4.0 * unit), left.y - self.edge / 2.0);
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

fn level(at: Point, side: Side, text: String, set: Type) -> Mark {
    Mark::level(at, side, text, (set.face, set.size), set.ink)
}

fn days(sheet: &mut Sheet<'_>) {
    let unit = sheet.unit();
    sheet.put_heading(sheet.words.days);
    let (marks, height) = sheet.paragraph(sheet.words.days_hint, sheet.sentence(), sheet.width());
    sheet.lead(vec![Node::of(Role::Paragraph, marks)], height, 0.0);
    let (marks, height) = grid(sheet, sheet.words.weekdays);
    sheet.lead(vec![Node::of(Role::Figure(sheet.words.days_grid.to_owned()), marks)], height, 6.0 * unit);
}

/// One figure: empty boxes in a table would be read out one by one.
fn grid(sheet: &Sheet<'_>, weekdays: [&str; 7]) -> (Vec<Mark>, f32) {
    let unit = sheet.unit();
    let head = 56.0 * unit;
    let (column, pitch) = ((sheet.width() - head) / 7.0, 26.0 * unit);
    let set = sheet.label();
    let x = |day: u8| head + column * f32::from(day);
    let name =
        |(day, name): (u8, &str)| text_mark(Point::new(x(day) + 3.0 * unit, 11.0 * unit), format!("{name} "), set);
    let mut marks: Vec<Mark> = (0..).zip(weekdays).map(name).collect();
    let mut y = 16.0 * unit;
    for week in 1..=WEEKS {
        let at = Point::new(0.0, y + pitch / 2.0);
        marks.push(level(at, Side::Left, (sheet.words.week)(week) + " ", set));
        marks.extend((0..7).map(|day| {
            let rect = Rect::sized(Point::new(x(day), y), column - 3.0 * unit, pitch - 3.0 * unit);
            Mark::Frame { rect, radius: 0.0, width: 0.75, ink: Ink::Thin }
        }));
        y += pitch;
    }
    (marks, y)
}
