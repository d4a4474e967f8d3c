//! "Let me hear your chords": one chord at a time, large; rings that fill as strokes are heard; one sentence that says
//! what to do now. Both hands stay on the guitar.

mod far;
pub(super) mod view;

use egui::{Pos2, Rect, Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};
use sixrung_lesson::Direction;
use sixrung_listen::{LearnWait, Way};

use self::view::{AskedChord, ChordItem, ChordState, ChordsPage};
use super::parts::Hand;
use crate::draw::chord::{self, Weight};
use crate::draw::strip::arrow;
use crate::draw::{Pen, Side, meter, say};
use crate::stand::{ChordsWish, HearingState, Intent};
use crate::text::{self as words, chords as text};
use crate::theme::{Face, Step};

/// Most strokes in one row.
const IN_A_ROW: u16 = 20;
/// Where the words beside the diagram begin, in units from the left.
const WORDS_LEFT: f32 = 470.0;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &ChordsPage, intents: &mut Vec<Intent>) {
    hand.heading_near(ui, text::TITLE);
    if view.shapes.is_empty() {
        return hand.sentence(ui, text::EMPTY);
    }
    let size = vec2(ui.available_width(), if hand.is_far { 334.0 } else { 290.0 } * hand.unit);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit).reading(hand.theme.look.least_pt());
    match &view.now {
        _ if view.hearing.state == HearingState::NoMicrophone => alone(ui, &pen, rect, text::DEAF, text::DEAF_CURE),
        Some(asked) if hand.is_far => far::ask(ui, &pen, rect, asked, view),
        Some(asked) => ask(ui, &pen, rect, asked, view),
        None if view.is_done => {
            let more = if view.directions.is_some() { text::DONE_MORE } else { text::DONE_NO_DIRECTIONS };
            alone(ui, &pen, rect, text::DONE, more);
        }
        None => alone(ui, &pen, rect, words::hearing(view.hearing.state), ""),
    }
    chords(ui, hand, view, intents);
    let keys = if view.now.is_some() { text::KEYS } else { text::KEYS_DONE };
    hand.gap(ui, 6.0);
    hand.sentence(ui, keys);
    hand.gap(ui, 8.0);
    let mut more = Vec::new();
    hand.columns(ui, |ui| known(ui, hand, view, intents), |ui| guitars(ui, hand, view, &mut more));
    intents.append(&mut more);
}

/// A large sentence and a quiet one, with nothing asked for.
fn alone(ui: &Ui, pen: &Pen<'_>, rect: Rect, sentence: &str, more: &str) {
    let unit = pen.unit;
    let set = pen.read(Face::SemiBold, Step::Huge, pen.palette().ink);
    let below = pen.paragraph(rect.min + vec2(0.0, 40.0 * unit), sentence, set, rect.width(), 2).bottom();
    let set = pen.read(Face::Regular, Step::Lead, pen.palette().quiet);
    pen.paragraph(pos2(rect.left(), below + 14.0 * unit), more, set, rect.width(), 4);
    say(ui, rect, "asked", &format!("{sentence} {more}"));
}

/// Which chord of how many it is.
fn which(pen: &Pen<'_>, at: Pos2, asked: &AskedChord) {
    if asked.of > 1 {
        let set = pen.set(Face::SemiBold, Step::Label, pen.palette().quiet);
        pen.text_level(at, Side::Left, &text::which(asked.number, asked.of), set, 200.0 * pen.unit);
    }
}

