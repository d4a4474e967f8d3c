//! Changes: two shapes side by side, to and fro; how long each change takes, and the tempo that fits. Both hands stay
//! on the guitar.

pub(super) mod far;
pub(super) mod view;

use egui::{Pos2, Rect, Sense, Ui, pos2, vec2};

use self::view::{ChangesPage, DrillView};
use super::parts::Hand;
use crate::draw::chord;
use crate::draw::{Pen, Side, say};
use crate::stand::{ChangesWish, HearingState, Intent};
use crate::text::changes as text;
use crate::theme::{Face, Step};

/// Where the words beside the diagrams begin, in units from the left.
const WORDS_LEFT: f32 = 590.0;
/// The longest change the little plot shows, in seconds; longer ones are drawn at its top.
const LONGEST_S: f32 = 4.0;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &ChangesPage, intents: &mut Vec<Intent>) {
    hand.heading_near(ui, text::TITLE);
    let Some(drill) = &view.drill else { return hand.sentence(ui, text::EMPTY) };
    let painter = ui.painter().clone();
    let pen = Pen::new(&painter, hand.theme, hand.unit).reading(hand.theme.look.least_pt());
    let below = if hand.is_far { far::LINES * far::line(&pen) } else { 0.0 };
    let size = vec2(ui.available_width(), 318.0 * hand.unit + below);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    if hand.is_far {
        far::both(ui, &pen, rect, drill, view);
    } else {
        both(ui, &pen, rect, drill, view);
    }
    hand.sentence_near(ui, text::KEYS);
    if hand.is_far {
        // What comes below is not half in sight.
        hand.gap(ui, 24.0);
    }
    let mut more = Vec::new();
    hand.columns(ui, |ui| pairs(ui, hand, view, intents), |ui| known(ui, hand, drill, view, &mut more));
    intents.append(&mut more);
}

fn both(ui: &Ui, pen: &Pen<'_>, rect: Rect, drill: &DrillView, view: &ChangesPage) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let at = |x: f32, y: f32| rect.min + vec2(x, y) * unit;
    shapes(pen, rect.min, 300.0, drill, view);
    let left = at(WORDS_LEFT, 0.0).x;
    let room = rect.right() - left;
    let sentence = sentence(drill, view);
    let set = pen.read(Face::SemiBold, Step::Large, palette.ink);
    let mut y = pen.paragraph(at(WORDS_LEFT, 20.0), sentence, set, room, 3).bottom() + 8.0 * unit;
    let set = pen.set(Face::Regular, Step::Lead, palette.ink);
    for words in &drill.moves {
        y = pen.paragraph(pos2(left, y), words, set, room, 2).bottom() + 6.0 * unit;
    }
    let figures = text::figures(drill);
    let set = pen.set(Face::SemiBold, Step::Title, if drill.is_steady { palette.heard } else { palette.ink });
    let level = pos2(left, (y + 26.0 * unit).max(at(0.0, 206.0).y));
    pen.text_level(level, Side::Left, &figures, pen.fitted(&figures, set, room), room);
    let plot = Rect::from_min_max(pos2(left, level.y + 26.0 * unit), pos2(rect.right(), at(0.0, 308.0).y));
    times(pen, plot, drill);
    say(ui, rect, "changes", &spoken(drill, view));
}

/// All of it as it is read aloud.
fn spoken(drill: &DrillView, view: &ChangesPage) -> String {
    let names = [0, 1].map(|index| drill.chords[index].name.as_str()).join(" – ");
    format!("{names}. {} {} {}", sentence(drill, view), drill.moves.join(" "), text::figures(drill))
}

