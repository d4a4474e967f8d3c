//! Choose the section and how it is played.

use egui::Ui;

use super::parts::Hand;
use super::view::SectionsView;
use crate::stand::{Intent, Page};
use crate::text::pages as text;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &SectionsView, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::SECTIONS);
    if view.sections.is_empty() {
        hand.sentence(ui, text::SECTIONS_EMPTY);
        return;
    }
    let mut wished = Vec::new();
    let mut arranged = None;
    hand.columns(
        ui,
        |ui| {
            hand.label(ui, text::SECTION);
            for item in &view.sections {
                if hand.choice(ui, &item.name, &item.detail, item.chosen).clicked() {
                    wished.push(Intent::ChooseSection(item.choice));
                }
            }
            hand.gap(ui, 8.0);
            hand.sentence(ui, text::BARS_HINT);
            if hand.link(ui, text::ALL_BARS) {
                wished.push(Intent::AllBars);
            }
        },
        |ui| {
            hand.label(ui, text::ARRANGEMENT);
            for (place, item) in view.arrangements.iter().enumerate() {
                if hand.choice(ui, &item.name, &item.detail, item.chosen).clicked() {
                    arranged = Some(Intent::ChooseArrangement(place));
                }
            }
        },
    );
    hand.gap(ui, 12.0);
    if hand.link(ui, crate::text::chords::LINK) {
        intents.push(Intent::OpenPage(Page::Chords));
    }
    if hand.link(ui, crate::text::guide_page::LINK) {
        intents.push(Intent::OpenPage(Page::Guide));
    }
    intents.extend(wished);
    intents.extend(arranged);
}
