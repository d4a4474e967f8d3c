//! Choose what lies on the stand.

use std::path::PathBuf;

use egui::{Id, Key, Ui};

use super::parts::Hand;
use super::view::{LessonItem, LessonsView};
use crate::stand::{Intent, LessonSource, Page};
use crate::text::pages as text;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &LessonsView, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::LESSONS);
    for problem in &view.problems {
        hand.attention(ui, &problem.text);
        if !problem.hint.is_empty() {
            hand.sentence(ui, &problem.hint);
        }
    }
    let mut chosen = None;
    hand.columns(
        ui,
        |ui| {
            hand.label(ui, text::DEMOS);
            chosen = items(ui, hand, &view.demos);
        },
        |ui| {
            hand.label(ui, text::RECENT);
            if view.recent.is_empty() {
                hand.sentence(ui, text::RECENT_EMPTY);
            }
            let recent = items(ui, hand, &view.recent);
            intents.extend(recent.or(from_file(ui, hand)).map(Intent::OpenLesson));
            if hand.link(ui, text::HAND_OVER) {
                intents.push(Intent::OpenPage(Page::HandOver));
            }
        },
    );
    intents.extend(chosen.map(Intent::OpenLesson));
    if view.demos.iter().chain(&view.recent).any(|item| item.open) {
        hand.gap(ui, 12.0);
        if hand.link(ui, crate::text::guide_page::LINK) {
            intents.push(Intent::OpenPage(Page::Guide));
        }
    }
}

fn items(ui: &mut Ui, hand: Hand, items: &[LessonItem]) -> Option<LessonSource> {
    let mut chosen = None;
    for item in items {
        let detail = if item.open { text::ON_THE_STAND } else { &item.detail };
        if hand.choice(ui, &item.title, detail, item.open).clicked() {
            chosen = Some(item.source.clone());
        }
    }
    chosen
}

/// A field for a file's name. What is being typed is the window's own affair until it is sent.
fn from_file(ui: &mut Ui, hand: Hand) -> Option<LessonSource> {
    hand.label(ui, text::OPEN_FILE);
    let id = Id::unique("lesson file name");
    let mut typed = ui.data_mut(|data| data.get_temp::<String>(id)).unwrap_or_default();
    let response = hand.field(ui, text::OPEN_FILE_NAME, text::OPEN_FILE_HINT, &mut typed);
    let is_sent = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let is_pressed = hand.link(ui, text::OPEN);
    let name = typed.trim().to_owned();
    ui.data_mut(|data| data.insert_temp(id, typed));
    ((is_sent || is_pressed) && !name.is_empty()).then(|| LessonSource::File(PathBuf::from(name)))
}
