//! Today: choose the minutes, look at the plan and change it, begin.

use egui::{Rect, Sense, Ui, pos2, vec2};

use super::parts::Hand;
use crate::draw::{Pen, Side, press};
use crate::stand::{Intent, TodayWish};
use crate::text::today as text;
use crate::theme::{Face, Step};

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
    for (digit, minutes) in (1_usize..).zip(MINUTES) {
        if hand.choice(ui, &text::minutes(minutes), &digit.to_string(), minutes == view.minutes).clicked() {
            intents.push(Intent::Today(TodayWish::Minutes(minutes)));
        }
    }
    hand.gap(ui, 10.0);
    if view.items.is_empty() {
        return;
    }
    if view.current.is_some() && hand.link(ui, text::SKIP) {
        intents.push(Intent::Today(TodayWish::Skip));
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
        row(ui, hand, (place, item), view.current == Some(place), is_ahead, intents);
        hand.sentence(ui, &item.why);
        hand.gap(ui, 6.0);
    }
}

/// One item: its number, its words, and at the right edge what takes it out.
fn row(
    ui: &mut Ui,
    hand: Hand,
    (place, item): (usize, &TodayItem),
    is_on: bool,
    is_ahead: bool,
    intents: &mut Vec<Intent>,
) {
    let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), 30.0 * hand.unit), Sense::hover());
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    let (unit, palette) = (pen.unit, *pen.palette());
    let level = rect.center().y;
    let (face, colour) = if is_on { (Face::Bold, palette.now) } else { (Face::SemiBold, palette.ink) };
    let edge = rect.right() - 90.0 * unit;
    pen.text_level(
        pos2(rect.left(), level),
        Side::Left,
        &(place + 1).to_string(),
        pen.set(face, Step::Body, colour),
        24.0 * unit,
    );
    let left = rect.left() + 26.0 * unit;
    let set = pen.fitted(&item.what, pen.set(face, Step::Body, colour), edge - left - 1.0);
    pen.text_level(pos2(left, level), Side::Left, &item.what, set, edge - left);
    if !is_ahead {
        return;
    }
    // The same may be planned twice: the place tells them apart.
    let sooner = Rect::from_min_max(rect.min, pos2(edge, rect.bottom()));
    if place > 0 && press(ui, &pen, sooner, format!("sooner {place}"), &item.what).clicked() {
        intents.push(Intent::Today(TodayWish::Earlier(place)));
    }
    let set = pen.set(Face::SemiBold, Step::Label, palette.now);
    pen.text_level(pos2(rect.right(), level), Side::Right, text::REMOVE, set, 90.0 * unit);
    let out = Rect::from_min_max(pos2(edge, rect.top()), rect.max);
    let name = format!("{}: {}", text::REMOVE, item.what);
    if press(ui, &pen, out, format!("out {place}"), &name).clicked() {
        intents.push(Intent::Today(TodayWish::Remove(place)));
    }
}
