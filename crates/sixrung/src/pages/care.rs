//! Care: the usual cautions for hands, back, ears and eyes. They defer to licensed clinicians and local rules.

use egui::Ui;

use super::parts::Hand;
use crate::stand::Intent;
use crate::text::care as text;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::TITLE);
    hand.line(ui, text::SHORT);
    hand.sentence(ui, text::GENERAL);
    hand.gap(ui, 8.0);
    let block = |ui: &mut Ui, (label, sentences): (&str, &[&str])| {
        hand.label(ui, label);
        for words in sentences {
            hand.sentence(ui, words);
            hand.gap(ui, 3.0);
        }
    };
    let [first, second, third, fourth, fifth] = text::BLOCKS;
    hand.columns(
        ui,
        |ui| {
            block(ui, first);
            block(ui, second);
        },
        |ui| {
            block(ui, third);
            block(ui, fourth);
            block(ui, fifth);
        },
    );
    hand.gap(ui, 12.0);
    if hand.link(ui, text::SAY) {
        intents.extend([Intent::ClosePage, Intent::SayHands]);
    }
}
