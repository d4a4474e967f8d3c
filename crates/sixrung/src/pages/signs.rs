//! What the signs on the sheet mean, shown on the lesson's own first chord and bar.

use egui::{Sense, Ui, vec2};

use super::parts::Hand;
use crate::draw::chord::{self, Weight};
use crate::draw::{Pen, strip};
use crate::stand::StandView;
use crate::text::signs as text;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, stand: &StandView) {
    hand.heading(ui, text::TITLE);
    hand.columns(ui, |ui| left(ui, hand, stand), |ui| right(ui, hand, stand));
}

fn left(ui: &mut Ui, hand: Hand, stand: &StandView) {
    hand.label(ui, text::DIAGRAM_LABEL);
    if let Some(shape) = stand.chords.as_ref().and_then(|chords| chords.now.shape.as_ref()) {
        let size = vec2(ui.available_width(), 180.0 * hand.unit);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
        let capo = stand.chords.as_ref().map_or(0, |chords| chords.capo);
        let board = chord::board(rect.min + vec2(24.0, 30.0) * pen.unit, 150.0 * pen.unit);
        chord::paint(&pen, shape, board, capo, Weight::Ink);
    }
    for words in text::diagram(hand.theme.look.hand) {
        hand.sentence(ui, words);
        hand.gap(ui, 3.0);
    }
    hand.label(ui, text::LADDER_LABEL);
    for words in text::LADDER {
        hand.sentence(ui, words);
        hand.gap(ui, 3.0);
    }
}

fn right(ui: &mut Ui, hand: Hand, stand: &StandView) {
    hand.label(ui, text::BAR_LABEL);
    if let Some(bar) = &stand.bar {
        let size = vec2(ui.available_width(), 150.0 * hand.unit);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let pen = Pen::new(ui.painter(), hand.theme, hand.unit * 0.9);
        strip::paint(&pen, rect, bar, strip::Moment::default());
    }
    hand.gap(ui, 6.0);
    for words in text::BAR {
        hand.sentence(ui, words);
        hand.gap(ui, 3.0);
    }
    hand.label(ui, text::RESULT_LABEL);
    for words in text::RESULT {
        hand.sentence(ui, words);
        hand.gap(ui, 3.0);
    }
}
