//! The passes one by one, the one that is looked at, and what can be done with all of them.

use egui::{Rect, Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};

use super::view::{JournalPage, OpenedPass};
use crate::draw::{Pen, Side, plot};
use crate::pages::parts::Hand;
use crate::stand::{Intent, JournalWish};
use crate::text::journal as text;
use crate::theme::{Face, Step};

/// The passes, newest first: a press opens one.
pub(super) fn list(ui: &mut Ui, hand: Hand, view: &JournalPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::PASSES);
    let unit = hand.unit;
    for (place, pass) in view.passes.iter().enumerate() {
        let (row, _) = ui.allocate_exact_size(vec2(ui.available_width(), 28.0 * unit), Sense::hover());
        let info = || {
            let words = format!("{}, {}, {}", pass.when, pass.what, pass.outcome);
            WidgetInfo::labeled(Role::Button, true, words)
        };
        if hand.cell(ui, row, ("pass", &place.to_string()), info).clicked() {
            intents.push(Intent::Journal(JournalWish::Open(place)));
        }
        let pen = Pen::new(ui.painter(), hand.theme, unit);
        let palette = *pen.palette();
        let peg = pos2(row.left() + 10.0 * unit, row.center().y);
        if pass.is_clean {
            pen.dot(peg, 5.0 * unit, palette.ink);
        } else {
            pen.ring(peg, 5.0 * unit, (1.6 * unit).max(1.2), palette.thin);
        }
        let y = row.center().y;
        let set = pen.set(Face::Regular, Step::Small, palette.quiet);
        pen.text_level(pos2(row.left() + 26.0 * unit, y), Side::Left, &pass.when, set, 92.0 * unit);
        let outcome = pen.text_level(pos2(row.right(), y), Side::Right, &pass.outcome, set, 150.0 * unit);
        let set = pen.set(Face::Medium, Step::Label, palette.ink);
        let left = row.left() + 120.0 * unit;
        pen.text_level(pos2(left, y), Side::Left, &pass.what, set, outcome.left() - left - 8.0 * unit);
    }
    ui.horizontal(|ui| {
        if view.pages.1 && hand.link(ui, text::OLDER) {
            intents.push(Intent::Journal(JournalWish::Older));
        }
        if view.pages.0 && hand.link(ui, text::NEWER) {
            intents.push(Intent::Journal(JournalWish::Newer));
        }
        if view.deleted > 0 && hand.link(ui, &text::put_back(view.deleted)) {
            intents.push(Intent::Journal(JournalWish::PutBack));
        }
    });
}

/// One pass as it was heard.
pub(super) fn opened(ui: &mut Ui, hand: Hand, pass: &OpenedPass, intents: &mut Vec<Intent>) {
    hand.label(ui, &pass.heading);
    hand.heading(ui, &pass.headline);
    hand.line(ui, &pass.detail);
    let Some(shown) = &pass.plot else {
        hand.sentence(ui, text::NO_PLOT);
        return leave(ui, hand, intents);
    };
    hand.gap(ui, 34.0);
    let (area, _) = ui.allocate_exact_size(vec2(ui.available_width(), 200.0 * hand.unit), Sense::hover());
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    plot::paint(ui, &pen, Rect::from_min_max(area.min, area.max), shown);
    hand.gap(ui, 34.0);
    leave(ui, hand, intents);
}

fn leave(ui: &mut Ui, hand: Hand, intents: &mut Vec<Intent>) {
    ui.horizontal(|ui| {
        if hand.link(ui, text::BACK) {
            intents.push(Intent::Journal(JournalWish::Close));
        }
        if hand.link(ui, text::TAKE_OUT) {
            intents.push(Intent::Journal(JournalWish::TakeOut));
        }
    });
}

/// Where it lies, and what can be written of it.
pub(super) fn files(ui: &mut Ui, hand: Hand, view: &JournalPage, intents: &mut Vec<Intent>) {
    hand.gap(ui, 8.0);
    hand.sentence(ui, text::KEPT);
    ui.horizontal(|ui| {
        if hand.link(ui, text::EXPORT) {
            intents.push(Intent::Journal(JournalWish::Export));
        }
        if hand.link(ui, text::BACK_UP) {
            intents.push(Intent::Journal(JournalWish::BackUp));
        }
    });
    hand.sentence(ui, &view.said);
}

/// Who plays.
pub(super) fn players(ui: &mut Ui, hand: Hand, view: &JournalPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::PLAYERS);
    for (place, (name, is_chosen)) in view.players.iter().enumerate() {
        if hand.choice(ui, name, "", *is_chosen).clicked() {
            intents.push(Intent::Journal(JournalWish::Player(place)));
        }
    }
    if let Some(name) = hand.field_to_send(ui, text::ANOTHER_PLAYER) {
        intents.push(Intent::Journal(JournalWish::AddPlayer(name)));
    }
}
