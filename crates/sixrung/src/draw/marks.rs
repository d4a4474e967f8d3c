//! Marks of the drawing both screen and paper share, put on the screen: each ink gets its colour.

use egui::{Color32, Pos2, Rect, pos2};
use sixrung_drawing::{Ends, Ink, Mark, Point};

use super::pen::{Pen, Type};

impl Pen<'_> {
    /// Draws marks; what is in ink is drawn in `ink`.
    pub fn marks(&self, marks: &[Mark], ink: Color32) {
        for mark in marks {
            self.mark(mark, ink);
        }
    }

    /// An ink's colour; of what is in ink, `ink`.
    pub(super) const fn ink_of(&self, of: Ink, ink: Color32) -> Color32 {
        match of {
            Ink::Ink => ink,
            Ink::Quiet => self.palette().quiet,
            Ink::Thin => self.palette().thin,
            Ink::Shade => self.palette().shade,
            Ink::Now => self.palette().now,
            Ink::Sheet => self.palette().sheet,
        }
    }

    /// Draws one; what is in ink is drawn in `ink`.
    pub(super) fn mark(&self, mark: &Mark, ink: Color32) {
        let colour = |of: Ink| self.ink_of(of, ink);
        match mark {
            Mark::Line { from, to, width, ends: Ends::Round, ink } => {
                self.line(screen(*from), screen(*to), *width, colour(*ink));
            }
            Mark::Line { from, to, width, ends: Ends::Square, ink } => {
                self.rule(screen(*from), screen(*to), *width, colour(*ink));
            }
            Mark::Path { points, width, ink } => {
                self.path(points.iter().copied().map(screen).collect(), *width, colour(*ink));
            }
            Mark::Block { rect, radius, ink } => self.block(screen_rect(*rect), *radius, colour(*ink)),
            Mark::Frame { rect, radius, width, ink } => self.frame(screen_rect(*rect), *radius, *width, colour(*ink)),
            Mark::Dot { at, radius, ink } => self.dot(screen(*at), *radius, colour(*ink)),
            Mark::Ring { at, radius, width, ink } => self.ring(screen(*at), *radius, *width, colour(*ink)),
            Mark::Cross { at, reach, width, ink } => self.cross(screen(*at), *reach, *width, colour(*ink)),
            Mark::Text { at, side, text, face, size, ink } => {
                let set = Type { face: *face, size: *size, colour: colour(*ink) };
                self.text(screen(*at), *side, text, set);
            }
        }
    }
}

/// A point of the drawing on the screen.
#[must_use]
pub const fn screen(point: Point) -> Pos2 {
    pos2(point.x, point.y)
}

/// A point of the screen in the drawing.
#[must_use]
pub const fn drawn(point: Pos2) -> Point {
    Point::new(point.x, point.y)
}

/// A rectangle of the screen in the drawing.
#[must_use]
pub const fn drawn_rect(rect: Rect) -> sixrung_drawing::Rect {
    sixrung_drawing::Rect::new(drawn(rect.min), drawn(rect.max))
}

/// A rectangle of the drawing on the screen.
#[must_use]
pub const fn screen_rect(rect: sixrung_drawing::Rect) -> Rect {
    Rect { min: screen(rect.min), max: screen(rect.max) }
}
