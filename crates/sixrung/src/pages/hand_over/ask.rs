//! What a teacher asks for.

use std::ops::RangeInclusive;

use egui::Ui;
use sixrung_lesson::Level;

use super::view::AskView;
use super::wish;
use crate::pages::parts::Hand;
use crate::stand::{Asked, HandOverWish, Intent};
use crate::text::{hand_over as text, pages, today};

/// Passes in a row that climb or fall.
const IN_A_ROW: RangeInclusive<f32> = 1.0..=6.0;
/// Days to choose from.
const DAYS: RangeInclusive<f32> = 1.0..=28.0;
/// Minutes a day, in fives.
const MINUTES: RangeInclusive<f32> = 5.0..=60.0;
/// Days until it is due; 0 for no date.
const DUE: RangeInclusive<f32> = 0.0..=28.0;

/// Draws it.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &AskView, said: &str, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::ASK);
    hand.line(ui, &view.lesson);
    hand.sentence(ui, text::ASK_LEAD);
    hand.gap(ui, 12.0);
    match &view.summary {
        Ok(summary) => hand.line(ui, summary),
        Err(wrong) => hand.attention(ui, wrong),
    }
    ui.horizontal(|ui| {
        if view.can_try && hand.link(ui, text::TRY_IT) {
            wish(intents, HandOverWish::TryIt);
        }
        if view.can_answer && hand.link(ui, text::ANSWER) {
            wish(intents, HandOverWish::Answer);
        }
    });
    hand.sentence(ui, said);
    let mut more = Vec::new();
    hand.columns(ui, |ui| what(ui, hand, view, intents), |ui| how(ui, hand, view, &mut more));
    intents.append(&mut more);
    hand.gap(ui, 16.0);
    hand.sentence(ui, text::DROP);
}

/// For whom, which sections, how.
fn what(ui: &mut Ui, hand: Hand, view: &AskView, intents: &mut Vec<Intent>) {
    let mut ask = |asked| wish(intents, HandOverWish::Ask(asked));
    hand.label(ui, text::LEARNER);
    let mut learner = view.learner.clone();
    if hand.field(ui, text::LEARNER, text::LEARNER_HINT, &mut learner).changed() {
        ask(Asked::Learner(learner));
    }
    hand.label(ui, text::SECTIONS);
    ui.horizontal_wrapped(|ui| {
        for (place, (name, is_asked)) in view.sections.iter().enumerate() {
            if hand.toggle(ui, name, name, *is_asked) {
                ask(Asked::Section(place));
            }
        }
    });
    let is_all = view.sections.iter().all(|(_, is_asked)| *is_asked);
    if hand.link(ui, if is_all { text::NO_SECTIONS } else { text::ALL_SECTIONS }) {
        ask(Asked::Sections(!is_all));
    }
    if view.arrangements.0.len() > 1 {
        hand.label(ui, text::ARRANGEMENT);
        for (place, name) in view.arrangements.0.iter().enumerate() {
            if hand.choice(ui, name, "", place == view.arrangements.1).clicked() {
                ask(Asked::Arrangement(place));
            }
        }
    }
    for (name, hint, typed, asked) in [
        (text::FOCUS, text::FOCUS_HINT, &view.focus, Asked::Focus as fn(String) -> Asked),
        (text::STOP_ON, text::STOP_ON_HINT, &view.stop_on, Asked::StopOn),
    ] {
        hand.label(ui, name);
        let mut typed = typed.clone();
        if hand.field(ui, name, hint, &mut typed).changed() {
            ask(asked(typed));
        }
    }
}

/// From which tempo to which, how patiently, how much.
fn how(ui: &mut Ui, hand: Hand, view: &AskView, intents: &mut Vec<Intent>) {
    let mut ask = |asked| wish(intents, HandOverWish::Ask(asked));
    // A ladder of one rung leaves nothing to choose.
    if view.rungs.len() > 1 {
        hand.label(ui, text::TEMPO);
        let rung = |place: usize| view.rungs.get(place).map_or("", String::as_str);
        let rungs = 0.0..=float(view.rungs.len() - 1);
        for (name, place, asked) in
            [(text::START, view.span.0, Asked::Start as fn(usize) -> Asked), (text::GOAL, view.span.1, Asked::Goal)]
        {
            if let Some(new) = hand.slider(ui, name, (float(place), rung(place)), &rungs, 1.0) {
                ask(asked(whole(new).into()));
            }
        }
    }
    let mut slide = |ui: &mut Ui, name: &str, (value, shown): (u16, &str), range, step, asked: fn(u16) -> Asked| {
        if let Some(new) = hand.slider(ui, name, (f32::from(value), shown), range, step) {
            ask(asked(whole(new)));
        }
    };
    hand.label(ui, text::PLAN);
    let (days, minutes) = view.plan;
    slide(ui, text::DAYS, (days, &text::days(days)), &DAYS, 1.0, Asked::Days);
    slide(ui, text::MINUTES, (minutes, &today::minutes(minutes)), &MINUTES, 5.0, Asked::Minutes);
    slide(ui, text::DUE, (view.due.0, &view.due.1), &DUE, 1.0, Asked::DueIn);
    hand.label(ui, text::CLIMB);
    let (up, down) = view.climb;
    slide(ui, text::UP_AFTER, (up, &text::clean(up)), &IN_A_ROW, 1.0, Asked::UpAfter);
    slide(ui, text::DOWN_AFTER, (down, &text::not_clean(down)), &IN_A_ROW, 1.0, Asked::DownAfter);
    hand.label(ui, pages::LEVEL);
    for (level, words) in
        [(Level::Beginner, pages::BEGINNER), (Level::Improver, pages::IMPROVER), (Level::Advanced, pages::ADVANCED)]
    {
        if hand.choice(ui, words, "", level == view.level).clicked() {
            ask(Asked::Level(level));
        }
    }
}

#[expect(clippy::cast_precision_loss, reason = "a place among a few rungs")]
fn float(place: usize) -> f32 {
    place as f32
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a slider's place, from zero up")]
fn whole(value: f32) -> u16 {
    value.round().max(0.0) as u16
}
