//! A guide as PDF 1.7: fonts embedded and subset, every mark in the structure tree or marked as decoration, checked by
//! the writer against PDF/UA-1 (ISO 14289-1). That is "tagged", not "certified".

use std::collections::BTreeMap;
use std::num::NonZeroU16;

use krilla::color::luma;
use krilla::configure::{Accessibility, ConfigurationBuilder};
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point as At, Rect as Box};
use krilla::metadata::Metadata;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill, LineCap, LineJoin, Stroke};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Node as TagNode, TableHeaderScope, Tag, TagGroup, TagKind, TagTree,
};
use krilla::text::{Font, GlyphId, KrillaGlyph};
use krilla::{Document, SerializeSettings};
use sixrung_drawing::{Ends, Ink, Mark, Point, Rect};

use super::fonts::{FontId, Fonts};
use super::page::{Node, Role};
use super::typeset::Typesetter;
use super::{Guide, GuideError};

/// A circle's quarter as one cubic curve: control points at this share of the radius, off by 0.03 % at most.
const QUARTER: f32 = 0.552_284_8;

/// The whole file.
///
/// # Errors
/// When a font can't be read, or the writer's own checks refuse the document.
pub fn write(guide: &Guide, fonts: &Fonts) -> Result<Vec<u8>, GuideError> {
    let refused = |what: &dyn std::fmt::Debug| GuideError::Write(format!("{what:?}"));
    let configuration = ConfigurationBuilder::new()
        .with_accessibility_validator(Accessibility::UA1)
        .finish()
        .map_err(|error| refused(&error))?;
    let settings = SerializeSettings { configuration, enable_tagging: true, ..SerializeSettings::default() };
    let mut document = Document::new_with(settings);
    let mut tree = TagTree::new().with_lang(Some(guide.language.to_owned()));
    let mut outline = Outline::new();
    let mut pen = Pen { typesetter: Typesetter::new(fonts)?, fonts: *fonts, loaded: BTreeMap::new() };
    for (index, page) in guide.pages.iter().enumerate() {
        let size = PageSettings::from_wh(guide.size.0, guide.size.1)
            .ok_or_else(|| GuideError::Write("the paper has no size".to_owned()))?;
        let mut sheet = document.start_page_with(size);
        let mut surface = sheet.surface();
        for node in &page.nodes {
            if let Node::Group(Role::Heading(1 | 2, title), _) = node {
                let y = node.marks().find_map(top).unwrap_or_default();
                let to = XyzDestination::new(index, At::from_xy(0.0, (y - 30.0).max(0.0)));
                outline.push_child(OutlineNode::new(title.clone(), to));
            }
            for tag in pen.node(&mut surface, node)? {
                tree.push(tag);
            }
        }
        surface.finish();
        sheet.finish();
    }
    document.set_metadata(
        Metadata::new().title(guide.title.clone()).language(guide.language.to_owned()).creator("Sixrung".to_owned()),
    );
    document.set_outline(outline);
    document.set_tag_tree(tree);
    document.finish().map_err(|error| refused(&error))
}

fn top(mark: &Mark) -> Option<f32> {
    if let Mark::Text { at, .. } = mark { Some(at.y) } else { None }
}

struct Pen {
    typesetter: Typesetter,
    fonts: Fonts,
    loaded: BTreeMap<FontId, Font>,
}

impl Pen {
    /// Draws a node; what of it stands in the structure tree.
    fn node(&mut self, surface: &mut Surface<'_>, node: &Node) -> Result<Vec<TagNode>, GuideError> {
        Ok(match node {
            Node::Decoration(marks) => {
                let artifact = Artifact::with_kind(ArtifactType::Other);
                surface.start_tagged(ContentTag::Artifact(artifact));
                self.marks(surface, marks)?;
                surface.end_tagged();
                Vec::new()
            }
            Node::Marks(marks) => {
                let tagged = surface.start_tagged(ContentTag::Other);
                self.marks(surface, marks)?;
                surface.end_tagged();
                vec![tagged.into()]
            }
            Node::Group(role, nodes) => {
                let mut children = Vec::new();
                for node in nodes {
                    children.extend(self.node(surface, node)?);
                }
                vec![TagGroup::with_children(tag(role), children).into()]
            }
        })
    }

