//! The sheet after a pass: a sentence, the plot, and one thing to do.

use egui::{Pos2, Rect, Ui, pos2, vec2};

use super::again;
use super::layout::Frame;
use super::{ChordView, Intent, Page, Phase, Proposal, ResultView, StandView};
use crate::draw::button::{self, Fill, button};
use crate::draw::chord::{self, Weight};
use crate::draw::strip::arrow;
use crate::draw::{Pen, Side, Type, announce, plot, press, say};
use crate::text;
use crate::theme::{Face, Step};

/// Draws the result of the last pass.
pub(super) fn show(
    ui: &Ui,
    pen: &Pen<'_>,
    frame: &Frame,
    view: &StandView,
    result: &ResultView,
    intents: &mut Vec<Intent>,
) {
    let unit = pen.unit;
    let sheet = frame.sheet;
    let left = sheet.left() + 44.0 * unit;
    let room = sheet.right() - 40.0 * unit - left;
    let y = |drawn: f32| sheet.top() + drawn * unit;
    let counted = goes_on(ui, pen, pos2(left + room, y(24.0)), view);
    let mut below = sentences(pen, pos2(left, y(24.0)), room - counted, result);
    let said = Rect::from_min_max(pos2(left, y(24.0)), pos2(left + room, below));
    announce(ui, said, "result", &text::spoken::result(result));
    if !result.offer.is_empty() {
        below = offer(ui, pen, pos2(left, below), room, &result.offer, intents);
    }
    let is_far = !frame.zones.next_diagram;
    let mut plot_rect = plot_place(frame, unit, below);
    if let Some(proposal) = view.proposal.as_ref().filter(|_| is_far) {
        plot_rect.max.y -= far_height(result, proposal) * unit;
    }
    // From afar a proposal comes before the plot.
    let has_room = !is_far || plot_rect.height() >= LEAST_PLOT * unit;
    let plotted = result.plot.as_deref().filter(|_| has_room);
    let is_plotted = plotted.is_some();
    let small = pen.with_unit(if is_far { unit * 1.5 } else { unit });
    if let Some(plot) = plotted {
        plot::paint(ui, &small, plot_rect, plot);
    }
    if let Some(hear) = result.hear {
        let level = if is_plotted { plot_rect.bottom() } else { below } + 13.0 * small.unit;
        again::show(ui, &small, pos2(plot_rect.right(), level), plot_rect.width() * 0.85, hear, intents);
    }
    let rule = if is_plotted {
        plot_rect.bottom() + 44.0 * unit
    } else {
        below + 24.0 * unit + if result.hear.is_some() { 20.0 * unit } else { 0.0 }
    };
    if let Some(proposal) = &view.proposal {
        pen.rule(pos2(plot_rect.left(), rule), pos2(plot_rect.right(), rule), unit.max(1.0), pen.palette().hair);
        let foot = if frame.zones.map { sheet.bottom() - 70.0 * unit } else { sheet.bottom() - 16.0 * unit };
        let area = Rect::from_min_max(pos2(left, rule), pos2(left + room, foot));
        // From afar there is room for more than on a full sheet.
        let pen = if frame.zones.next_diagram { pen.clone() } else { pen.with_unit(unit * 1.4) };
        propose(ui, &pen, area, &result.focus, proposal, intents);
    }
    if frame.zones.map {
        super::sheet::bar_map(ui, pen, frame, view, intents);
    }
}

/// A plot lower than this says nothing from afar, in units.
const LEAST_PLOT: f32 = 100.0;

/// How much of a sheet read from afar a proposal takes, in units.
fn far_height(result: &ResultView, proposal: &Proposal) -> f32 {
    let lines = if result.focus.is_empty() { 150.0 } else { 200.0 };
    if proposal.change.is_some() { 250.0 } else { lines }
}

