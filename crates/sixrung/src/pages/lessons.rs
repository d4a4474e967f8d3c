//! Choose what lies on the stand.

use std::path::PathBuf;

use egui::{Id, Key, TextEdit, Ui, vec2};

use super::parts::Hand;
use super::view::{LessonItem, LessonsView};
use crate::stand::{Intent, LessonSource, Page};
use crate::text::pages as text;
use crate::theme::{Face, Step, font};

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
    let font = font(Face::Regular, Step::Label.points() * hand.unit);
    let quiet = hand.theme.palette.quiet;
    let field = TextEdit::singleline(&mut typed)
        .hint_text(egui::RichText::new(text::OPEN_FILE_HINT).color(quiet).font(font.clone()))
        .font(font)
        .text_color(hand.theme.palette.ink)
        .margin(vec2(10.0, 8.0) * hand.unit)
        .desired_width(f32::INFINITY);
    let response = ui.add(field);
    response.widget_info(|| egui::WidgetInfo::labeled(egui::accesskit::Role::TextInput, true, text::OPEN_FILE_NAME));
    let is_sent = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let is_pressed = hand.link(ui, text::OPEN);
    let name = typed.trim().to_owned();
    ui.data_mut(|data| data.insert_temp(id, typed));
    ((is_sent || is_pressed) && !name.is_empty()).then(|| LessonSource::File(PathBuf::from(name)))
}
