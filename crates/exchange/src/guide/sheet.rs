//! The paper being filled: sizes, text in lines, boxes in rows.

use sixrung_drawing::{Ends, Face, Ink, Mark, Point, Side};

use super::flow::{Leads, Piece, pages};
use super::page::{Node, Page, Role};
use super::typeset::Typesetter;
use super::words::Words;
use super::{GuideOptions, Print};

/// Paper left white around everything, in points: printers can't reach the last 6 mm (common practice), and a hole
/// punch needs 12 mm.
const MARGIN: f32 = 40.0;
/// Above the foot of a page, for its number.
const FOOT: f32 = 18.0;

/// A paper being filled from the top.
pub(super) struct Sheet<'a> {
    pub(super) options: &'a GuideOptions,
    pub(super) words: &'a Words,
    typesetter: &'a Typesetter,
    pieces: Vec<Piece>,
}

/// How text is set.
#[derive(Clone, Copy)]
pub(super) struct Type {
    pub(super) face: Face,
    pub(super) size: f32,
    pub(super) ink: Ink,
}

/// Something that stands beside others in a row: its head with the other heads, the rest with its foot beside the others'.
pub(super) struct Boxed {
    /// What part all that is read in it plays, where that is one.
    pub(super) role: Option<Role>,
    pub(super) head: Vec<Node>,
    pub(super) nodes: Vec<Node>,
    pub(super) width: f32,
    pub(super) height: f32,
}

impl<'a> Sheet<'a> {
    pub(super) const fn new(options: &'a GuideOptions, words: &'a Words, typesetter: &'a Typesetter) -> Self {
        Self { options, words, typesetter, pieces: Vec::new() }
    }

    /// Points in a point of usual print.
    pub(super) const fn unit(&self) -> f32 {
        self.options.print.factor()
    }

    pub(super) fn is_large(&self) -> bool {
        self.options.print == Print::Large
    }

    /// Width between the margins.
    pub(super) const fn width(&self) -> f32 {
        self.options.paper.points().0 - 2.0 * MARGIN
    }

    /// Height between the margins.
    pub(super) const fn height(&self) -> f32 {
        self.options.paper.points().1 - 2.0 * MARGIN - FOOT
    }

    /// Type of this size in usual print.
    pub(super) const fn set(&self, face: Face, size: f32, ink: Ink) -> Type {
        Type { face, size: size * self.unit(), ink }
    }

    /// Sentences.
    pub(super) const fn sentence(&self) -> Type {
        self.set(Face::Regular, 10.0, Ink::Ink)
    }

    /// Labels.
    pub(super) const fn label(&self) -> Type {
        self.set(Face::Medium, 9.0, Ink::Quiet)
    }

    pub(super) fn measure(&self, text: &str, set: Type) -> f32 {
        self.typesetter.width(text, (set.face, set.size))
    }

    /// The same type, small enough for this text to be no wider than `width`.
    pub(super) fn fitted(&self, text: &str, set: Type, width: f32) -> Type {
        let needed = self.measure(text, set);
        if needed <= width { set } else { Type { size: set.size * width / needed, ..set } }
    }

    /// The same type, small enough for every word of this text to be no wider than `width`.
    pub(super) fn fitting_words(&self, text: &str, set: Type, width: f32) -> Type {
        text.split_whitespace().fold(set, |set, word| self.fitted(word, set, width))
    }

    /// Text broken into lines between words. A word too long for a line stands out of it.
    pub(super) fn lines(&self, text: &str, set: Type, width: f32) -> Vec<String> {
        let mut lines: Vec<String> = Vec::new();
        for word in text.split_whitespace() {
            let longer = lines.last().map(|line| format!("{line} {word}"));
            match (longer, lines.last_mut()) {
                (Some(longer), Some(line)) if self.measure(&longer, set) <= width => *line = longer,
                _ => lines.push(word.to_owned()),
            }
        }
        lines
    }

    /// A paragraph from its left top corner, and how high it is.
    pub(super) fn paragraph(&self, text: &str, set: Type, width: f32) -> (Vec<Mark>, f32) {
        let set = self.fitting_words(text, set, width);
        let pitch = set.size * 1.4;
        let mut y = 0.0;
        let mut marks = Vec::new();
        let lines = self.lines(text, set, width);
        let last = lines.len().saturating_sub(1);
        for (index, line) in lines.into_iter().enumerate() {
            // The space between two words stays there where the line breaks.
            let line = if index < last { line + " " } else { line };
            marks.push(text_mark(Point::new(0.0, y + set.size * 1.05), line, set));
            y += pitch;
        }
        (marks, y)
    }

    /// A piece under the last one.
    pub(super) fn put(&mut self, nodes: Vec<Node>, height: f32, gap: f32) {
        self.pieces.push(Piece { nodes, height, gap, leads: Leads::Nothing });
    }

    /// A piece that stands on one page with the next.
    pub(super) fn lead(&mut self, nodes: Vec<Node>, height: f32, gap: f32) {
        self.pieces.push(Piece { nodes, height, gap, leads: Leads::Next });
    }

