//! Pieces one under another, cut into pages.

use sixrung_drawing::Point;

use super::page::{Node, Page};

/// Something that is not torn between two pages. Its marks count from its left top corner.
pub(super) struct Piece {
    pub(super) nodes: Vec<Node>,
    pub(super) height: f32,
    /// Room above it, left out at the top of a page.
    pub(super) gap: f32,
    /// Whether the next piece stands on the same page.
    pub(super) leads: Leads,
}

/// Whether a piece leads the next one.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(super) enum Leads {
    /// It must: a heading alone at a page's foot is of no use.
    Next,
    /// It does where a page can hold together all that is kept so.
    IfAllFits,
    Nothing,
}

/// Lays pieces on pages, their content from `corner`, `height` points high.
pub(super) fn pages(pieces: Vec<Piece>, corner: Point, height: f32) -> Vec<Page> {
    let needed = needed(&pieces, height);
    let mut pages = vec![Page::default()];
    let mut y = 0.0;
    for (piece, needed) in pieces.into_iter().zip(needed) {
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

/// What each piece needs with all it leads on a page `height` points high.
fn needed(pieces: &[Piece], height: f32) -> Vec<f32> {
    let mut both: Vec<(f32, f32)> = Vec::with_capacity(pieces.len());
    let (mut next, mut all) = (0.0, 0.0);
    for piece in pieces.iter().rev() {
        next = match piece.leads {
            // What no page can hold together is not held together.
            Leads::Next if piece.height + next <= height => piece.height + next,
            Leads::Next | Leads::IfAllFits | Leads::Nothing => piece.height,
        };
        all = if piece.leads == Leads::Nothing { piece.height } else { piece.height + all };
        both.push((next, all));
        next += piece.gap;
        all += piece.gap;
    }
    // What is led by a piece that gave up holding all together gives it up too, or it would leave that piece alone.
    let mut gave_up = false;
    let mut needed = Vec::with_capacity(pieces.len());
    for (piece, (next, all)) in pieces.iter().zip(both.into_iter().rev()) {
        let holds_all = !gave_up && all <= height;
        needed.push(if holds_all { all } else { next });
        gave_up = !holds_all && piece.leads == Leads::Next;
    }
    needed
}
