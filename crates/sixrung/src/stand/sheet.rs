//! The sheet while playing, or before: chord now, next and then, the bar, the words, the bar map.

use egui::{Rect, Ui, pos2, vec2};
use sixrung_practice::Step as PathStep;

use super::layout::{Frame, drawn_height};
use super::{BarStrip, ChordView, ChordsView, Intent, NextChord, Phase, StandView};
use crate::draw::chord::{self, Weight};
use crate::draw::map::{self, Picked};
use crate::draw::{Pen, Side, say, strip, words};
use crate::text;
use crate::theme::{Face, Step};

/// Draws it; `pen` is in units of the sheet.
pub(super) fn show(ui: &Ui, pen: &Pen<'_>, frame: &Frame, view: &StandView, intents: &mut Vec<Intent>) {
    let rows = Rows::of(pen, frame, view);
    if let Some(chords) = &view.chords {
        chords_row(ui, pen, &rows, frame, view, chords);
    }
    let unit = pen.unit;
    let (left, right) = (frame.sheet.left() + 40.0 * unit, frame.sheet.right() - 40.0 * unit);
    pen.rule(pos2(left, rows.hair), pos2(right, rows.hair), unit.max(1.0), pen.palette().hair);
    let bar = Rect::from_min_max(pos2(left, rows.strip), pos2(right, rows.strip + 164.0 * unit * rows.strip_scale));
    strip_row(ui, &pen.with_unit(unit * rows.strip_scale), bar, view);
    if rows.word_rows > 0 {
        let top = pos2(left + 4.0 * unit, rows.words);
        #[expect(clippy::cast_precision_loss, reason = "one or two rows")]
        let size = vec2(right - top.x, 80.0 * unit * rows.word_scale * rows.word_rows as f32);
        let pen = pen.with_unit(unit * rows.word_scale);
        words::paint(&pen, Rect::from_min_size(top, size), &view.words, rows.word_rows);
    }
    if frame.zones.map {
        bar_map(ui, pen, frame, view, intents);
    }
}

/// The bar map at the foot of the sheet.
pub(super) fn bar_map(ui: &Ui, pen: &Pen<'_>, frame: &Frame, view: &StandView, intents: &mut Vec<Intent>) {
    if view.map.bars.is_empty() {
        return;
    }
    let unit = pen.unit;
    let foot = frame.sheet.bottom() - 21.0 * unit;
    let rect = Rect::from_min_max(
        pos2(frame.sheet.left() + 43.0 * unit, foot - 45.0 * unit),
        pos2(frame.sheet.right() - 37.0 * unit, foot),
    );
    match map::map(ui, pen, rect, &view.map) {
        Some(Picked::Bars(bars)) => intents.push(Intent::ChooseBars(bars)),
        Some(Picked::All) => intents.push(Intent::AllBars),
        None => {}
    }
}

/// Heights on the sheet, in points from the window's top. What a tall sheet has to spare goes between the rows.
struct Rows {
    hair: f32,
    strip: f32,
    words: f32,
    word_rows: usize,
    /// How large strokes and words are beside their usual size.
    strip_scale: f32,
    word_scale: f32,
}

/// Where one sings, the words are large and the strokes small.
fn sings(view: &StandView) -> bool {
    view.path.as_ref().is_some_and(|path| matches!(path.current, PathStep::OneStroke | PathStep::Sing))
}

impl Rows {
    fn of(pen: &Pen<'_>, frame: &Frame, view: &StandView) -> Self {
        let has_words = !view.words.lines.is_empty();
        if has_words && sings(view) {
            return Self::singing(pen, frame);
        }
        let spare = (frame.sheet.height() / pen.unit - drawn_height(has_words, frame.zones.map)).max(0.0);
        let word_rows = usize::from(has_words) + usize::from(has_words && spare > 90.0);
        let spare = if word_rows > 1 { spare - 80.0 } else { spare };
        let y = |drawn: f32| frame.sheet.top() + drawn * pen.unit;
        Self {
            hair: y(266.0 + spare * 0.3),
            strip: y(286.0 + spare * 0.45),
            words: y(493.0 + spare * 0.7),
            word_rows,
            strip_scale: 1.0,
            word_scale: 1.0,
        }
    }

    fn singing(pen: &Pen<'_>, frame: &Frame) -> Self {
        let spare = (frame.sheet.height() / pen.unit - drawn_height(true, frame.zones.map)).max(0.0);
        let y = |drawn: f32| frame.sheet.top() + drawn * pen.unit;
        Self {
            hair: y(266.0 + spare * 0.3),
            strip: y(288.0 + spare * 0.4),
            words: y(404.0 + spare * 0.6),
            word_rows: 2,
            strip_scale: 0.66,
            word_scale: 1.12,
        }
    }
}

