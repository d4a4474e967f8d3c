//! A chord diagram as geometry: the same drawing at every size, on screen and on paper.
//!
//! Strings stand upright, the heavier to the left (to the right when left-handed); the nut is a bar; a finger's
//! number stands in its dot; a barre is one rounded bar; × and ○ stand above. Common practice in print.

use sixrung_lesson::{Finger, Shape, StringUse};

use crate::mark::{Ends, Face, Ink, Mark, Side};
use crate::place::{Hand, Point, Rect};

/// Frets drawn at least.
const LEAST_FRETS: u8 = 4;

/// A diagram laid out in points.
#[derive(Clone, Debug, PartialEq)]
pub struct Diagram {
    /// The x of each string, in the shape's written order (heaviest first), and how thick it is drawn as a share of
    /// the thinnest.
    pub strings: Vec<(f32, f32)>,
    /// The y of each fret wire, the nut or top edge first.
    pub frets: Vec<f32>,
    /// Whether the top edge is the nut.
    pub nut: bool,
    /// The fret the top space shows, to print beside it when the top edge is not the nut.
    pub first_fret: u8,
    /// Dots, barres excluded.
    pub dots: Vec<Dot>,
    /// Barres.
    pub bars: Vec<Bar>,
    /// Signs above the strings.
    pub signs: Vec<Sign>,
    /// A dot's radius.
    pub radius: f32,
}

/// A finger on one string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dot {
    /// Its middle.
    pub at: Point,
    /// Which finger; `None` when the lesson does not say.
    pub finger: Option<Finger>,
}

/// A finger across several strings.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bar {
    /// Middle of its end on the heavier side.
    pub from: Point,
    /// Middle of its other end.
    pub to: Point,
    /// Which finger.
    pub finger: Finger,
}

/// What stands above a string.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sign {
    /// Its middle.
    pub at: Point,
    /// Whether the string rings open; else it is kept silent.
    pub open: bool,
}

/// A finger put down: which, on which strings (from and to, as indices in written order), at which fret.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Placement {
    /// Which finger; `None` when the lesson does not say.
    pub finger: Option<Finger>,
    /// From and to: the same string unless it is a barre.
    pub strings: (usize, usize),
    /// The fret, from the capo.
    pub fret: u8,
}

/// The fingers of a shape in the order they are put down: barres, then from the heaviest string to the lightest. A
/// design choice of ours: the hand finds the bass first.
#[must_use]
pub fn placements(shape: &Shape) -> Vec<Placement> {
    let barres = shape.barres.iter().map(|barre| Placement {
        finger: Some(barre.finger),
        strings: (barre.from, barre.to),
        fret: barre.fret,
    });
    let dots = shape.strings.iter().enumerate().filter_map(|(string, used)| {
        let StringUse::Fret(fret) = *used else { return None };
        let finger = shape.fingers.get(string).copied().flatten();
        (!is_barred(shape, string, fret, finger)).then_some(Placement { finger, strings: (string, string), fret })
    });
    barres.chain(dots).collect()
}

/// Whether a barre holds this string at this fret.
fn is_barred(shape: &Shape, string: usize, fret: u8, finger: Option<Finger>) -> bool {
    shape.barres.iter().any(|barre| {
        barre.fret == fret && (barre.from..=barre.to).contains(&string) && finger.is_none_or(|f| f == barre.finger)
    })
}

/// Lays a shape out so that its fretboard fills `board`. Signs stand above it, outer dots reach a radius beyond it.
#[must_use]
pub fn lay_out(shape: &Shape, board: Rect, hand: Hand) -> Diagram {
    let (first_fret, frets) = fret_window(shape);
    let strings = shape.strings.len();
    #[expect(clippy::cast_precision_loss, reason = "strings are at most eight")]
    let gap = board.width() / (strings.max(2) - 1) as f32;
    let space = board.height() / f32::from(frets);
    let x = |string: usize| {
        #[expect(clippy::cast_precision_loss, reason = "strings are at most eight")]
        let offset = gap * string as f32;
        match hand {
            Hand::Right => board.min.x + offset,
            Hand::Left => board.max.x - offset,
        }
    };
    let y = |fret: u8| board.min.y + space * (f32::from(fret.saturating_sub(first_fret)) + 0.5);
    let radius = (gap * 0.38).min(space * 0.42);
    let mut dots = Vec::new();
    let mut signs = Vec::new();
    for (string, used) in shape.strings.iter().enumerate() {
        let finger = shape.fingers.get(string).copied().flatten();
        match *used {
            StringUse::Fret(fret) if is_barred(shape, string, fret, finger) => {}
            StringUse::Fret(fret) => dots.push(Dot { at: Point::new(x(string), y(fret)), finger }),
            StringUse::Open | StringUse::Muted => {
                let at = Point::new(x(string), board.min.y - radius - gap * 0.1);
                signs.push(Sign { at, open: *used == StringUse::Open });
            }
        }
    }
    let bars = shape.barres.iter().map(|barre| Bar {
        from: Point::new(x(barre.from), y(barre.fret)),
        to: Point::new(x(barre.to), y(barre.fret)),
        finger: barre.finger,
    });
    Diagram {
        strings: (0..strings).map(|string| (x(string), string_weight(string, strings))).collect(),
        frets: (0..=frets).map(|fret| board.min.y + space * f32::from(fret)).collect(),
        nut: first_fret == 1,
        first_fret,
        dots,
        bars: bars.collect(),
        signs,
        radius,
    }
}

