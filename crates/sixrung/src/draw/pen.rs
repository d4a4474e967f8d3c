//! Ink and type: the few strokes everything else is made of.

use std::sync::Arc;

pub use sixrung_drawing::Side;

use egui::text::{LayoutJob, TextWrapping};
use egui::{Color32, CornerRadius, FontId, Galley, Painter, Pos2, Rect, Shape, Stroke, StrokeKind, Vec2, pos2, vec2};

use crate::theme::{Face, Palette, Step, Theme, font};

/// How text is set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Type {
    /// The cut.
    pub face: Face,
    /// Size in points.
    pub size: f32,
    /// The colour.
    pub colour: Color32,
}

/// A painter that knows the theme and the size of its unit.
#[derive(Clone)]
pub struct Pen<'a> {
    painter: &'a Painter,
    /// The theme.
    pub theme: Theme,
    /// How many points one drawn point of the layout is.
    pub unit: f32,
    /// The least size, in points, of what is read while playing.
    pub least: f32,
}

impl<'a> Pen<'a> {
    /// A pen on this painter. `unit` is how many points one drawn point is.
    #[must_use]
    pub const fn new(painter: &'a Painter, theme: Theme, unit: f32) -> Self {
        Self { painter, theme, unit, least: 0.0 }
    }

    /// The same pen with another unit.
    #[must_use]
    pub const fn with_unit(&self, unit: f32) -> Self {
        Self { painter: self.painter, theme: self.theme, unit, least: self.least }
    }

    /// The same pen, for a player to whom nothing read while playing may be smaller than `least` points.
    #[must_use]
    pub const fn reading(&self, least: f32) -> Self {
        Self { painter: self.painter, theme: self.theme, unit: self.unit, least }
    }

    /// The colours.
    #[must_use]
    pub const fn palette(&self) -> &Palette {
        &self.theme.palette
    }

    /// A way to set text, its size in the pen's unit.
    #[must_use]
    pub fn set(&self, face: Face, step: Step, colour: Color32) -> Type {
        let least = LEAST_POINTS * self.theme.look.scale.min(1.0);
        Type { face, size: (step.points() * self.unit).max(least), colour }
    }

    /// The same for what is read while playing: never smaller than the player's distance allows.
    #[must_use]
    pub fn read(&self, face: Face, step: Step, colour: Color32) -> Type {
        let set = self.set(face, step, colour);
        Type { size: set.size.max(self.least), ..set }
    }

    /// The same text small enough to be no wider than `width` points.
    #[must_use]
    pub fn fitted(&self, text: &str, set: Type, width: f32) -> Type {
        let needed = self.width(text, set);
        if needed <= width { set } else { Type { size: set.size * width.max(1.0) / needed, ..set } }
    }

    /// Width of a text in points.
    #[must_use]
    pub fn width(&self, text: &str, set: Type) -> f32 {
        self.galley(text, set, f32::INFINITY).size().x
    }

    /// Writes one line, its baseline at `at`; says where it lies.
    pub fn text(&self, at: Pos2, side: Side, text: &str, set: Type) -> Rect {
        self.text_within(at, side, text, set, f32::INFINITY)
    }

    /// Writes one line no wider than `width` points; what does not fit ends in an ellipsis.
    pub fn text_within(&self, at: Pos2, side: Side, text: &str, set: Type, width: f32) -> Rect {
        if text.is_empty() || width <= 0.0 {
            return Rect::from_min_size(at, Vec2::ZERO);
        }
        self.place(at, side, self.galley(text, set, width), set.colour)
    }

    /// Writes one line in any font.
    pub fn text_in(&self, at: Pos2, side: Side, text: &str, font: FontId, colour: Color32) -> Rect {
        let job = LayoutJob::simple_singleline(text.to_owned(), font, colour);
        self.place(at, side, self.painter.layout_job(job), colour)
    }

    fn place(&self, at: Pos2, side: Side, galley: Arc<Galley>, colour: Color32) -> Rect {
        let shift = match side {
            Side::Left => 0.0,
            Side::Centre => galley.size().x / 2.0,
            Side::Right => galley.size().x,
        };
        let corner = pos2(at.x - shift, at.y - baseline(&galley));
        let rect = Rect::from_min_size(corner, galley.size());
        self.painter.galley(corner, galley, colour);
        rect
    }

    /// Writes one line with its capitals centred on `at`.
    pub fn text_centred(&self, at: Pos2, text: &str, set: Type) -> Rect {
        self.text(pos2(at.x, at.y + set.size * HALF_CAPITAL), Side::Centre, text, set)
    }

    /// Writes one line with its capitals at the height of `at`, elided to `width` points.
    pub fn text_level(&self, at: Pos2, side: Side, text: &str, set: Type, width: f32) -> Rect {
        self.text_within(pos2(at.x, at.y + set.size * HALF_CAPITAL), side, text, set, width)
    }

    /// Writes a paragraph from the left top corner `at`, at most `width` points wide and `rows` rows long.
    pub fn paragraph(&self, at: Pos2, text: &str, set: Type, width: f32, rows: usize) -> Rect {
        if text.is_empty() || width <= 0.0 || rows == 0 {
            return Rect::from_min_size(at, Vec2::ZERO);
        }
        let mut job = LayoutJob::simple(text.to_owned(), font(set.face, set.size), set.colour, width);
        job.wrap.max_rows = rows;
        let galley = self.painter.layout_job(job);
        let rect = Rect::from_min_size(at, galley.size());
        self.painter.galley(at, galley, set.colour);
        rect
    }

    /// How high a paragraph is at this width, were it as long as it is.
    #[must_use]
    pub fn height(&self, text: &str, set: Type, width: f32) -> f32 {
        let job = LayoutJob::simple(text.to_owned(), font(set.face, set.size), set.colour, width);
        self.painter.layout_job(job).size().y
    }