fn chords_row(ui: &Ui, pen: &Pen<'_>, rows: &Rows, frame: &Frame, view: &StandView, chords: &ChordsView) {
    let unit = pen.unit;
    // A wide sheet spreads its columns; a tall one moves them down a little.
    let spread = (frame.sheet.width() / unit / 936.0).clamp(1.0, 1.4);
    let down = ((rows.hair - frame.sheet.top()) / unit - 266.0) * 0.4;
    let at = |x: f32, y: f32| pos2(frame.sheet.left() + x * spread * unit, frame.sheet.top() + (y + down) * unit);
    let area = |from: f32, to: f32| Rect::from_min_max(at(from, 20.0), at(to, 250.0));
    label(pen, at(44.0, 35.0), text::phase_label(view));
    let ink = pen.palette().ink;
    let name = pen.fitted(&chords.now.name, pen.read(Face::Bold, Step::Now, ink), 116.0 * unit * spread);
    pen.text(at(44.0, 125.0), Side::Left, &chords.now.name, name);
    below(pen, at(46.0, 151.0), &chords.now);
    if let Some(shape) = &chords.now.shape {
        chord::paint(pen, shape, chord::board(at(184.0, 57.5), 190.0 * unit), chords.capo, Weight::Ink);
    }
    say(ui, area(40.0, 400.0), "now", &text::spoken::chord_name(text::phase_label(view), &chords.now));
    if let Some(next) = &chords.next {
        next_column(pen, &at, next, spread);
        say(ui, area(430.0, 700.0), "next", &text::spoken::next_name(next));
    }
    if let Some(then) = chords.then.as_ref().filter(|_| frame.zones.third || chords.then_is_soon) {
        label(pen, at(754.0, 35.0), text::THEN);
        let set = pen.fitted(&then.name, pen.read(Face::SemiBold, Step::Large, pen.palette().quiet), 140.0 * unit);
        pen.text(at(754.0, 79.0), Side::Left, &then.name, set);
        if let Some(shape) = then.shape.as_ref().filter(|_| frame.zones.third) {
            chord::paint(pen, shape, chord::board(at(768.0, 116.0), 75.0 * unit), 0, Weight::Quiet);
        }
        say(ui, area(750.0, 900.0), "then", &text::spoken::chord_name(text::THEN, then));
    }
}

fn next_column(pen: &Pen<'_>, at: &dyn Fn(f32, f32) -> egui::Pos2, next: &NextChord, spread: f32) {
    let unit = pen.unit;
    let palette = *pen.palette();
    label(pen, at(436.0, 35.0), text::NEXT);
    let room = 98.0 * unit * spread;
    let name = pen.fitted(&next.chord.name, pen.read(Face::Bold, Step::Next, palette.ink), room);
    pen.text(at(436.0, 95.0), Side::Left, &next.chord.name, name);
    let words = text::in_beats(next.beats_left);
    let set = pen.fitted(&words, pen.read(Face::Medium, Step::Body, palette.ink), room);
    pen.text_level(at(436.0, 138.0), Side::Left, &words, set, room);
    beats(pen, at(443.5, 168.0), next, 7.5 * unit, 22.0 * unit, room - 7.0 * unit);
    if let Some(shape) = &next.chord.shape {
        chord::paint(pen, shape, chord::board(at(556.0, 57.5), 125.0 * unit), 0, Weight::Ink);
    }
    below(pen, at(438.0, 202.0), &next.chord);
}

/// Beats left as dots: filled ones are still to come.
pub(super) fn beats(pen: &Pen<'_>, first: egui::Pos2, next: &NextChord, radius: f32, pitch: f32, room: f32) {
    let count = u16::try_from(next.beats_shown).unwrap_or(u16::MAX);
    let pitch = pitch.min(room / f32::from(count.max(1)));
    let radius = radius.min(pitch * 0.45);
    for beat in 0..count {
        let at = first + vec2(pitch * f32::from(beat), 0.0);
        if u32::from(beat) < next.beats_left {
            pen.dot(at, radius, pen.palette().now);
        } else {
            pen.ring(at, radius, (1.8 * pen.unit).max(1.5), pen.palette().now);
        }
    }
}

/// A quiet word above a column.
fn label(pen: &Pen<'_>, at: egui::Pos2, words: &str) {
    let set = pen.set(Face::SemiBold, Step::Label, pen.palette().quiet);
    pen.text_level(at, Side::Left, words, set, 320.0 * pen.unit);
}

/// What a chord stands in for, and what it sounds, under its name.
fn below(pen: &Pen<'_>, at: egui::Pos2, chord: &ChordView) {
    let set = pen.set(Face::Medium, Step::Label, pen.palette().quiet);
    let words = [chord.stands_in_for.as_deref().map(text::stands_in), chord.sounds.as_deref().map(text::sounds)];
    for (row, words) in words.into_iter().flatten().enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "two rows")]
        let at = at + vec2(0.0, 20.0 * pen.unit * row as f32);
        pen.text_level(at, Side::Left, &words, set, 124.0 * pen.unit);
    }
}

/// The bar, turned over in time, with the cursor.
pub(super) fn strip_row(ui: &Ui, pen: &Pen<'_>, rect: Rect, view: &StandView) {
    let Some(this) = view.bar.as_deref() else { return };
    let next = view.next_bar.as_deref();
    let (cursor, turned) = match view.cursor {
        Some(at) => {
            let (place, turned) = strip::cursor_place(at, this, next);
            (Some(place), turned)
        }
        None => (None, false),
    };
    let shown = if turned { next.unwrap_or(this) } else { this };
    let moment =
        strip::Moment { cursor, sounding: view.sounding.filter(|_| !turned), counted: counted(&view.phase, shown) };
    strip::paint(pen, rect, shown, moment);
    say(ui, rect, "bar", &text::spoken::bar_name(shown));
}

/// The beat of the bar that is being counted in.
fn counted(phase: &Phase, bar: &BarStrip) -> Option<usize> {
    let Phase::CountIn { beat, .. } = phase else { return None };
    let beats = bar.slots.iter().filter(|slot| slot.on_beat).count().max(1);
    Some((*beat as usize).saturating_sub(1) % beats)
}
