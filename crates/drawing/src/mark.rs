//! The few marks everything is drawn with.

use crate::place::{Point, Rect};

/// What a mark is for: who draws it gives it a colour or a grey.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Ink {
    /// Text, diagrams, strokes.
    Ink,
    /// Labels, what comes later.
    Quiet,
    /// Air strokes, rails.
    Thin,
    /// Behind every other beat.
    Shade,
    /// What is now, or changes.
    Now,
    /// The paper itself: a digit inside its dot.
    Sheet,
}

/// A cut of type, by what it is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Sentences.
    Regular,
    /// Tempi, letters under strokes.
    Medium,
    /// Labels.
    SemiBold,
    /// Chord names, counts on the beat, digits in dots.
    Bold,
    /// Sung words.
    Book,
    /// Titles.
    BookBold,
}

impl Face {
    /// Every cut.
    pub const ALL: [Self; 6] = [Self::Regular, Self::Medium, Self::SemiBold, Self::Bold, Self::Book, Self::BookBold];
}

/// Where a line of text stands relative to its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    /// The point is its left end.
    Left,
    /// The point is its middle.
    Centre,
    /// The point is its right end.
    Right,
}

/// How a line ends.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ends {
    /// Rounded, half its width beyond its points.
    Round,
    /// Square, at its points.
    Square,
}

/// One mark.
#[derive(Clone, Debug, PartialEq)]
#[expect(missing_docs, reason = "their names say it; lengths are in points")]
pub enum Mark {
    /// A straight line.
    Line { from: Point, to: Point, width: f32, ends: Ends, ink: Ink },
    /// A joined line with round ends.
    Path { points: Vec<Point>, width: f32, ink: Ink },
    /// A filled rectangle, its corners rounded by `radius`.
    Block { rect: Rect, radius: f32, ink: Ink },
    /// The outline of a rectangle, inside its edge.
    Frame { rect: Rect, radius: f32, width: f32, ink: Ink },
    /// A filled circle.
    Dot { at: Point, radius: f32, ink: Ink },
    /// A ring, its outer edge at `radius`.
    Ring { at: Point, radius: f32, width: f32, ink: Ink },
    /// A diagonal cross, `reach` from its middle to each side.
    Cross { at: Point, reach: f32, width: f32, ink: Ink },
    /// A line of text on its baseline.
    Text { at: Point, side: Side, text: String, face: Face, size: f32, ink: Ink },
}

/// Half the height of Inter's capitals, as a share of the size (its OS/2 table: 1490 of 2048 units, halved).
pub(crate) const HALF_CAPITAL: f32 = 0.3638;

impl Mark {
    /// A line of text whose capitals are at the height of `at`.
    #[must_use]
    pub fn level(at: Point, side: Side, text: impl Into<String>, (face, size): (Face, f32), ink: Ink) -> Self {
        let at = Point::new(at.x, at.y + size * HALF_CAPITAL);
        Self::Text { at, side, text: text.into(), face, size, ink }
    }

    /// The same mark so many times as large, seen from the left top corner.
    #[must_use]
    pub fn scaled(mut self, by: f32) -> Self {
        let place = |point: &mut Point| *point = *point * by;
        match &mut self {
            Self::Line { from, to, width, .. } => {
                place(from);
                place(to);
                *width *= by;
            }
            Self::Path { points, width, .. } => {
                points.iter_mut().for_each(place);
                *width *= by;
            }
            Self::Block { rect, radius, .. } => {
                *rect = Rect::new(rect.min * by, rect.max * by);
                *radius *= by;
            }
            Self::Frame { rect, radius, width, .. } => {
                *rect = Rect::new(rect.min * by, rect.max * by);
                *radius *= by;
                *width *= by;
            }
            Self::Dot { at, radius, .. } => {
                place(at);
                *radius *= by;
            }
            Self::Ring { at, radius: reach, width, .. } | Self::Cross { at, reach, width, .. } => {
                place(at);
                *reach *= by;
                *width *= by;
            }
            Self::Text { at, size, .. } => {
                place(at);
                *size *= by;
            }
        }
        self
    }

    /// The same mark elsewhere.
    #[must_use]
    pub fn moved(mut self, by: Point) -> Self {
        match &mut self {
            Self::Line { from, to, .. } => {
                *from = *from + by;
                *to = *to + by;
            }
            Self::Path { points, .. } => points.iter_mut().for_each(|point| *point = *point + by),
            Self::Block { rect, .. } | Self::Frame { rect, .. } => {
                *rect = Rect::new(rect.min + by, rect.max + by);
            }
            Self::Dot { at, .. } | Self::Ring { at, .. } | Self::Cross { at, .. } | Self::Text { at, .. } => {
                *at = *at + by;
            }
        }
        self
    }
}