/// The two shapes, the second `pitch` units from the first, and the way between them.
fn shapes(pen: &Pen<'_>, corner: Pos2, pitch: f32, drill: &DrillView, view: &ChangesPage) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let at = |x: f32, y: f32| corner + vec2(x, y) * unit;
    for (index, chord) in drill.chords.iter().enumerate() {
        let left = if index == 0 { 0.0 } else { pitch };
        let is_heard = drill.heard == Some(index);
        let colour = if is_heard { palette.now } else { palette.ink };
        let name = pen.fitted(&chord.name, pen.set(Face::Bold, Step::Next, colour), 240.0 * unit);
        let drawn = pen.text(at(left + 8.0, 62.0), Side::Left, &chord.name, name);
        if is_heard {
            let level = drawn.bottom() + 2.0 * unit;
            pen.line(pos2(drawn.left(), level), pos2(drawn.right(), level), 3.0 * unit, palette.now);
        }
        if let Some(shape) = &chord.shape {
            let board = chord::board(at(left + 12.0, 110.0), 212.0 * unit);
            chord::paint_change(pen, shape, board, view.capo, &drill.fingers[index]);
        }
    }
    to_and_fro(pen, at(pitch - 32.0, 196.0));
}

/// What to do now.
fn sentence<'a>(drill: &'a DrillView, view: &ChangesPage) -> &'a str {
    let is_deaf = view.hearing.state == HearingState::NoMicrophone;
    if is_deaf { text::DEAF } else { drill.sentence.as_str() }
}
/// An arrow each way between the two shapes.
fn to_and_fro(pen: &Pen<'_>, at: Pos2) {
    let unit = pen.unit;
    let quiet = pen.palette().quiet;
    for (y, way) in [(-12.0, 1.0), (12.0, -1.0)] {
        let half = vec2(17.0 * unit * way, 0.0);
        let middle = at + vec2(0.0, y * unit);
        crate::draw::strip::arrow(pen, middle - half, middle + half, (2.5 * unit).max(1.5), 8.0 * unit, quiet);
    }
}

/// The slow ones as rings that fill; then each change as a stem, as high as it took.
fn times(pen: &Pen<'_>, rect: Rect, drill: &DrillView) {
    let unit = pen.unit;
    let palette = *pen.palette();
    if drill.count < drill.slow {
        for (place, index) in (0_u8..).zip(0..drill.slow) {
            let at = pos2(rect.left() + (16.0 + 40.0 * f32::from(place)) * unit, rect.center().y);
            if index < drill.count {
                pen.dot(at, 13.0 * unit, palette.heard);
            } else {
                pen.ring(
                    at,
                    13.0 * unit,
                    (2.0 * unit).max(1.5),
                    if index == drill.count { palette.now } else { palette.thin },
                );
            }
        }
        return;
    }
    pen.rule(rect.left_bottom(), rect.right_bottom(), unit.max(1.0), palette.hair);
    let longest = drill.times_s.iter().copied().fold(1.0_f32, f32::max).min(LONGEST_S);
    let pitch = (rect.width() / 24.0).min(22.0 * unit);
    for (place, time) in (0_u16..).zip(&drill.times_s) {
        let x = rect.left() + pitch * (f32::from(place) + 0.5);
        let top = rect.bottom() - (rect.height() - 10.0 * unit) * (time.min(longest) / longest);
        pen.rule(pos2(x, rect.bottom()), pos2(x, top), (2.0 * unit).max(1.5), palette.thin);
        pen.dot(pos2(x, top), 5.0 * unit, palette.ink);
    }
}

/// The section's pairs. A press asks for one.
fn pairs(ui: &mut Ui, hand: Hand, view: &ChangesPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::PAIRS);
    for (place, pair) in view.pairs.iter().enumerate() {
        if hand.choice(ui, &pair.name, &pair.detail, pair.is_now).clicked() {
            intents.push(Intent::Changes(ChangesWish::Only(place)));
        }
    }
}

fn known(ui: &mut Ui, hand: Hand, drill: &DrillView, view: &ChangesPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::HOW);
    hand.sentence(ui, text::HOW_WORDS);
    if drill.botched > 0 {
        hand.sentence(ui, &text::botched(drill.botched));
    }
    if !view.offer.is_empty() {
        hand.label(ui, text::OFFER);
        hand.line(ui, &view.offer);
    }
    hand.gap(ui, 8.0);
    if hand.link(ui, text::MARK) {
        intents.push(Intent::MarkStep(sixrung_practice::Step::Changes, sixrung_practice::Done::SelfMarked));
    }
}
