//! A bar as a row of strokes with counts under it.
//!
//! A plain arrow with its head where the hand goes, a letter under it, an accent over it; a deadened stroke has a cross,
//! an air stroke is a short dash; a bass stroke starts from a dot.

use std::collections::BTreeMap;
use std::ops::Range;

use sixrung_lesson::{
    Action, Bar, Direction, Dynamic, Meter, Pattern, Score, Slot, Stroke, Tick, TripletCount, counts,
};

use crate::mark::{Ends, Face, Ink, Mark, Side};
use crate::name::{NO_CHORD, chord_name, stroke_letter};
use crate::place::{Point, Rect};

/// One bar's strokes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct BarStrip {
    /// The slots in order.
    pub slots: Vec<SlotView>,
    /// The beats in order, as fractions of the bar: every other one is shaded.
    pub beats: Vec<Range<f32>>,
}

/// One slot of a bar.
#[derive(Clone, Debug, PartialEq)]
pub struct SlotView {
    /// Where it begins, 0 to 1 of the bar.
    pub at: f32,
    /// How long it is, as a fraction of the bar.
    pub width: f32,
    /// What the hand does.
    pub action: Action,
    /// Which way the hand goes.
    pub direction: Direction,
    /// How loud.
    pub dynamic: Dynamic,
    /// Its count: `1`, `&`, `e`, `a`.
    pub count: String,
    /// Whether a beat begins here: its count is drawn large.
    pub on_beat: bool,
    /// The new chord's name where the chord changes within the bar.
    pub change: Option<String>,
}

/// Every bar of a score as a strip, in order.
#[must_use]
pub fn strips(score: &Score) -> Vec<BarStrip> {
    let mut slots: BTreeMap<usize, Vec<&Slot>> = BTreeMap::new();
    for slot in &score.slots {
        slots.entry(slot.bar).or_default().push(slot);
    }
    let of = |(index, bar)| strip(score, bar, slots.get(&index).map_or(&[][..], Vec::as_slice));
    score.bars.iter().enumerate().map(of).collect()
}

fn strip(score: &Score, bar: &Bar, slots: &[&Slot]) -> BarStrip {
    let length = bar.meter.bar();
    let slot = |slot: &&Slot| {
        let within = slot.at - bar.start;
        let count = score.count(slot, TripletCount::default()).to_string();
        let change = (slot.stroke.changes && within > Tick::ZERO).then(|| match slot.shape {
            Some(shape) => chord_name(&score.shapes[shape].name),
            None => NO_CHORD.to_owned(),
        });
        slot_view(within, slot.length, length, bar.meter, slot.stroke, count, change)
    };
    BarStrip { slots: slots.iter().map(slot).collect(), beats: beats(bar.meter, length) }
}

/// A pattern's bars as strips with the length of each, the last of them shorter where it does not fill its bar.
/// `change` names the chord at each change point.
#[must_use]
pub fn pattern_strips(pattern: &Pattern, meter: Meter, change: &str) -> Vec<(BarStrip, Tick)> {
    let (bar, whole) = (meter.bar(), pattern.length());
    let mut strips: Vec<(BarStrip, Tick)> = Vec::new();
    for (index, stroke) in (0..).zip(&pattern.strokes) {
        let (at, end) = (pattern.grid.slot_start(index), pattern.grid.slot_start(index + 1));
        let start = Tick(at.0 / bar.0 * bar.0);
        let length = Tick(bar.0.min((whole - start).0));
        if strips.len() <= (at.0 / bar.0) as usize {
            strips.push((BarStrip { slots: Vec::new(), beats: beats(meter, length) }, length));
        }
        let count = counts(meter, pattern.grid, index, TripletCount::default()).to_string();
        let change = stroke.changes.then(|| change.to_owned());
        let view = slot_view(at - start, end - at, length, meter, *stroke, count, change);
        if let Some((strip, _)) = strips.last_mut() {
            strip.slots.push(view);
        }
    }
    strips
}

fn slot_view(
    at: Tick,
    width: Tick,
    length: Tick,
    meter: Meter,
    stroke: Stroke,
    count: String,
    change: Option<String>,
) -> SlotView {
    let beat = meter.beat().0;
    SlotView {
        at: share(at, length),
        width: share(width, length),
        action: stroke.action,
        direction: stroke.direction,
        dynamic: stroke.dynamic,
        count,
        on_beat: at.0.is_multiple_of(beat) || (meter.is_compound() && at.0.is_multiple_of(beat / 3)),
        change,
    }
}

fn beats(meter: Meter, length: Tick) -> Vec<Range<f32>> {
    let beat = meter.beat();
    let place = |number| share(Tick((beat * number).0.min(length.0)), length);
    (0..length.0.div_ceil(beat.0)).map(|number| place(number)..place(number + 1)).collect()
}

#[expect(clippy::cast_possible_truncation, reason = "a fraction of a bar, for drawing")]
fn share(at: Tick, length: Tick) -> f32 {
    (f64::from(at.0) / f64::from(length.0)) as f32
}

/// How far along its bar's time the picture is shifted, so that a stroke stands in the middle of its slot: half the
/// shortest slot, as a fraction of the bar, so that the last arrow too stays inside.
#[must_use]
pub fn lead(strip: &BarStrip) -> f32 {
    let shortest = strip.slots.iter().map(|slot| slot.width).fold(1.0, f32::min);
    if strip.slots.is_empty() { 0.0 } else { shortest / 2.0 }
}

