//! Pieces one under another, cut into pages.

use sixrung_drawing::Point;

use super::page::{Node, Page};

/// Something that is not torn between two pages. Its marks count from its left top corner.
pub(super) struct Piece {
    pub(super) nodes: Vec<Node>,
    pub(super) height: f32,
    /// Room above it, left out at the top of a page.
    pub(super) gap: f32,
    /// Whether the next piece must stand on the same page: a heading.
    pub(super) leads: Leads,
}

/// Whether a piece leads the next one.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Leads {
    Next,
    Nothing,
}

/// Lays pieces on pages, their content from `corner`, `height` points high.
pub(super) fn pages(pieces: Vec<Piece>, corner: Point, height: f32) -> Vec<Page> {
    // What the piece needs with all it leads: a heading alone at a page's foot is of no use.
    let mut needed: Vec<f32> = Vec::with_capacity(pieces.len());
    let mut below = 0.0;
    for piece in pieces.iter().rev() {
        below = match piece.leads {
            // What no page can hold together is not held together.
            Leads::Next if piece.height + below <= height => piece.height + below,
            Leads::Next | Leads::Nothing => piece.height,
        };
        needed.push(below);
        below += piece.gap;
    }
    let mut pages = vec![Page::default()];
    let mut y = 0.0;
    for (piece, needed) in pieces.into_iter().zip(needed.into_iter().rev()) {
        let is_first = pages.last().is_none_or(|page| page.nodes.is_empty());
        let gap = if is_first { 0.0 } else { piece.gap };
        if !is_first && y + gap + needed > height {
            pages.push(Page::default());
            y = 0.0;
        } else {
            y += gap;
        }
        let by = Point::new(corner.x, corner.y + y);
        if let Some(page) = pages.last_mut() {
            page.nodes.extend(piece.nodes.into_iter().map(|node| node.moved(by)));
        }
        y += piece.height;
    }
    pages
}
