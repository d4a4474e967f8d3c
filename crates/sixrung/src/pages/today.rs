//! Today: choose the minutes, look at the plan and change it, begin.

use egui::{Ui, vec2};

use super::parts::Hand;
use crate::stand::{Intent, TodayWish};
use crate::text::today as text;

/// Minutes to choose from, by digit too.
pub const MINUTES: [u16; 6] = [10, 15, 20, 30, 45, 60];

/// The plan, ready to read.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TodayPage {
    /// Whether a lesson is open.
    pub has_lesson: bool,
    /// The minutes chosen; 0 for none yet.
    pub minutes: u16,
    /// The items in order; empty with minutes chosen: everything rests.
    pub items: Vec<TodayItem>,
    /// The item that is on, by its place; `None` before it begins.
    pub current: Option<usize>,
}

/// One item.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TodayItem {
    /// Its minutes and what is done.
    pub what: String,
    /// Why.
    pub why: String,
}

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &TodayPage, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::TITLE);
    if !view.has_lesson {
        return hand.sentence(ui, text::EMPTY);
    }
    let mut more = Vec::new();
    hand.columns(ui, |ui| minutes(ui, hand, view, intents), |ui| plan(ui, hand, view, &mut more));
    intents.append(&mut more);
}

fn minutes(ui: &mut Ui, hand: Hand, view: &TodayPage, intents: &mut Vec<Intent>) {
    hand.sentence(ui, text::LEAD);
    hand.gap(ui, 8.0);
    for minutes in MINUTES {
        if hand.choice(ui, &text::minutes(minutes), "", minutes == view.minutes).clicked() {
            intents.push(Intent::Today(TodayWish::Minutes(minutes)));
        }
    }
    hand.gap(ui, 10.0);
    if view.items.is_empty() {
        return;
    }
    let (words, wish) =
        if view.current.is_some() { (text::SKIP, TodayWish::Skip) } else { (text::START, TodayWish::Start) };
    if hand.link(ui, words) {
        intents.push(Intent::Today(wish));
    }
    if hand.link(ui, text::END) {
        intents.extend([Intent::Today(TodayWish::End), Intent::ClosePage]);
    }
}

fn plan(ui: &mut Ui, hand: Hand, view: &TodayPage, intents: &mut Vec<Intent>) {
    if view.minutes == 0 {
        return;
    }
    hand.label(ui, text::PLAN);
    if view.items.is_empty() {
        return hand.line(ui, text::NOTHING);
    }
    for (place, item) in view.items.iter().enumerate() {
        let is_ahead = view.current.is_none_or(|current| place > current);
        // The same may be planned twice: the place tells them apart.
        ui.push_id(place, |ui| {
            ui.horizontal(|ui| {
                let room = ui.available_width() - 120.0 * hand.unit;
                ui.allocate_ui(vec2(room, 0.0), |ui| {
                    let is_on = view.current == Some(place);
                    if hand.choice(ui, &item.what, "", is_on).clicked() && is_ahead && place > 0 {
                        intents.push(Intent::Today(TodayWish::Earlier(place)));
                    }
                });
                if is_ahead && hand.link(ui, text::REMOVE) {
                    intents.push(Intent::Today(TodayWish::Remove(place)));
                }
            });
            hand.sentence(ui, &item.why);
        });
    }
}