    /// Neighbours drawn in one way become one path: a third of the file less.
    fn marks(&mut self, surface: &mut Surface<'_>, marks: &[Mark]) -> Result<(), GuideError> {
        let mut drawn: Option<(Way, PathBuilder)> = None;
        for mark in marks {
            let Some(way) = Way::of(mark) else {
                finish(surface, drawn.take());
                self.text(surface, mark)?;
                continue;
            };
            let mut path = match drawn.take() {
                Some((last, path)) if last == way => path,
                other => {
                    finish(surface, other);
                    PathBuilder::new()
                }
            };
            trace(&mut path, mark);
            drawn = Some((way, path));
        }
        finish(surface, drawn);
        Ok(())
    }

    fn text(&mut self, surface: &mut Surface<'_>, mark: &Mark) -> Result<(), GuideError> {
        let Mark::Text { at, side, text, face, size, ink } = mark else { return Ok(()) };
        let runs = self.typesetter.set(text, *face);
        let left = self.typesetter.left(text, (*face, *size), *side, at.x);
        surface.set_stroke(None);
        surface.set_fill(Some(Fill { paint: paint(*ink), ..Fill::default() }));
        for run in runs {
            let font = self.font(run.font)?;
            let glyphs: Vec<KrillaGlyph> = run.glyphs.iter().map(krilla_glyph).collect();
            let start = At::from_xy(short(left + run.at * size), short(at.y));
            surface.draw_glyphs(start, &glyphs, font, &run.text, short(*size), false);
        }
        Ok(())
    }

    fn font(&mut self, id: FontId) -> Result<Font, GuideError> {
        if let Some(font) = self.loaded.get(&id) {
            return Ok(font.clone());
        }
        let bytes = self.fonts.all()[id.0];
        let font = Font::new(bytes.into(), 0).ok_or(super::FontError(id.0))?;
        self.loaded.insert(id, font.clone());
        Ok(font)
    }
}

fn krilla_glyph(glyph: &super::typeset::Glyph) -> KrillaGlyph {
    let (x, y) = glyph.shift;
    KrillaGlyph::new(GlyphId::new(u32::from(glyph.id)), glyph.advance, x, y, 0.0, glyph.text.clone(), None)
}

fn tag(role: &Role) -> TagKind {
    match role {
        Role::Heading(level, title) => {
            Tag::Hn(NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN), Some(title.clone())).into()
        }
        Role::Paragraph => Tag::P.into(),
        Role::Figure(alt) => Tag::Figure(Some(alt.clone())).into(),
        Role::Table => Tag::Table.into(),
        Role::Row => Tag::TR.into(),
        Role::ColumnHead => Tag::TH(TableHeaderScope::Column).into(),
        Role::RowHead => Tag::TH(TableHeaderScope::Row).into(),
        Role::Cell => Tag::TD.into(),
    }
}

/// How light an ink is on paper, 0 black to 255 white. Text is at most 85, 7.4:1 on white (WCAG 2.2 AAA asks for
/// 7:1); lines that mean something at most 118, 4.5:1.
#[must_use]
pub const fn grey(ink: Ink) -> u8 {
    match ink {
        Ink::Ink | Ink::Now => 0,
        Ink::Quiet => 85,
        Ink::Thin => 118,
        Ink::Shade => 236,
        Ink::Sheet => 255,
    }
}

fn paint(ink: Ink) -> krilla::paint::Paint {
    luma::Color::new(grey(ink)).into()
}

/// How a path is drawn.
#[derive(Clone, Copy, PartialEq)]
enum Way {
    Fill(Ink),
    Stroke(f32, LineCap, Ink),
}

impl Way {
    /// `None` for text.
    fn of(mark: &Mark) -> Option<Self> {
        Some(match mark {
            Mark::Line { width, ends: Ends::Round, ink, .. } | Mark::Path { width, ink, .. } => {
                Self::Stroke(*width, LineCap::Round, *ink)
            }
            Mark::Line { width, ends: Ends::Square, ink, .. }
            | Mark::Frame { width, ink, .. }
            | Mark::Ring { width, ink, .. }
            | Mark::Cross { width, ink, .. } => Self::Stroke(*width, LineCap::Butt, *ink),
            Mark::Block { ink, .. } | Mark::Dot { ink, .. } => Self::Fill(*ink),
            Mark::Text { .. } => return None,
        })
    }
}

