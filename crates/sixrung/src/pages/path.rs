//! The steps of the section: what each asks for, which are done; each can be gone to, marked or left out.

use egui::Ui;
use sixrung_practice::Done;

use super::parts::Hand;
use crate::stand::{Intent, PathView};
use crate::text::path as text;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &PathView, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::TITLE);
    hand.sentence(ui, text::LEAD);
    hand.gap(ui, 6.0);
    for step in &view.steps {
        let words = match step.done {
            Some(done) => format!("{} · {}", text::name(step.step), text::how(done)),
            None => text::name(step.step).to_owned(),
        };
        if hand.choice(ui, &words, text::task(step.step), step.step == view.current).clicked() {
            intents.push(Intent::ChooseStep(step.step));
        }
    }
    hand.gap(ui, 10.0);
    let current = view.current;
    hand.label(ui, &text::current(current));
    if hand.link(ui, text::MARK) {
        intents.push(Intent::MarkStep(current, Done::SelfMarked));
    }
    if hand.link(ui, text::LEAVE_OUT) {
        intents.push(Intent::MarkStep(current, Done::Skipped));
    }
}