/// The chord, what to play of it, and how much of that was heard.
fn ask(ui: &Ui, pen: &Pen<'_>, rect: Rect, asked: &AskedChord, view: &ChordsPage) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let at = |x: f32, y: f32| rect.min + vec2(x, y) * unit;
    let name = pen.fitted(&asked.chord.name, pen.set(Face::Bold, Step::Now, palette.ink), 150.0 * unit);
    pen.text(at(0.0, 118.0), Side::Left, &asked.chord.name, name);
    if let Some(shape) = &asked.chord.shape {
        chord::paint(pen, shape, chord::board(at(190.0, 36.0), 220.0 * unit), view.capo, Weight::Ink);
    }
    which(pen, at(WORDS_LEFT, 12.0), asked);
    hears(pen, pos2(rect.right(), rect.top() + 12.0 * unit), view);
    let room = rect.right() - at(WORDS_LEFT, 0.0).x;
    let (sentence, more) = text::instruction(asked.task.way, asked.wait, asked.task.strokes, &asked.chord.name);
    let set = pen.fitted(&sentence, pen.set(Face::SemiBold, Step::Large, palette.ink), room);
    pen.text_level(at(WORDS_LEFT, 56.0), Side::Left, &sentence, set, room);
    let set = pen.fitted(&more, pen.set(Face::Regular, Step::Lead, palette.quiet), room);
    pen.text_level(at(WORDS_LEFT, 92.0), Side::Left, &more, set, room);
    let marks = Rect::from_min_max(at(WORDS_LEFT, 124.0), pos2(rect.right(), at(0.0, 214.0).y));
    strokes(pen, marks, asked);
    if let Some(trouble) = asked.trouble {
        let told = text::trouble(trouble, asked.task);
        let set = pen.set(Face::Medium, Step::Lead, palette.late);
        pen.paragraph(at(WORDS_LEFT, 228.0), &format!("△ {told}"), set, room, 3);
    }
    say(ui, rect, "asked", &spoken(asked));
}

/// All of it as it is read aloud.
fn spoken(asked: &AskedChord) -> String {
    let (sentence, more) = text::instruction(asked.task.way, asked.wait, asked.task.strokes, &asked.chord.name);
    let counted = text::counted(asked.heard, asked.task.strokes);
    let spoken = format!("{} {sentence} {more} {counted}", words::spoken::chord_name(text::ASKED, &asked.chord));
    match asked.trouble {
        Some(trouble) => format!("{spoken}. {}", text::trouble(trouble, asked.task)),
        None => spoken,
    }
}

/// The word and the meter that say that it hears.
fn hears(pen: &Pen<'_>, right: egui::Pos2, view: &ChordsPage) {
    let unit = pen.unit;
    let palette = pen.palette();
    let bars = Rect::from_min_max(right - vec2(98.0, 9.0) * unit, right + vec2(0.0, 9.0) * unit);
    let too_loud = view.hearing.state == HearingState::TooLoud;
    meter::paint(pen, bars, view.hearing.level, too_loud);
    let colour = match view.hearing.state {
        HearingState::HearsYou => palette.heard,
        HearingState::Listening | HearingState::NoMicrophone => palette.quiet,
        HearingState::CannotHear | HearingState::TooLoud => palette.late,
    };
    let set = pen.set(Face::SemiBold, Step::Small, colour);
    let words = words::hearing(view.hearing.state);
    pen.text_level(pos2(bars.left() - 11.0 * unit, right.y), Side::Right, words, set, 200.0 * unit);
}

/// Slow strokes as rings that fill, strokes in turn as arrows that are inked. While the fingers go down they are thin.
fn strokes(pen: &Pen<'_>, rect: Rect, asked: &AskedChord) {
    let unit = pen.unit;
    let palette = *pen.palette();
    let count = u16::try_from(asked.task.strokes).unwrap_or(IN_A_ROW);
    let in_a_row = count.clamp(1, IN_A_ROW);
    let rows = count.div_ceil(in_a_row).max(1);
    let is_counting = asked.wait == LearnWait::Strokes;
    let is_slow = asked.task.way == Way::Slow;
    let pitch = (rect.width() / f32::from(in_a_row)).min(if is_slow { 76.0 } else { 44.0 } * unit);
    let row_height = rect.height() / f32::from(rows);
    for index in 0..count {
        let x = rect.left() + pitch * (f32::from(index % in_a_row) + 0.5);
        let y = rect.top() + row_height * (f32::from(index / in_a_row) + 0.5);
        let at = pos2(x, y);
        let was_heard = u32::from(index) < asked.heard;
        let is_next = is_counting && u32::from(index) == asked.heard;
        let colour = match (was_heard, is_next) {
            (true, _) => palette.heard,
            (false, true) => palette.now,
            (false, false) => palette.thin,
        };
        let width = if is_next { 4.0 } else { 2.0 } * unit;
        if is_slow {
            let radius = (pitch * 0.34).min(row_height * 0.45);
            if was_heard {
                pen.dot(at, radius, colour);
            } else {
                pen.ring(at, radius, width.max(1.5), colour);
            }
            continue;
        }
        let half = vec2(0.0, (row_height * 0.36).min(30.0 * unit));
        let (tail, head) = match asked.task.direction(usize::from(index)) {
            Direction::Down => (at - half, at + half),
            Direction::Up => (at + half, at - half),
        };
        let width = if was_heard { 4.0 * unit } else { width };
        arrow(pen, tail, head, width.max(1.5), (pitch * 0.24).min(9.0 * unit), colour);
    }
}