/// The first fret shown and how many: from the nut when everything fits there, else from the lowest fret used.
fn fret_window(shape: &Shape) -> (u8, u8) {
    let used = || shape.strings.iter().filter_map(|string| string.fret()).filter(|fret| *fret > 0);
    let (lowest, highest) = (used().min().unwrap_or(1), used().max().unwrap_or(1));
    if highest <= LEAST_FRETS { (1, LEAST_FRETS) } else { (lowest, (highest - lowest + 1).max(LEAST_FRETS)) }
}

/// Heavier strings are drawn thicker: from twice the thinnest down to it.
#[expect(clippy::cast_precision_loss, reason = "strings are at most eight")]
fn string_weight(string: usize, strings: usize) -> f32 {
    2.0 - string as f32 / (strings.max(2) - 1) as f32
}

/// The board's height for a width, as drawn for six strings and four frets.
#[must_use]
pub fn board(corner: Point, width: f32) -> Rect {
    Rect::sized(corner, width, width * 0.908)
}

/// How thick the thinnest line of a diagram is: it grows with the drawing, from `least` points.
#[must_use]
pub fn thin(board: Rect, least: f32) -> f32 {
    (board.width() / 152.0).max(least)
}

impl Diagram {
    /// Strings, frets and nut.
    #[must_use]
    pub fn board_marks(&self, board: Rect, thin: f32, ink: Ink) -> Vec<Mark> {
        let line = |from, to, width| Mark::Line { from, to, width, ends: Ends::Square, ink };
        let strings = self
            .strings
            .iter()
            .map(|(x, weight)| line(Point::new(*x, board.min.y), Point::new(*x, board.max.y), thin * weight));
        let frets = self.frets.iter().map(|y| line(Point::new(board.min.x, *y), Point::new(board.max.x, *y), thin));
        let thick = (board.width() / 32.0).max(thin * 3.0);
        let nut = Rect::new(
            Point::new(board.min.x - thin, board.min.y - thick / 2.0),
            Point::new(board.max.x + thin, board.min.y + thick / 2.0),
        );
        strings.chain(frets).chain(self.nut.then_some(Mark::Block { rect: nut, radius: 0.0, ink })).collect()
    }

    /// × and ○ above the strings, a little thicker than the thinnest line.
    #[must_use]
    pub fn sign_marks(&self, thin: f32) -> Vec<Mark> {
        let width = thin * 1.35;
        let (reach, ink) = (self.radius * 0.5, Ink::Quiet);
        let sign = |sign: &Sign| match sign.open {
            true => Mark::Ring { at: sign.at, radius: reach + width / 2.0, width, ink },
            false => Mark::Cross { at: sign.at, reach, width, ink },
        };
        self.signs.iter().map(sign).collect()
    }

    /// A barre with its digits.
    #[must_use]
    pub fn barre_marks(&self, bar: &Bar, ink: Ink) -> Vec<Mark> {
        let half = Point::new(0.0, self.radius * 0.82);
        let (left, right) = if bar.from.x <= bar.to.x { (bar.from, bar.to) } else { (bar.to, bar.from) };
        let beyond = Point::new(self.radius, 0.0);
        let rect = Rect::new(left - half - beyond, right + half + beyond);
        let digits = [bar.from, bar.to].map(|at| self.letter_mark(at, bar.finger, Ink::Sheet));
        [Some(Mark::Block { rect, radius: self.radius * 0.82, ink })].into_iter().chain(digits).flatten().collect()
    }

    /// A dot with its digit.
    #[must_use]
    pub fn dot_marks(&self, dot: &Dot, ink: Ink) -> Vec<Mark> {
        let letter = dot.finger.and_then(|finger| self.letter_mark(dot.at, finger, Ink::Sheet));
        [Some(Mark::Dot { at: dot.at, radius: self.radius, ink }), letter].into_iter().flatten().collect()
    }

    /// A finger's digit; `None` where it would be a smudge.
    #[must_use]
    pub fn letter_mark(&self, at: Point, finger: Finger, ink: Ink) -> Option<Mark> {
        let size = self.radius * 1.2;
        (size >= LEAST_DIGIT).then(|| Mark::level(at, Side::Centre, finger.letter(), (Face::Bold, size), ink))
    }

    /// Where the fret of the top space is printed when it is not the first: the middle of the text's left end.
    #[must_use]
    pub fn fret_label(&self, board: Rect) -> Option<Point> {
        let space = self.frets.first_chunk::<2>().filter(|_| !self.nut)?;
        Some(Point::new(board.max.x + self.radius * 1.4, f32::midpoint(space[0], space[1])))
    }

    /// The whole diagram without its labels: lines `thin` at the thinnest.
    #[must_use]
    pub fn marks(&self, board: Rect, thin: f32, ink: Ink) -> Vec<Mark> {
        let mut marks = self.board_marks(board, thin, ink);
        marks.extend(self.sign_marks(thin));
        marks.extend(self.bars.iter().flat_map(|bar| self.barre_marks(bar, ink)));
        marks.extend(self.dots.iter().flat_map(|dot| self.dot_marks(dot, ink)));
        marks
    }
}

/// The smallest digit drawn, in points: a design choice of ours.
const LEAST_DIGIT: f32 = 6.0;

#[cfg(test)]
mod tests;
