//! The tempo ladder: rungs are tempi, the player's rung is thick and carries its pegs, held rungs are lashed.

use egui::{Rect, Ui, pos2, vec2};

use super::control::{press, say};
use super::pen::{Pen, Side};
use crate::stand::{LadderView, RungState};
use crate::theme::{Face, Motion, Step};

/// How much room there is for a ladder.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Room {
    /// Tempi to the left of the rails, per cents to the right, a sentence underneath.
    Wide,
    /// Without the per cents.
    Plain,
    /// Read from afar: tempi between the rails, only the rungs around the player's.
    Narrow,
}

/// A ladder laid out in points.
#[derive(Clone, Debug, PartialEq)]
pub struct Ladder {
    /// The x of both rails.
    pub rails: (f32, f32),
    /// Top and bottom of the rails.
    pub ends: (f32, f32),
    /// The rungs shown: index and y, the highest first.
    pub rungs: Vec<(usize, f32)>,
}

/// Lays `rungs` rungs out in `rect`. With [`Room::Narrow`] only the neighbours of `current` are shown.
#[must_use]
pub fn lay_out(rect: Rect, rungs: usize, current: usize, room: Room, unit: f32) -> Ladder {
    let (rails, head) = match room {
        Room::Wide | Room::Plain => {
            let left = rect.left() + rect.width() * 84.0 / 312.0;
            ((left, rect.left() + rect.width() * 236.0 / 312.0), 38.0 * unit)
        }
        Room::Narrow => ((rect.left() + rect.width() * 0.29, rect.left() + rect.width() * 0.71), 0.0),
    };
    let ends = (rect.top() + head, rect.bottom() - head);
    let shown = match room {
        Room::Narrow => current.saturating_sub(1)..(current + 2).min(rungs),
        Room::Wide | Room::Plain => 0..rungs,
    };
    let inset = match room {
        Room::Narrow => (ends.1 - ends.0) * 0.15,
        Room::Wide | Room::Plain => 38.0 * unit,
    };
    #[expect(clippy::cast_precision_loss, reason = "rungs are at most a few dozen")]
    let gap = (ends.1 - ends.0 - 2.0 * inset) / (shown.len().max(2) - 1) as f32;
    #[expect(clippy::cast_precision_loss, reason = "rungs are at most a few dozen")]
    let y = |place: usize| ends.0 + inset + gap * place as f32;
    let rungs = shown.rev().enumerate().map(|(place, rung)| (rung, y(place))).collect();
    Ladder { rails, ends, rungs }
}

/// Shows the ladder in `rect`; gives the rung that was pressed.
pub fn ladder(ui: &Ui, pen: &Pen<'_>, rect: Rect, view: &LadderView, room: Room) -> Option<usize> {
    if view.rungs.is_empty() {
        return None;
    }
    let layout = lay_out(rect, view.rungs.len(), view.current, room, pen.unit);
    let thick = 8.0 * pen.unit;
    for x in [layout.rails.0, layout.rails.1] {
        pen.line(pos2(x, layout.ends.0), pos2(x, layout.ends.1), thick, pen.palette().wood);
    }
    if room != Room::Narrow {
        let set = pen.set(Face::Medium, Step::Label, pen.palette().quiet);
        let middle = f32::midpoint(layout.rails.0, layout.rails.1);
        pen.text_level(pos2(middle, rect.top() + 23.0 * pen.unit), Side::Centre, crate::text::TEMPO, set, rect.width());
        let set = pen.set(Face::Medium, Step::Label, pen.palette().ink);
        pen.text_level(
            pos2(middle, rect.bottom() - 17.0 * pen.unit),
            Side::Centre,
            &view.sentence,
            set,
            rect.width() - 8.0 * pen.unit,
        );
    }
    say(ui, rect, "ladder", &crate::text::ladder_name(view));
    let gap = layout.rungs.windows(2).map(|pair| pair[1].1 - pair[0].1).fold(f32::INFINITY, f32::min);
    let mut pressed = None;
    for (rung, y) in &layout.rungs {
        paint_rung(pen, rect, &layout, view, (*rung, *y), gap, room);
        let half = (gap / 2.0).min(24.0 * pen.unit).max(4.0);
        let target = Rect::from_min_max(pos2(rect.left() + 8.0, y - half), pos2(rect.right() - 8.0, y + half));
        if press(ui, pen, target, ("rung", rung), &crate::text::rung_name(view, *rung)).clicked() {
            pressed = Some(*rung);
        }
    }
    paint_marker(ui, pen, &layout, view, room);
    pressed
}

