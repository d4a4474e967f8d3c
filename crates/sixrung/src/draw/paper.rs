//! A page of the guide on the screen: the same marks as on paper, in the same fonts and greys, on white.

use egui::{Painter, Rect, Ui, Vec2, WidgetInfo, accesskit::Role as Reads, pos2, vec2};
use sixrung_drawing::{Mark, Point, Side};
use sixrung_exchange::guide::{Guide, Node, Page, Role};

use super::marks::drawn;
use super::pen::Pen;
use crate::theme::{Palette, Theme, paper_font};

/// A page so large that it is `width` points wide.
#[must_use]
pub fn size(guide: &Guide, width: f32) -> Vec2 {
    vec2(width, width * guide.size.1 / guide.size.0)
}

/// Draws a page, from 0, on white in `sheet`, and no farther than `painter` may; `edge` is the theme around it.
pub fn paint(painter: &Painter, edge: Theme, sheet: Rect, guide: &Guide, page: usize) {
    let paper = Theme { palette: Palette::PAPER, ..edge };
    let scale = sheet.width() / guide.size.0;
    let pen = Pen::new(painter, paper, scale);
    pen.block(sheet, 0.0, paper.palette.sheet);
    let Some(page) = guide.pages.get(page) else { return };
    for mark in page.nodes.iter().flat_map(Node::marks) {
        draw(&pen, &mark.clone().scaled(scale).moved(drawn(sheet.min)), guide);
    }
    Pen::new(painter, edge, 1.0).frame(sheet, 0.0, 1.0, edge.palette.hair);
}

fn draw(pen: &Pen<'_>, mark: &Mark, guide: &Guide) {
    let Mark::Text { at, side, text, face, size, ink } = mark else { return pen.mark(mark, pen.palette().ink) };
    // The space that parts it from what is read next takes no room, and what no font has is printed as a box.
    let text = text.trim_end();
    let boxed: String;
    let text = if guide.missing.is_empty() {
        text
    } else {
        boxed = text.chars().map(|char| if guide.missing.contains(&char) { '□' } else { char }).collect();
        &boxed
    };
    pen.text_in(pos2(at.x, at.y), *side, text, paper_font(*face, *size), pen.ink_of(*ink, pen.palette().ink));
}

/// Everything on a page for a screen reader, each where it stands.
pub fn say(ui: &Ui, sheet: Rect, guide: &Guide, page: &Page) {
    let scale = sheet.width() / guide.size.0;
    for (index, node) in page.nodes.iter().enumerate() {
        say_node(ui, &|point| sheet.min + vec2(point.x, point.y) * scale, node, &[index]);
    }
}

fn say_node(ui: &Ui, screen: &dyn Fn(Point) -> egui::Pos2, node: &Node, place: &[usize]) {
    let Node::Group(role, inside) = node else { return };
    if *role == Role::Table {
        for (index, row) in inside.iter().enumerate() {
            say_node(ui, screen, row, &[place, &[index]].concat());
        }
        return;
    }
    let rect = node.marks().map(bounds).map(|(from, to)| Rect::from_two_pos(screen(from), screen(to)));
    let Some(rect) = rect.reduce(Rect::union) else { return };
    let response = ui.interact(rect, ui.scope_id().with(("on paper", place)), egui::Sense::empty());
    response.widget_info(|| {
        let reads = if matches!(role, Role::Heading(..)) { Reads::Heading } else { Reads::Label };
        WidgetInfo::labeled(reads, true, words(role, node))
    });
}

/// What is read out.
fn words(role: &Role, node: &Node) -> String {
    match role {
        Role::Heading(_, text) => text.clone(),
        Role::Figure(instead) => instead.clone(),
        _ => {
            let texts = node.marks().filter_map(|mark| match mark {
                Mark::Text { text, .. } => Some(text.trim()),
                _ => None,
            });
            texts.collect::<Vec<_>>().join(" ")
        }
    }
}

/// About where a mark lies: a letter is taken to be half as wide as it is large.
fn bounds(mark: &Mark) -> (Point, Point) {
    let around = |at: Point, reach: f32| (at - Point::new(reach, reach), at + Point::new(reach, reach));
    match mark {
        Mark::Line { from, to, .. } => (*from, *to),
        Mark::Path { points, .. } => {
            (points.first().copied().unwrap_or_default(), points.last().copied().unwrap_or_default())
        }
        Mark::Block { rect, .. } | Mark::Frame { rect, .. } => (rect.min, rect.max),
        Mark::Dot { at, radius, .. } | Mark::Ring { at, radius, .. } => around(*at, *radius),
        Mark::Cross { at, reach, .. } => around(*at, *reach),
        Mark::Text { at, side, text, size, .. } => {
            let width = f32::from(u16::try_from(text.trim_end().chars().count()).unwrap_or(u16::MAX)) * size * 0.5;
            let left = match side {
                Side::Left => at.x,
                Side::Centre => at.x - width / 2.0,
                Side::Right => at.x - width,
            };
            (Point::new(left, at.y - size), Point::new(left + width, at.y + size * 0.25))
        }
    }
}