/// Where the plot lies, under what is said; from afar it takes what is left of the sheet.
fn plot_place(frame: &Frame, unit: f32, below: f32) -> Rect {
    let sheet = frame.sheet;
    let y = |drawn: f32| sheet.top() + drawn * unit;
    let (top, bottom) = if frame.zones.next_diagram {
        let spare = (sheet.height() / unit - 656.0).max(0.0);
        (y(178.0).max(below + 44.0 * unit), y(346.0 + spare * 0.6).max(below + 130.0 * unit))
    } else {
        (below + 64.0 * unit, sheet.bottom() - 64.0 * unit)
    };
    Rect::from_min_max(pos2(sheet.left() + 40.0 * unit, top), pos2(sheet.right() - 40.0 * unit, bottom))
}

/// When the next pass comes by itself, at the right: large enough to be read from where one sits. Says how wide it is.
fn goes_on(ui: &Ui, pen: &Pen<'_>, corner: Pos2, view: &StandView) -> f32 {
    let Some(seconds) = view.goes_on_in_s else { return 0.0 };
    let unit = pen.unit;
    let palette = *pen.palette();
    let number = pen.read(Face::Bold, Step::Huge, palette.now);
    let middle = corner.y + number.size * 0.5;
    let shown = pen.text_level(pos2(corner.x, middle), Side::Right, &seconds.to_string(), number, f32::INFINITY);
    // The word keeps its place while the number counts.
    let left = corner.x - (2.0 * pen.width("0", number)).max(shown.width()) - 14.0 * unit;
    let words = pen.read(Face::Medium, Step::Body, palette.quiet);
    let said = if view.listens { text::PLAYED_IN } else { text::GOES_ON_IN };
    let drawn = pen.text_level(pos2(left, middle), Side::Right, said, words, f32::INFINITY);
    say(ui, Rect::from_min_max(drawn.min, shown.max), "goes on", &text::spoken::goes_on_in(seconds, view.listens));
    corner.x - drawn.left() + 24.0 * unit
}

/// Headline and sentences; says where they end.
fn sentences(pen: &Pen<'_>, corner: Pos2, room: f32, result: &ResultView) -> f32 {
    let palette = *pen.palette();
    let gap = 4.0 * pen.unit;
    let sets = [
        (&result.headline, pen.read(Face::BookBold, Step::Large, palette.ink)),
        (&result.detail, pen.set(Face::Regular, Step::Body, palette.ink)),
        (&result.quiet, pen.set(Face::Regular, Step::Body, palette.quiet)),
    ];
    let mut y = corner.y;
    for (words, set) in sets {
        if !words.is_empty() {
            // From afar all of it grows, and the headline stays the largest.
            let least = pen.least * if set.face == Face::BookBold { 1.1 } else { 0.75 };
            let set = Type { size: set.size.max(least), ..set };
            y = pen.paragraph(pos2(corner.x, y), words, set, room, 3).bottom() + gap;
        }
    }
    y
}

/// A line that leads to the page where chords are heard; says where it ends.
fn offer(ui: &Ui, pen: &Pen<'_>, corner: Pos2, room: f32, words: &str, intents: &mut Vec<Intent>) -> f32 {
    let set = pen.set(Face::Regular, Step::Body, pen.palette().now);
    let set = Type { size: set.size.max(pen.least * 0.75), ..set };
    let drawn = pen.paragraph(corner, words, set, room, 2);
    if press(ui, pen, drawn.expand2(vec2(4.0, 2.0)), "offer", words).clicked() {
        intents.push(Intent::OpenPage(Page::Chords));
    }
    drawn.bottom() + 4.0 * pen.unit
}

