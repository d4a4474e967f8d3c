//! Between teacher and learner: what is asked, how it went.

mod ask;
mod report;
pub(super) mod view;

use egui::Ui;

use self::view::{AnswerView, HandOverPage, HandOverSide};
use super::parts::Hand;
use crate::stand::{HandOverWish, Intent};
use crate::text::hand_over as text;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &HandOverPage, intents: &mut Vec<Intent>) {
    if !view.trouble.is_empty() {
        hand.attention(ui, &view.trouble);
        hand.gap(ui, 12.0);
    }
    match &view.side {
        HandOverSide::Nobody => {
            hand.sentence(ui, text::EMPTY);
            hand.sentence(ui, text::DROP);
        }
        HandOverSide::Ask(ask) => ask::show(ui, hand, ask, &view.said, intents),
        HandOverSide::Answer(answer) => show_answer(ui, hand, answer, &view.said, intents),
        HandOverSide::Received(received) => {
            hand.heading(ui, text::RECEIVED);
            report::show(ui, hand, received);
            hand.gap(ui, 16.0);
            if hand.link(ui, text::CLOSE_REPORT) {
                wish(intents, HandOverWish::CloseReport);
            }
            hand.sentence(ui, &view.said);
        }
    }
}

fn show_answer(ui: &mut Ui, hand: Hand, view: &AnswerView, said: &str, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::REPORT);
    let Some(report) = &view.report else { return hand.attention(ui, text::NO_JOURNAL) };
    if !view.asked.is_empty() {
        hand.line(ui, &view.asked);
    }
    hand.label(ui, text::NOTE);
    let mut note = view.note.clone();
    if hand.field(ui, text::NOTE, text::NOTE_HINT, &mut note).changed() {
        wish(intents, HandOverWish::Note(note));
    }
    if !view.note_trouble.is_empty() {
        hand.attention(ui, &view.note_trouble);
    }
    if hand.link(ui, text::ANEW) {
        wish(intents, HandOverWish::Anew);
    }
    hand.sentence(ui, said);
    hand.gap(ui, 12.0);
    hand.sentence(ui, text::REPORT_LEAD);
    hand.gap(ui, 8.0);
    report::show(ui, hand, report);
}

fn wish(intents: &mut Vec<Intent>, wish: HandOverWish) {
    intents.push(Intent::HandOver(wish));
}