fn paint_rung(
    pen: &Pen<'_>,
    rect: Rect,
    ladder: &Ladder,
    view: &LadderView,
    (rung, y): (usize, f32),
    gap: f32,
    room: Room,
) {
    let palette = *pen.palette();
    let is_current = rung == view.current;
    let Some(seen) = view.rungs.get(rung) else { return };
    let (left, right) = ladder.rails;
    let (width, colour) = match (is_current, seen.state) {
        (true, _) => (8.0, palette.wood),
        (false, RungState::Ahead) => (5.0, palette.pale_wood),
        (false, RungState::Known | RungState::Held) => (5.0, palette.wood),
    };
    let width = (width * pen.unit).min(gap * 0.4);
    pen.line(pos2(left, y), pos2(right, y), width, colour);
    if seen.state == RungState::Held {
        for x in [left, right] {
            paint_lashing(pen, pos2(x, y));
        }
    }
    // With many rungs the names thin out; the player's own is always there.
    let step = if gap < 16.0 * pen.unit { 3 } else { 1 };
    if is_current || rung.is_multiple_of(step) {
        paint_tempo(pen, rect, ladder, (view, rung), y, gap, room);
    }
    if is_current {
        paint_pegs(pen, ladder, view, y - width / 2.0, gap, room);
    }
}

fn paint_lashing(pen: &Pen<'_>, at: egui::Pos2) {
    let colour = pen.palette().sheet;
    let reach = 6.5 * pen.unit;
    for offset in [-2.5, 3.5] {
        let middle = at + vec2(0.0, offset * pen.unit);
        pen.rule(middle - vec2(reach, reach * 0.65), middle + vec2(reach, reach * 0.65), 2.0 * pen.unit, colour);
    }
}

fn paint_tempo(
    pen: &Pen<'_>,
    rect: Rect,
    ladder: &Ladder,
    (view, rung): (&LadderView, usize),
    y: f32,
    gap: f32,
    room: Room,
) {
    let palette = *pen.palette();
    let is_current = rung == view.current;
    let Some(seen) = view.rungs.get(rung) else { return };
    let (face, step) = match (is_current, room) {
        (true, Room::Narrow) => (Face::Bold, Step::Huge),
        (true, _) => (Face::Bold, Step::Large),
        (false, Room::Narrow) => (Face::Medium, Step::Large),
        (false, _) => (Face::Medium, Step::Lead),
    };
    let colour = if is_current || seen.state != RungState::Ahead { palette.ink } else { palette.quiet };
    let mut set = pen.read(face, step, colour);
    set.size = set.size.min(gap * 0.95).max(9.0 * pen.unit);
    match room {
        Room::Narrow => {
            let room = ladder.rails.1 - ladder.rails.0 - 14.0 * pen.unit;
            let set = pen.fitted(&seen.bpm, set, room);
            let lift = if is_current { 1.25 } else { 0.75 };
            pen.text_level(pos2(rect.center().x, y - set.size * lift), Side::Centre, &seen.bpm, set, room);
        }
        Room::Wide | Room::Plain => {
            let right = ladder.rails.0 - 22.0 * pen.unit;
            pen.text_level(pos2(right, y), Side::Right, &seen.bpm, set, right - rect.left());
        }
    }
    if room == Room::Wide {
        let left = ladder.rails.1 + if is_current { 34.0 } else { 14.0 } * pen.unit;
        let mut set = pen.set(Face::Regular, Step::Small, palette.quiet);
        set.size = set.size.min(gap * 0.95);
        pen.text_level(pos2(left, y), Side::Left, &crate::text::percent(seen.percent), set, rect.right() - left);
    }
}

