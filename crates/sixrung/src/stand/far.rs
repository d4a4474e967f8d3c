//! The sheet read from afar: only what is played, as large as it goes.

use egui::{Rect, Ui, pos2};

use super::layout::Frame;
use super::sheet::{beats, strip_row};
use super::{ChordView, ChordsView, NextChord, StandView};
use crate::draw::chord::{self, Weight};
use crate::draw::{Pen, Side, Type, say, words};
use crate::text;
use crate::theme::Face;

/// Draws it; `pen` is in units of a sheet of 996 × 752.
pub(super) fn show(ui: &Ui, pen: &Pen<'_>, frame: &Frame, view: &StandView) {
    let unit = pen.unit;
    let sheet = frame.sheet;
    // Wide or low windows stretch the drawing sideways, not the type.
    let (wide, high) = (sheet.width() / unit / 996.0, sheet.height() / unit / 752.0);
    let at = |x: f32, y: f32| pos2(sheet.left() + x * wide * unit, sheet.top() + y * high * unit);
    if let Some(chords) = &view.chords {
        chords_row(ui, pen, &at, view, chords);
    }
    let strip = Rect::from_min_max(at(32.0, 334.0), at(968.0, 570.0));
    strip_row(ui, &pen.with_unit(unit * 1.44), strip, view);
    if !view.words.lines.is_empty() {
        let row = Rect::from_min_max(at(40.0, 596.0), at(968.0, 744.0));
        words::paint(&pen.with_unit(unit * 1.7), row, &view.words, 1);
    }
}

fn chords_row(ui: &Ui, pen: &Pen<'_>, at: &dyn Fn(f32, f32) -> egui::Pos2, view: &StandView, chords: &ChordsView) {
    let unit = pen.unit;
    let now = Type { face: Face::Bold, size: 172.0 * unit, colour: pen.palette().ink };
    let room = at(236.0, 0.0).x - at(44.0, 0.0).x - 16.0 * unit;
    pen.text(at(44.0, 154.0), Side::Left, &chords.now.name, pen.fitted(&chords.now.name, now, room));
    if let Some(shape) = &chords.now.shape {
        chord::paint(pen, shape, chord::board(at(240.0, 58.0), 220.0 * unit), chords.capo, Weight::Ink);
    }
    let area = Rect::from_min_max(at(32.0, 20.0), at(480.0, 300.0));
    say(ui, area, "now", &text::spoken::chord_name(text::phase_label(view), &chords.now));
    if let Some(next) = &chords.next {
        next_column(pen, at, next, chords.then.as_ref().filter(|_| chords.then_is_soon));
        let area = Rect::from_min_max(at(520.0, 20.0), at(960.0, 300.0));
        say(ui, area, "next", &text::spoken::next_name(next));
    }
}

/// The coming chord; beside it the one after it, where that follows at once.
fn next_column(pen: &Pen<'_>, at: &dyn Fn(f32, f32) -> egui::Pos2, next: &NextChord, then: Option<&ChordView>) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let room = at(960.0, 0.0).x - at(536.0, 0.0).x;
    let label = Type { face: Face::SemiBold, size: (30.0 * unit).max(pen.least), colour: palette.quiet };
    pen.text_level(at(536.0, 49.0), Side::Left, &text::next_in(next.beats_left), label, room);
    let name = Type { face: Face::Bold, size: 134.0 * unit, colour: palette.ink };
    let share = if then.is_some() { 0.56 } else { 1.0 };
    pen.text(at(536.0, 183.0), Side::Left, &next.chord.name, pen.fitted(&next.chord.name, name, room * share));
    if let Some(then) = then {
        let edge = at(960.0, 183.0);
        let after = Type { face: Face::SemiBold, size: 80.0 * unit, colour: palette.quiet };
        let width = room * (1.0 - share) - 16.0 * unit;
        pen.text(edge, Side::Right, &then.name, pen.fitted(&then.name, after, width));
    }
    beats(&pen.with_unit(unit * 1.9), at(554.0, 238.0), next, 14.5 * unit, 44.0 * unit, room);
}
