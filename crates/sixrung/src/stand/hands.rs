//! The sheet where practice rests: the question how the hands feel, a break, and the end of practice for the day.

use egui::{Rect, Ui, pos2, vec2};
use sixrung_practice::Felt;

use super::layout::Frame;
use super::{Intent, Pause, Phase, StandView};
use crate::draw::button::{self, Fill, button};
use crate::draw::{Pen, say};
use crate::text::{care as text, today};
use crate::theme::{Face, Step};

/// Whether this sheet is the one to show.
pub(super) const fn shows(phase: &Phase) -> bool {
    matches!(phase, Phase::AskHands | Phase::Paused(Pause::Hurts | Pause::HurtBefore | Pause::Break))
}

/// Draws it.
pub(super) fn show(ui: &Ui, pen: &Pen<'_>, frame: &Frame, view: &StandView, intents: &mut Vec<Intent>) {
    let fine = (text::FINE, Fill::Filled, Intent::Feel(Felt::Fine));
    let sore = (text::SORE_ANSWER, Fill::Outline, Intent::Feel(Felt::Sore));
    let pain = (text::PAIN, Fill::Outline, Intent::Feel(Felt::Pain));
    match view.phase {
        Phase::Paused(Pause::Hurts) => {
            let gone = (text::PLAY_ANYWAY, Fill::Outline, Intent::PlayAnyway);
            sheet(ui, pen, frame, [text::STOPPED, text::STOPPED_WORDS, text::GENERAL], &[gone], intents);
        }
        Phase::Paused(Pause::HurtBefore) => {
            let gone = (text::PLAY_ANYWAY, Fill::Outline, Intent::PlayAnyway);
            sheet(ui, pen, frame, [text::BEFORE, text::BEFORE_WORDS, text::GENERAL], &[gone], intents);
        }
        Phase::Paused(Pause::Break) => {
            let why = view.today.as_ref().map_or("", |today| today.why.as_str());
            sheet(ui, pen, frame, [today::BREAK_TITLE, today::BREAK_WORDS, why], &[], intents);
        }
        _ => {
            let words = [text::QUESTION, text::QUESTION_WORDS, text::KEYS];
            sheet(ui, pen, frame, words, &[fine, sore, pain], intents);
        }
    }
}

type Answer<'a> = (&'a str, Fill, Intent);

fn sheet(ui: &Ui, pen: &Pen<'_>, frame: &Frame, words: [&str; 3], answers: &[Answer<'_>], intents: &mut Vec<Intent>) {
    // From afar there is room for larger answers.
    let pen = &pen.with_unit(pen.unit * if frame.zones.next_diagram { 1.0 } else { 1.5 });
    let unit = pen.unit;
    let palette = *pen.palette();
    let corner = frame.sheet.min + vec2(44.0, 40.0) * unit;
    let room = (frame.sheet.width() - 88.0 * unit).min(760.0 * unit);
    let sets = [
        pen.read(Face::BookBold, Step::Huge, palette.ink),
        pen.read(Face::Regular, Step::Lead, palette.ink),
        pen.set(Face::Regular, Step::Body, palette.quiet),
    ];
    let mut y = corner.y;
    for (words, set) in words.into_iter().zip(sets).filter(|(words, _)| !words.is_empty()) {
        y = pen.paragraph(pos2(corner.x, y), words, set, room, 9).bottom() + 12.0 * unit;
    }
    let spoken = Rect::from_min_max(corner, pos2(corner.x + room, y));
    say(ui, spoken, "hands", &words.join(" "));
    y += 20.0 * unit;
    let height = (42.0 * unit).max(30.0);
    let mut x = corner.x;
    for (words, fill, intent) in answers {
        let width = button::width(pen, words).max(150.0 * unit);
        if x > corner.x && x + width > frame.sheet.right() - 40.0 * unit {
            (x, y) = (corner.x, y + height + 12.0 * unit);
        }
        let rect = Rect::from_min_size(pos2(x, y), vec2(width, height));
        if button(ui, pen, rect, words, *fill).clicked() {
            intents.push(intent.clone());
        }
        x = rect.right() + 20.0 * unit;
    }
}