fn finish(surface: &mut Surface<'_>, drawn: Option<(Way, PathBuilder)>) {
    let Some((way, path)) = drawn else { return };
    match way {
        Way::Fill(ink) => {
            surface.set_stroke(None);
            surface.set_fill(Some(Fill { paint: paint(ink), ..Fill::default() }));
        }
        Way::Stroke(width, line_cap, ink) => {
            let stroke = Stroke {
                paint: paint(ink),
                width: short(width),
                line_cap,
                line_join: LineJoin::Round,
                ..Stroke::default()
            };
            surface.set_fill(None);
            surface.set_stroke(Some(stroke));
        }
    }
    if let Some(path) = path.finish() {
        surface.draw_path(&path);
    }
}

/// In twentieths of a point: a dot of 1200 to the inch is larger, and a hundredth would make a file larger by 4 in 100.
fn short(number: f32) -> f32 {
    (number * 20.0).round() / 20.0
}

fn trace(path: &mut PathBuilder, mark: &Mark) {
    match mark {
        Mark::Line { from, to, .. } => joined(path, &[*from, *to]),
        Mark::Path { points, .. } => joined(path, points),
        Mark::Block { rect, radius, .. } => rounded(path, *rect, *radius),
        Mark::Frame { rect, radius, width, .. } => {
            let half = Point::new(width / 2.0, width / 2.0);
            rounded(path, Rect::new(rect.min + half, rect.max - half), *radius);
        }
        Mark::Dot { at, radius, .. } => circle(path, *at, *radius),
        Mark::Ring { at, radius, width, .. } => circle(path, *at, radius - width / 2.0),
        Mark::Cross { at, reach, .. } => {
            for (x, y) in [(1.0, 1.0), (1.0, -1.0)] {
                let way = Point::new(reach * x, reach * y);
                joined(path, &[*at - way, *at + way]);
            }
        }
        Mark::Text { .. } => {}
    }
}

fn joined(path: &mut PathBuilder, points: &[Point]) {
    for (index, point) in points.iter().enumerate() {
        if index == 0 {
            path.move_to(short(point.x), short(point.y));
        } else {
            path.line_to(short(point.x), short(point.y));
        }
    }
}

fn circle(path: &mut PathBuilder, at: Point, radius: f32) {
    let reach = Point::new(radius, radius);
    rounded(path, Rect::new(at - reach, at + reach), radius);
}

/// A rectangle with round corners, clockwise.
fn rounded(path: &mut PathBuilder, rect: Rect, radius: f32) {
    let [l, t, r, b] = [rect.min.x, rect.min.y, rect.max.x, rect.max.y].map(short);
    let radius = radius.min((r - l) / 2.0).min((b - t) / 2.0);
    if radius <= 0.0 {
        if let Some(rect) = Box::from_ltrb(l, t, r, b) {
            path.push_rect(rect);
        }
        return;
    }
    let k = radius * (1.0 - QUARTER);
    let [l_in, t_in, r_in, b_in] = [l + radius, t + radius, r - radius, b - radius].map(short);
    let [l_bend, t_bend, r_bend, b_bend] = [l + k, t + k, r - k, b - k].map(short);
    path.move_to(l_in, t);
    if r_in > l_in {
        path.line_to(r_in, t);
    }
    path.cubic_to(r_bend, t, r, t_bend, r, t_in);
    if b_in > t_in {
        path.line_to(r, b_in);
    }
    path.cubic_to(r, b_bend, r_bend, b, r_in, b);
    if r_in > l_in {
        path.line_to(l_in, b);
    }
    path.cubic_to(l_bend, b, l, b_bend, l, b_in);
    if b_in > t_in {
        path.line_to(l, t_in);
    }
    path.cubic_to(l, t_bend, l_bend, t, l_in, t);
    path.close();
}
