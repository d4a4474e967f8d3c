//! Looking back: tempo over days, where the trouble is, how long changes take, minutes; every pass, and its plot.

mod passes;
mod plots;
pub(super) mod view;

use egui::{Align, Layout, Ui, vec2};

use self::view::JournalPage;
use super::parts::Hand;
use crate::stand::{Intent, JournalWish};
use crate::text::journal as text;

/// The plots take so much of the width: a design choice of ours, after the drawn target.
const PLOTS: f32 = 0.64;
/// Between the two columns, in units.
const GAP: f32 = 56.0;
/// With less room than this, in units, one column stands under the other.
const NARROW: f32 = 760.0;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &JournalPage, intents: &mut Vec<Intent>) {
    if !view.has_lesson {
        return hand.sentence(ui, text::EMPTY);
    }
    if view.passes.is_empty() && view.minutes.is_empty() && view.opened.is_none() {
        hand.line(ui, text::NOTHING);
        hand.gap(ui, 16.0);
        passes::files(ui, hand, view, intents);
        return passes::players(ui, hand, view, intents);
    }
    let mut more = Vec::new();
    let left = |ui: &mut Ui, intents: &mut Vec<Intent>| match &view.opened {
        Some(opened) => passes::opened(ui, hand, opened, intents),
        None => plots_of(ui, hand, view, intents),
    };
    let right = |ui: &mut Ui, intents: &mut Vec<Intent>| {
        plots::minutes(ui, hand, view);
        plots::offsets(ui, hand, view);
        passes::list(ui, hand, view, intents);
        passes::files(ui, hand, view, intents);
        passes::players(ui, hand, view, intents);
    };
    let width = ui.available_width();
    if width < NARROW * hand.unit {
        left(ui, intents);
        hand.gap(ui, 16.0);
        right(ui, &mut more);
    } else {
        let plots = (width - GAP * hand.unit) * PLOTS;
        ui.horizontal_top(|ui| {
            ui.spacing_mut().item_spacing.x = GAP * hand.unit;
            let mut column = |width: f32, fill: &mut dyn FnMut(&mut Ui)| {
                ui.allocate_ui_with_layout(vec2(width, 0.0), Layout::top_down(Align::Min), |ui| {
                    ui.spacing_mut().item_spacing.x = 8.0 * hand.unit;
                    ui.set_width(width);
                    fill(ui);
                });
            };
            column(plots, &mut |ui: &mut Ui| left(ui, intents));
            column(width - GAP * hand.unit - plots, &mut |ui: &mut Ui| right(ui, &mut more));
        });
    }
    intents.append(&mut more);
}

fn plots_of(ui: &mut Ui, hand: Hand, view: &JournalPage, intents: &mut Vec<Intent>) {
    plots::tempo(ui, hand, view);
    plots::trouble(ui, hand, view, intents);
    plots::changes(ui, hand, view);
    if hand.link(ui, &text::look_at(&view.span.1)) {
        intents.push(Intent::Journal(JournalWish::Span));
    }
    hand.sentence(ui, text::KEYS);
}