/// The stretch's chords side by side: which is learned, which is asked for, which comes. A press asks for one again.
fn chords(ui: &mut Ui, hand: Hand, view: &ChordsPage, intents: &mut Vec<Intent>) {
    let size = vec2(ui.available_width(), 62.0 * hand.unit);
    let (row, _) = ui.allocate_exact_size(size, Sense::hover());
    let count = u16::try_from(view.shapes.len()).unwrap_or(u16::MAX).max(1);
    let width = (row.width() / f32::from(count)).min(150.0 * hand.unit);
    for (place, item) in (0_u16..).zip(&view.shapes) {
        let corner = row.min + vec2(width * f32::from(place), 0.0);
        let cell = Rect::from_min_size(corner, vec2(width, row.height()));
        if chord_cell(ui, hand, cell, item) {
            intents.push(Intent::Chords(ChordsWish::Only(usize::from(place))));
        }
    }
}

fn chord_cell(ui: &Ui, hand: Hand, cell: Rect, item: &ChordItem) -> bool {
    let state = text::state(&item.state);
    let name = text::chord_control(&item.name, &state);
    let response = hand.cell(ui, cell, ("chord", name.as_str()), || WidgetInfo::labeled(Role::Button, true, &name));
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    let unit = pen.unit;
    let palette = *pen.palette();
    let (colour, face) = match item.state {
        ChordState::Now => (palette.now, Face::Bold),
        ChordState::Known(_) => (palette.ink, Face::SemiBold),
        ChordState::Coming | ChordState::LeftOut => (palette.quiet, Face::Medium),
    };
    let left = cell.left() + 4.0 * unit;
    let room = cell.width() - 12.0 * unit;
    let set = pen.fitted(&item.name, pen.set(face, Step::Title, colour), room);
    let drawn = pen.text_level(pos2(left, cell.top() + 20.0 * unit), Side::Left, &item.name, set, room);
    match item.state {
        ChordState::Now => {
            let level = cell.top() + 36.0 * unit;
            pen.line(pos2(drawn.left(), level), pos2(drawn.right(), level), 3.0 * unit, palette.now);
        }
        ChordState::Known(_) => tick(&pen, pos2(drawn.right() + 12.0 * unit, cell.top() + 20.0 * unit)),
        ChordState::Coming | ChordState::LeftOut => {}
    }
    let set = pen.set(Face::Regular, Step::Small, palette.quiet);
    pen.text_level(pos2(left, cell.top() + 48.0 * unit), Side::Left, &state, set, room);
    response.clicked()
}

/// A tick: it is learned.
fn tick(pen: &Pen<'_>, at: egui::Pos2) {
    let unit = pen.unit;
    let points = [(-6.0, 0.0), (-1.5, 5.0), (7.0, -6.0)].map(|(x, y)| at + vec2(x, y) * unit);
    pen.path(points.to_vec(), (2.5 * unit).max(1.5), pen.palette().heard);
}

/// What is known of this guitar, and how to forget it.
fn known(ui: &mut Ui, hand: Hand, view: &ChordsPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::LEARNED);
    let strokes = view.directions.as_deref().map_or_else(|| text::NO_DIRECTIONS.to_owned(), text::directions);
    hand.sentence(ui, &strokes);
    let knows = view.directions.is_some() || view.shapes.iter().any(|item| matches!(item.state, ChordState::Known(_)));
    if knows && hand.link(ui, text::FORGET) {
        intents.push(Intent::Chords(ChordsWish::Forget));
    }
}

/// Which guitar is played: each sounds its own way.
fn guitars(ui: &mut Ui, hand: Hand, view: &ChordsPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::GUITAR);
    for guitar in &view.guitars {
        if hand.choice(ui, guitar, "", *guitar == view.guitar).clicked() {
            intents.push(Intent::Chords(ChordsWish::Guitar(guitar.clone())));
        }
    }
    if let Some(name) = hand.field_to_send(ui, text::ANOTHER_GUITAR) {
        intents.push(Intent::Chords(ChordsWish::Guitar(name)));
    }
}
