//! A pass as it was heard: time to the right, late above the line, early below, the window shaded.

mod strings;

use egui::{Pos2, Rect, Ui, pos2, vec2};
use sixrung_lesson::Direction;

use super::control::say;
use super::pen::{Pen, Side};
use super::strip::arrow;
use crate::stand::{MarkKind, PlotMark, PlotView};
use crate::theme::{Face, Step};

/// How many window half-widths the plot reaches above and below its line.
const REACH: f32 = 2.2;

/// Where a mark lies in `rect`. What would lie outside is drawn at the edge.
#[must_use]
pub fn place(mark: &PlotMark, window_ms: f32, rect: Rect) -> Pos2 {
    let share = (mark.offset_ms / (window_ms.max(1.0) * REACH)).clamp(-1.0, 1.0);
    let inset = rect.height() * 0.04;
    let half = rect.height() / 2.0 - inset;
    pos2(rect.left() + rect.width() * mark.at.clamp(0.0, 1.0), rect.center().y - half * share)
}

/// Draws the plot in `rect`, its labels above and below it.
pub fn paint(ui: &Ui, pen: &Pen<'_>, rect: Rect, plot: &PlotView) {
    let palette = *pen.palette();
    say(ui, rect, "plot", &crate::text::plot_name(plot));
    let half = rect.height() / 2.0 / REACH;
    let middle = rect.center().y;
    let window = Rect::from_x_y_ranges(rect.x_range(), middle - half..=middle + half);
    pen.block(window, 0.0, palette.shade);
    let hair = pen.unit.max(1.0);
    for at in plot.bar_lines.iter().chain(&[0.0, 1.0]) {
        let x = rect.left() + rect.width() * at;
        pen.rule(pos2(x, rect.top()), pos2(x, rect.bottom()), hair, palette.hair);
    }
    pen.rule(pos2(rect.left(), middle), pos2(rect.right(), middle), hair * 1.5, palette.thin);
    paint_chords(pen, rect, plot);
    for mark in &plot.marks {
        paint_mark(pen, mark, place(mark, plot.window_ms, rect));
    }
    let label = |y: f32, words: &str, colour| {
        let set = pen.set(Face::SemiBold, Step::Small, colour);
        pen.text_level(pos2(rect.left(), y), Side::Left, words, set, rect.width());
    };
    label(rect.top() - 13.0 * pen.unit, crate::text::LATE, palette.late);
    label(rect.bottom() + 13.0 * pen.unit, crate::text::EARLY, palette.now);
}

fn paint_chords(pen: &Pen<'_>, rect: Rect, plot: &PlotView) {
    let palette = *pen.palette();
    for chord in &plot.chords {
        let left = rect.left() + rect.width() * chord.span.start + 6.0 * pen.unit;
        let right = rect.left() + rect.width() * chord.span.end;
        let set = pen.set(Face::SemiBold, Step::Label, palette.quiet);
        pen.text_level(pos2(left, rect.top() + 9.0 * pen.unit), Side::Left, &chord.name, set, right - left);
        // Above the plot, where no stroke lies; the word for late has the corner.
        let from = left.max(rect.left() + 48.0 * pen.unit);
        strings::paint(pen, pos2(from, rect.top() - 14.0 * pen.unit), right - from, &chord.strings);
        if let Some(heard) = &chord.heard {
            let y = rect.bottom() - 22.0 * pen.unit;
            let thick = 4.0 * pen.unit;
            let bar = Rect::from_x_y_ranges(left..=right - 6.0 * pen.unit, y..=y + thick);
            pen.block(bar, thick / 2.0, palette.late);
            let set = pen.set(Face::SemiBold, Step::Small, palette.late);
            let words = crate::text::heard_instead(heard);
            pen.text_level(pos2(left, y + 13.0 * pen.unit), Side::Left, &words, set, right - left);
        }
    }
}

fn paint_mark(pen: &Pen<'_>, mark: &PlotMark, at: Pos2) {
    let palette = *pen.palette();
    let unit = pen.unit;
    match mark.kind {
        MarkKind::InTime => pen.dot(at, 4.5 * unit, palette.ink),
        MarkKind::Missed => {
            // The line is taken out of the ring, so that it reads as empty.
            pen.dot(at, 6.5 * unit, palette.shade);
            pen.ring(at, 6.5 * unit, (1.8 * unit).max(1.5), palette.ink);
        }
        MarkKind::Late | MarkKind::Early => {
            let tip = if mark.kind == MarkKind::Late { 7.0 } else { -7.0 } * unit;
            let corners =
                [pos2(at.x - tip, at.y - 7.0 * unit), pos2(at.x + tip, at.y), pos2(at.x - tip, at.y + 7.0 * unit)];
            pen.triangle(corners, palette.late);
        }
        MarkKind::Extra => pen.cross(at, 4.0 * unit, (2.0 * unit).max(1.5), palette.quiet),
    }
    if let Some(way) = mark.other_way {
        // A small arrow the way the hand went, under the stroke it belongs to.
        let (top, bottom) = (at + vec2(0.0, 10.0) * unit, at + vec2(0.0, 28.0) * unit);
        let (tail, head) = if way == Direction::Down { (top, bottom) } else { (bottom, top) };
        arrow(pen, tail, head, (2.0 * unit).max(1.5), 5.0 * unit, palette.late);
    }
}

#[cfg(test)]
mod tests {
    use egui::{Rect, pos2};

    use super::place;
    use crate::stand::{MarkKind, PlotMark};

    #[test]
    fn time_goes_right_late_lies_above_and_nothing_leaves_the_plot() {
        let rect = Rect::from_min_max(pos2(0.0, 0.0), pos2(100.0, 100.0));
        let at =
            |at, offset_ms| place(&PlotMark { at, offset_ms, kind: MarkKind::InTime, other_way: None }, 80.0, rect);
        assert_eq!(at(0.5, 0.0), pos2(50.0, 50.0));
        assert!(at(0.5, 30.0).y < 50.0 && at(0.5, -30.0).y > 50.0);
        assert!(at(0.2, 0.0).x < at(0.3, 0.0).x);
        for (x, offset) in [(-1.0, 1e6), (2.0, -1e6), (0.5, 80.0 * 2.2)] {
            assert!(rect.contains(at(x, offset)), "{x} {offset}");
        }
        // The edge of the window is where the shading ends.
        let edge = at(0.5, 80.0).y;
        assert!((edge - (50.0 - 46.0 / 2.2)).abs() < 0.01, "{edge}");
    }
}
