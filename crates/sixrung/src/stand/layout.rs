//! Where things lie on the stand, for any window, scale and reading distance.
//!
//! Everything is drawn on a sheet of 936 × 656 units (in a window of 1280 × 800 a unit is a point) and scaled to fit.
//! What is read while playing never falls under 20 minutes of arc: as distance or scale grow, zones leave in a fixed
//! order to make room, and in the end the sheet is laid out anew for reading from afar.

use egui::{Rect, pos2};

use crate::draw::ladder::Room;
use crate::theme::Look;

/// The window the stand is drawn for.
const DRAWN: (f32, f32) = (1280.0, 800.0);
/// The sheet in it.
const SHEET: (f32, f32) = (936.0, 656.0);
/// Height of the zone of words, and of the bar map, on the sheet.
const WORDS_HEIGHT: f32 = 100.0;
const MAP_HEIGHT: f32 = 62.0;
/// The smallest type on the sheet that is read while playing: the counts between beats.
const SMALLEST_READ: f32 = 25.0;

/// Which zones there is room for. They leave in this order as distance grows; chord now, next name, strokes, counts
/// and words never do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Zones {
    /// Per cents beside the ladder.
    pub(super) percents: bool,
    /// The chord after next.
    pub(super) third: bool,
    /// The bar map.
    pub(super) map: bool,
    /// The next chord's diagram. Without it the sheet is laid out for reading from afar.
    pub(super) next_diagram: bool,
}

/// Whether the lines above and below the sheet are there.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lines {
    /// They are.
    Shown,
    /// The player is far away and playing: the sheet takes their place. They come back when the pointer moves.
    Hidden,
}

/// The parts of a window, in points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Frame {
    /// One drawn unit of the lines around the sheet.
    pub(super) unit: f32,
    /// One drawn unit on the sheet.
    pub(super) sheet_unit: f32,
    /// The least type size for what is read while playing.
    pub(super) least: f32,
    /// The line with the title.
    pub(super) top: Rect,
    /// The sheet.
    pub(super) sheet: Rect,
    /// The ladder.
    pub(super) ladder: Rect,
    /// The line with what can be done.
    pub(super) bottom: Rect,
    /// What there is room for.
    pub(super) zones: Zones,
}

impl Frame {
    /// How much room the ladder has.
    #[must_use]
    pub(super) const fn ladder_room(&self) -> Room {
        match (self.zones.next_diagram, self.zones.percents) {
            (false, _) => Room::Narrow,
            (true, false) => Room::Plain,
            (true, true) => Room::Wide,
        }
    }
}

/// Lays a window out.
#[must_use]
pub(super) fn frame(window: Rect, look: &Look, has_words: bool, lines: Lines) -> Frame {
    let fit = (window.width() / DRAWN.0).min(window.height() / DRAWN.1).max(0.05);
    let unit = line_unit(fit, look.scale);
    let least = look.least_pt();
    let near = near_frame(window, unit, has_words, least);
    let ratio = SMALLEST_READ * near.sheet_unit / least;
    let zones = Zones { percents: ratio > 0.95, third: ratio > 0.85, map: ratio > 0.78, next_diagram: ratio > 0.7 };
    if zones.next_diagram {
        let sheet_unit = sheet_unit(near.sheet, has_words, zones.map);
        Frame { zones, sheet_unit, ..near }
    } else {
        far_frame(window, fit, unit, lines, Frame { zones, ..near })
    }
}

/// Controls and titles follow the scale as far as the window allows, and grow with a large window.
fn line_unit(fit: f32, scale: f32) -> f32 {
    (scale * fit.clamp(1.0, 1.6)).min(fit * 1.15 * scale.max(1.0).powf(0.35))
}

fn near_frame(window: Rect, unit: f32, has_words: bool, least: f32) -> Frame {
    let line = 72.0 * unit;
    let margin = 32.0 * unit;
    let ladder_width = 312.0 * unit.min(window.width() / DRAWN.0);
    let (top, bottom) = (window.top() + line, window.bottom() - line);
    let edge = window.right() - ladder_width;
    let sheet = Rect::from_min_max(pos2(window.left() + margin, top), pos2(edge, bottom));
    Frame {
        unit,
        sheet_unit: sheet_unit(sheet, has_words, true),
        least,
        top: Rect::from_min_max(pos2(window.left() + margin, window.top()), pos2(window.right() - margin, top)),
        sheet,
        ladder: Rect::from_min_max(pos2(edge, top), pos2(window.right(), bottom)),
        bottom: Rect::from_min_max(
            pos2(window.left() + margin, bottom),
            pos2(window.right() - margin, window.bottom()),
        ),
        zones: Zones { percents: true, third: true, map: true, next_diagram: true },
    }
}

fn sheet_unit(sheet: Rect, has_words: bool, has_map: bool) -> f32 {
    (sheet.width() / SHEET.0).min(sheet.height() / drawn_height(has_words, has_map))
}

/// Height of what is on the sheet, in units.
#[must_use]
pub(super) fn drawn_height(has_words: bool, has_map: bool) -> f32 {
    let gone = if has_words { 0.0 } else { WORDS_HEIGHT } + if has_map { 0.0 } else { MAP_HEIGHT };
    SHEET.1 - gone
}

/// From afar the sheet takes four fifths of the window, and the lines are narrow or gone.
fn far_frame(window: Rect, fit: f32, unit: f32, lines: Lines, near: Frame) -> Frame {
    let margin = 24.0 * fit;
    let (above, below) = match lines {
        Lines::Hidden => (margin, margin),
        Lines::Shown => (72.0 * unit, 60.0 * unit),
    };
    let edge = window.right() - 260.0 * fit;
    let (top, bottom) = (window.top() + above, window.bottom() - below);
    let left = window.left() + margin;
    let sheet = Rect::from_min_max(pos2(left, top), pos2(edge, bottom));
    Frame {
        sheet_unit: (sheet.width() / 996.0).min(sheet.height() / 752.0),
        top: Rect::from_min_max(pos2(left, window.top()), pos2(window.right() - margin, top)),
        sheet,
        ladder: Rect::from_min_max(pos2(edge, top), pos2(window.right(), bottom)),
        bottom: Rect::from_min_max(pos2(left, bottom), pos2(window.right() - margin, window.bottom())),
        ..near
    }
}

#[cfg(test)]
mod tests;