/// The middle of a slot in the picture, 0 to 1: slots of unequal length (swing) keep their unequal places.
#[must_use]
pub fn middle(slot: &SlotView, strip: &BarStrip) -> f32 {
    slot.at + lead(strip)
}

/// Heights in a strip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rows {
    /// Middle of the accents.
    pub accent: f32,
    /// Top and bottom of the arrows.
    pub arrow: (f32, f32),
    /// Middle of the letters.
    pub letter: f32,
    /// Middle of the counts.
    pub count: f32,
}

impl Rows {
    /// As drawn in a strip 164 units high.
    #[must_use]
    pub fn of(rect: Rect) -> Self {
        let y = |share: f32| rect.min.y + rect.height() * share / 164.0;
        Self { accent: y(11.0), arrow: (y(22.0), y(86.0)), letter: y(106.0), count: y(141.0) }
    }
}

/// Where a stroke is drawn and how large.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StrokePlace {
    /// Its middle.
    pub x: f32,
    /// The strip's heights.
    pub rows: Rows,
    /// Width of the shortest slot.
    pub room: f32,
    /// Points in one unit of the drawing.
    pub unit: f32,
    /// The thinnest line, in points.
    pub least: f32,
}

/// A stroke: its arrow or sign, in `ink`.
#[must_use]
pub fn stroke(slot: &SlotView, place: StrokePlace, ink: Ink) -> Vec<Mark> {
    let StrokePlace { x, rows, room, unit, least } = place;
    let width = (4.0 * unit).min(room * 0.12).max(least);
    let (top, bottom) = rows.arrow;
    let level = f32::midpoint(top, bottom);
    let reach = (15.0 * unit).min(room * 0.2);
    let flat = |half: f32, width: f32| Mark::Line {
        from: Point::new(x - half, level),
        to: Point::new(x + half, level),
        width,
        ends: Ends::Round,
        ink: Ink::Thin,
    };
    match slot.action {
        Action::Air => vec![flat(reach * 0.45, width * 0.75)],
        Action::Ring => vec![flat(room * 0.3, width * 0.4)],
        Action::Stop => {
            let corner = Point::new(x - reach * 0.5, level - reach * 0.5);
            let rect = Rect::sized(corner, reach, reach);
            vec![Mark::Frame { rect, radius: 1.0, width: width * 0.8, ink }]
        }
        Action::Strum | Action::Bass | Action::Chuck => sounding(slot, x, rows, (width, reach), ink),
    }
}

/// The letter under a stroke.
#[must_use]
pub fn letter(slot: &SlotView, place: StrokePlace, size: f32) -> Option<Mark> {
    let letter = stroke_letter(slot.action, slot.direction);
    let size = size.min(place.room * 0.6);
    let at = Point::new(place.x, place.rows.letter);
    (!letter.is_empty()).then(|| Mark::level(at, Side::Centre, letter, (Face::Medium, size), Ink::Quiet))
}

fn sounding(slot: &SlotView, x: f32, rows: Rows, (width, reach): (f32, f32), ink: Ink) -> Vec<Mark> {
    let (top, bottom) = rows.arrow;
    let height = bottom - top;
    // Up strokes are drawn a little shorter, soft ones shorter still.
    let top = match slot.direction {
        Direction::Down => top,
        Direction::Up => top + height * 0.22,
    };
    let top = if slot.dynamic == Dynamic::Soft { top + height * 0.22 } else { top };
    let width = if slot.dynamic == Dynamic::Soft { width * 0.65 } else { width };
    let (tail, head) = match slot.direction {
        Direction::Down => (Point::new(x, top), Point::new(x, bottom)),
        Direction::Up => (Point::new(x, bottom), Point::new(x, top)),
    };
    let mut marks = Vec::new();
    if slot.action == Action::Bass {
        // Only the lowest string is struck: the arrow starts from a dot and is short.
        let short = tail + (head - tail) * 0.45;
        marks.extend(arrow(short, head, width, reach * 0.6, ink));
        marks.push(Mark::Dot { at: short, radius: width * 1.2, ink });
    } else {
        marks.extend(arrow(tail, head, width, reach * 0.6, ink));
    }
    if slot.action == Action::Chuck {
        marks.push(Mark::Cross { at: tail + (head - tail) * 0.42, reach: reach * 0.6, width, ink });
    }
    if slot.dynamic == Dynamic::Accent {
        let tip = Point::new(x + reach * 0.6, rows.accent);
        let behind = |up: f32| Point::new(x - reach * 0.6, tip.y + reach * up);
        marks.push(Mark::Path { points: vec![behind(-0.4), tip, behind(0.4)], width: width * 0.5, ink });
    }
    marks
}

/// A plain arrow with an open head.
#[must_use]
pub fn arrow(tail: Point, head: Point, width: f32, reach: f32, ink: Ink) -> [Mark; 2] {
    let along = (head - tail).one_long() * reach;
    let across = along.turned();
    [
        Mark::Line { from: tail, to: head, width, ends: Ends::Round, ink },
        Mark::Path { points: vec![head - along + across, head, head - along - across], width, ink },
    ]
}

#[cfg(test)]
mod tests;