    /// The same text small enough for these paragraphs, `gap` apart, to be no higher than `height` points, but no smaller
    /// than `least` points.
    #[must_use]
    pub fn fitted_rows(&self, texts: &[String], set: Type, (width, height): (f32, f32), gap: f32, least: f32) -> Type {
        let mut set = set;
        let high = |set| texts.iter().map(|text| self.height(text, set, width) + gap).sum::<f32>();
        while set.size > least && high(set) > height {
            set.size = (set.size * 0.94).max(least);
        }
        set
    }

    fn galley(&self, text: &str, set: Type, width: f32) -> Arc<Galley> {
        let mut job = LayoutJob::simple_singleline(text.to_owned(), font(set.face, set.size), set.colour);
        if width.is_finite() {
            job.wrap = TextWrapping::truncate_at_width(width);
        }
        self.painter.layout_job(job)
    }

    /// A straight line with round ends.
    pub fn line(&self, from: Pos2, to: Pos2, width: f32, colour: Color32) {
        if from.x == to.x || from.y == to.y {
            // Whole pixels, so that lines of one width look it wherever they lie.
            let pixel = 1.0 / self.painter.pixels_per_point();
            let width = (width / pixel).round().max(1.0) * pixel;
            let half = Vec2::splat(width / 2.0);
            let rect = Rect::from_two_pos(from, to);
            self.block(Rect::from_min_max(rect.min - half, rect.max + half), width / 2.0, colour);
        } else {
            self.path(vec![from, to], width, colour);
        }
    }

    /// A straight line with square ends.
    pub fn rule(&self, from: Pos2, to: Pos2, width: f32, colour: Color32) {
        self.painter.line_segment([from, to], Stroke::new(width, colour));
    }

    /// A dashed upright.
    pub fn dashed_upright(&self, x: f32, top: f32, bottom: f32, width: f32, colour: Color32) {
        let dash = 6.0 * self.unit;
        let points = [pos2(x, top), pos2(x, bottom)];
        self.painter.extend(Shape::dashed_line(&points, Stroke::new(width, colour), dash, dash * 0.75));
    }

    /// A dashed line through `points`.
    pub fn dashed(&self, points: &[Pos2], width: f32, colour: Color32) {
        let dash = 7.0 * self.unit;
        self.painter.extend(Shape::dashed_line(points, Stroke::new(width, colour), dash, dash * 0.6));
    }

    /// A joined line through `points`.
    pub fn path(&self, points: Vec<Pos2>, width: f32, colour: Color32) {
        let ends = [points.first().copied(), points.last().copied()];
        self.painter.line(points, Stroke::new(width, colour));
        for end in ends.into_iter().flatten() {
            // A dot's soft edge makes it look larger than the line is wide.
            self.dot(end, (width / 2.0 - 0.3).max(0.3), colour);
        }
    }

    /// A filled circle.
    pub fn dot(&self, at: Pos2, radius: f32, colour: Color32) {
        self.painter.circle_filled(at, radius, colour);
    }

    /// A ring, its outer edge at `radius`.
    pub fn ring(&self, at: Pos2, radius: f32, width: f32, colour: Color32) {
        self.painter.circle_stroke(at, radius - width / 2.0, Stroke::new(width, colour));
    }

    /// A filled rectangle with round corners.
    pub fn block(&self, rect: Rect, radius: f32, colour: Color32) {
        self.painter.rect_filled(rect, radius, colour);
    }

    /// The outline of a rectangle with round corners, inside its edge.
    pub fn frame(&self, rect: Rect, radius: f32, width: f32, colour: Color32) {
        let corners = CornerRadius::from(radius);
        self.painter.rect_stroke(rect, corners, Stroke::new(width, colour), StrokeKind::Inside);
    }

    /// A filled triangle.
    pub fn triangle(&self, corners: [Pos2; 3], colour: Color32) {
        self.painter.add(Shape::convex_polygon(corners.to_vec(), colour, Stroke::NONE));
    }

    /// A diagonal cross, `reach` from its middle to each side.
    pub fn cross(&self, at: Pos2, reach: f32, width: f32, colour: Color32) {
        self.rule(at - vec2(reach, reach), at + vec2(reach, reach), width, colour);
        self.rule(at + vec2(-reach, reach), at + vec2(reach, -reach), width, colour);
    }

    /// A sheet of paper; where it has the colour of what lies behind it, its edge is drawn.
    pub fn paper(&self, rect: Rect) {
        let (palette, radius) = (self.palette(), 4.0 * self.unit);
        self.block(rect, radius, palette.sheet);
        if palette.sheet == palette.surround {
            self.frame(rect, radius, 1.0, palette.hair);
        }
    }

    /// The ring that shows where the keyboard is.
    pub fn focus_ring(&self, rect: Rect, radius: f32) {
        let grown = rect.expand(3.0);
        self.frame(grown, radius + 3.0, 2.0, self.palette().now);
    }
}

/// No type is set smaller than this at scale 1, however small the window.
const LEAST_POINTS: f32 = 11.0;

/// Half the height of Inter's capitals, as a share of the size.
const HALF_CAPITAL: f32 = 0.3638;

/// How far below its top a line's baseline lies.
fn baseline(galley: &Galley) -> f32 {
    galley.rows.first().map_or(0.0, |row| row.pos.y + row.row.glyphs.first().map_or(0.0, |glyph| glyph.pos.y))
}

/// Rounds a rectangle to whole points so that its edges are sharp.
#[must_use]
pub fn crisp(rect: Rect) -> Rect {
    Rect::from_min_max(rect.min.round(), rect.max.round())
}