/// Why, and the one filled button.
pub(super) fn propose(ui: &Ui, pen: &Pen<'_>, area: Rect, focus: &str, proposal: &Proposal, intents: &mut Vec<Intent>) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let label = pen.set(Face::SemiBold, Step::Label, palette.quiet);
    pen.text_level(area.min + vec2(0.0, 31.0 * unit), Side::Left, focus, label, area.width());
    let mut left = area.left();
    if let Some((from, to)) = proposal.change.as_ref().filter(|_| area.width() > 700.0 * unit) {
        change(pen, area.min + vec2(0.0, 58.0 * unit), from, to);
        left += 464.0 * unit;
    }
    let set = pen.set(Face::Regular, Step::Body, palette.ink);
    let set = Type { size: set.size.max(pen.least * 0.6), ..set };
    let mut y = area.top() + if focus.is_empty() { 20.0 } else { 52.0 } * unit;
    for line in &proposal.because {
        y = pen.paragraph(pos2(left, y), line, set, area.right() - left, 2).bottom() + 4.0 * unit;
    }
    let height = (38.0 * unit).max(28.0);
    let y = (y + 12.0 * unit).min(area.bottom() - height);
    let width = button::width(pen, &proposal.label).max(196.0 * unit).min(area.right() - left - 40.0 * unit);
    let rect = Rect::from_min_size(pos2(left, y), vec2(width, height));
    if button(ui, pen, rect, &proposal.label, Fill::Filled).clicked() {
        intents.push(Intent::TakeProposal);
    }
    let key = pen.set(Face::Regular, Step::Small, palette.quiet);
    pen.text_level(pos2(rect.right() + 14.0 * unit, rect.center().y), Side::Left, "C", key, 40.0 * unit);
}

fn change(pen: &Pen<'_>, corner: Pos2, from: &ChordView, to: &ChordView) {
    let unit = pen.unit;
    let ink = pen.palette().ink;
    for (chord, x) in [(from, 0.0), (to, 254.0)] {
        let set = pen.fitted(&chord.name, pen.set(Face::Bold, Step::Huge, ink), 56.0 * unit);
        pen.text(corner + vec2(x * unit, 41.0 * unit), Side::Left, &chord.name, set);
        if let Some(shape) = &chord.shape {
            chord::paint(pen, shape, chord::board(corner + vec2((x + 66.0) * unit, 0.0), 86.0 * unit), 0, Weight::Ink);
        }
    }
    let y = 36.0 * unit;
    let (tail, head) = (corner + vec2(186.0 * unit, y), corner + vec2(230.0 * unit, y));
    arrow(pen, tail, head, 2.5 * unit, 10.0 * unit, pen.palette().quiet);
}

/// Asks the player how the pass was.
pub(super) fn ask(ui: &Ui, pen: &Pen<'_>, frame: &Frame, view: &StandView, intents: &mut Vec<Intent>) {
    debug_assert_eq!(view.phase, Phase::SelfMark);
    let unit = pen.unit;
    let corner = frame.sheet.min + vec2(44.0, 24.0) * unit;
    let room = frame.sheet.width() - 84.0 * unit;
    let question = ResultView {
        headline: text::MARK_TITLE.to_owned(),
        detail: text::MARK_WORDS.to_owned(),
        ..ResultView::default()
    };
    let y = sentences(pen, corner, room, &question) + 28.0 * unit;
    let height = (38.0 * unit).max(28.0);
    let choices = [
        (text::MARK_CLEAN, "M", Fill::Filled, Intent::MarkClean),
        (text::MARK_NOT_CLEAN, "N", Fill::Outline, Intent::MarkNotClean),
    ];
    let mut x = corner.x;
    for (words, key, fill, intent) in choices {
        let rect = Rect::from_min_size(pos2(x, y), vec2(button::width(pen, words).max(196.0 * unit), height));
        if button(ui, pen, rect, words, fill).clicked() {
            intents.push(intent);
        }
        let set = pen.set(Face::Regular, Step::Small, pen.palette().quiet);
        pen.text_level(pos2(rect.right() + 12.0 * unit, rect.center().y), Side::Left, key, set, 40.0 * unit);
        x = rect.right() + 64.0 * unit;
    }
    if frame.zones.map {
        super::sheet::bar_map(ui, pen, frame, view, intents);
    }
}