fn paint_pegs(pen: &Pen<'_>, ladder: &Ladder, view: &LadderView, rung_top: f32, gap: f32, room: Room) {
    let span = ladder.rails.1 - ladder.rails.0 - 12.0 * pen.unit;
    let count = u16::try_from(view.pegs_total).unwrap_or(u16::MAX);
    let drawn = if room == Room::Narrow { span / f32::from(count) } else { 30.0 * pen.unit };
    let pitch = drawn.min(span / f32::from(count));
    let radius = (9.5 * pen.unit).min(pitch * 0.42).min(gap * 0.2);
    let middle = f32::midpoint(ladder.rails.0, ladder.rails.1);
    for peg in 0..count {
        let x = middle + pitch * (f32::from(peg) - f32::from(count - 1) / 2.0);
        let at = pos2(x, rung_top - radius - 1.0 * pen.unit);
        pen.dot(at, radius, pen.palette().sheet);
        if u32::from(peg) < view.pegs_filled {
            pen.dot(at, radius, pen.palette().ink);
        } else {
            pen.ring(at, radius, (2.2 * pen.unit).max(1.5), pen.palette().ink);
        }
    }
}

/// The marker climbs from rung to rung in 400 ms; with reduced motion it is simply there.
fn paint_marker(ui: &Ui, pen: &Pen<'_>, ladder: &Ladder, view: &LadderView, room: Room) {
    let Some((_, y)) = ladder.rungs.iter().find(|(rung, _)| *rung == view.current) else { return };
    let y = match (pen.theme.look.motion, room) {
        (Motion::Full, Room::Wide | Room::Plain) => {
            ui.ctx().animate_value_with_time(ui.scope_id().with("marker"), *y, 0.4)
        }
        _ => *y,
    };
    if room != Room::Narrow {
        let tip = ladder.rails.1 + 14.0 * pen.unit;
        let (back, half) = (tip + 14.0 * pen.unit, 9.0 * pen.unit);
        pen.triangle([pos2(tip, y), pos2(back, y - half), pos2(back, y + half)], pen.palette().now);
    }
}

#[cfg(test)]
mod tests {
    use egui::{Rect, pos2};

    use super::{Room, lay_out};

    const RECT: Rect = Rect { min: pos2(968.0, 72.0), max: pos2(1280.0, 728.0) };

    #[test]
    fn the_fastest_rung_is_the_highest_and_all_stand_between_the_ends() {
        for rungs in [1, 2, 6, 24] {
            let ladder = lay_out(RECT, rungs, 0, Room::Wide, 1.0);
            assert_eq!(ladder.rungs.len(), rungs);
            assert_eq!(ladder.rungs[0].0, rungs - 1);
            assert!(ladder.rungs.windows(2).all(|pair| pair[0].1 < pair[1].1));
            assert!(ladder.rungs.iter().all(|(_, y)| (ladder.ends.0..=ladder.ends.1).contains(y)));
        }
    }

    #[test]
    fn from_afar_only_the_neighbours_are_shown() {
        let rows = [(0, 6, vec![1, 0]), (2, 6, vec![3, 2, 1]), (5, 6, vec![5, 4]), (0, 1, vec![0])];
        for (current, rungs, expected) in rows {
            let shown: Vec<_> =
                lay_out(RECT, rungs, current, Room::Narrow, 1.0).rungs.iter().map(|(rung, _)| *rung).collect();
            assert_eq!(shown, expected, "at {current} of {rungs}");
        }
    }
}