    /// How many pieces there are.
    pub(super) fn len(&self) -> usize {
        self.pieces.len()
    }

    /// Holds the pieces from this one on together on one page, as far as a page can.
    pub(super) fn keep_together(&mut self, from: usize) {
        if let Some((_, all_but_last)) = self.pieces.get_mut(from..).and_then(<[Piece]>::split_last_mut) {
            let free = all_but_last.iter_mut().filter(|piece| piece.leads == Leads::Nothing);
            free.for_each(|piece| piece.leads = Leads::IfAllFits);
        }
    }

    /// A paragraph under the last piece.
    pub(super) fn put_paragraph(&mut self, text: &str, set: Type, gap: f32) {
        let (marks, height) = self.paragraph(text, set, self.width());
        self.put(vec![Node::of(Role::Paragraph, marks)], height, gap);
    }

    /// A heading with a rule above it.
    pub(super) fn put_heading(&mut self, text: &str) {
        let unit = self.unit();
        let rule = rule(Point::new(0.0, 0.0), Point::new(self.width(), 0.0), 0.75, Ink::Thin);
        let mark = text_mark(Point::new(0.0, 17.0 * unit), text, self.set(Face::Bold, 13.0, Ink::Ink));
        let heading = Node::of(Role::Heading(2, text.to_owned()), vec![mark]);
        self.lead(vec![Node::Decoration(vec![rule]), heading], 24.0 * unit, 14.0 * unit);
    }

    /// Boxes side by side, in as many rows as they need. `gap` is between them and between rows.
    pub(super) fn put_row(&mut self, boxes: Vec<Boxed>, gap: (f32, f32), role: Option<Role>) {
        let mut row: Vec<Boxed> = Vec::new();
        let mut width = 0.0;
        for next in boxes {
            if !row.is_empty() && width + gap.0 + next.width > self.width() + 0.5 {
                self.put_boxes(std::mem::take(&mut row), gap, role.clone());
                width = 0.0;
            }
            width += if row.is_empty() { next.width } else { gap.0 + next.width };
            row.push(next);
        }
        if !row.is_empty() {
            self.put_boxes(row, gap, role);
        }
    }

    fn put_boxes(&mut self, row: Vec<Boxed>, gap: (f32, f32), role: Option<Role>) {
        let height = row.iter().map(|boxed| boxed.height).fold(0.0, f32::max);
        let mut x = 0.0;
        let mut nodes = Vec::new();
        for boxed in row {
            let head = boxed.head.into_iter().map(|node| node.moved(Point::new(x, 0.0)));
            let by = Point::new(x, height - boxed.height);
            let all = head.chain(boxed.nodes.into_iter().map(|node| node.moved(by))).collect();
            nodes.extend(match boxed.role {
                Some(role) => read_as_one(role, all),
                None => all,
            });
            x += boxed.width + gap.0;
        }
        let nodes = match role {
            Some(role) => read_as_one(role, nodes),
            None => nodes,
        };
        self.put(nodes, height, gap.1);
    }

    /// Cuts everything into pages, with the title and a number at each page's foot.
    pub(super) fn pages(self, title: &str) -> Vec<Page> {
        let (width, height) = self.options.paper.points();
        let foot = Type { size: 9.0 * self.unit().min(1.3), ..self.label() };
        let content = self.height();
        let mut pages = pages(self.pieces, Point::new(MARGIN, MARGIN), content);
        let count = pages.len();
        for (index, page) in pages.iter_mut().enumerate() {
            let y = height - MARGIN;
            let number = Mark::Text {
                at: Point::new(width - MARGIN, y),
                side: Side::Right,
                text: (self.words.page)(index + 1, count),
                face: foot.face,
                size: foot.size,
                ink: foot.ink,
            };
            page.nodes.push(Node::Decoration(vec![text_mark(Point::new(MARGIN, y), title, foot), number]));
        }
        pages
    }
}

/// Decorations apart, and all that is read in one group.
fn read_as_one(role: Role, nodes: Vec<Node>) -> Vec<Node> {
    let (decorations, read): (Vec<Node>, Vec<Node>) =
        nodes.into_iter().partition(|node| matches!(node, Node::Decoration(_)));
    let marks = |nodes: &[Node]| nodes.iter().flat_map(Node::marks).cloned().collect::<Vec<_>>();
    vec![Node::Decoration(marks(&decorations)), Node::of(role, marks(&read))]
}

/// A line of text from its left end on its baseline.
pub(super) fn text_mark(at: Point, text: impl Into<String>, set: Type) -> Mark {
    Mark::Text { at, side: Side::Left, text: text.into(), face: set.face, size: set.size, ink: set.ink }
}

/// A line of text whose capitals are at the height of `at`.
pub(super) fn level(at: Point, side: Side, text: String, set: Type) -> Mark {
    Mark::level(at, side, text, (set.face, set.size), set.ink)
}

/// A straight line with square ends.
pub(super) fn rule(from: Point, to: Point, width: f32, ink: Ink) -> Mark {
    Mark::Line { from, to, width, ends: Ends::Square, ink }
}
