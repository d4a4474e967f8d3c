//! How things are drawn, and every key.

use egui::{Sense, Ui, WidgetInfo, accesskit::Role, pos2, vec2};

use super::parts::Hand;
use crate::commands::keymap;
use crate::commands::{COMMANDS, CommandId, DIGITS};
use crate::draw::{Pen, Side};
use crate::stand::{Intent, StandView};
use crate::text::pages as text;
use crate::theme::{Face, Hand as Strumming, Look, Motion, Sheet, Step};

/// A stand, whose keys and pedals are shown, and the names of the MIDI pedals that are plugged in.
type Shown<'a> = (&'a StandView, &'a [String]);

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, look: &Look, shown: Shown<'_>, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::LOOK);
    let mut more = Vec::new();
    hand.columns(ui, |ui| appearance(ui, hand, look, intents), |ui| keys(ui, hand, shown, &mut more));
    intents.append(&mut more);
}

fn appearance(ui: &mut Ui, hand: Hand, look: &Look, intents: &mut Vec<Intent>) {
    let mut wish = |new: Look| intents.push(Intent::SetLook(new));
    hand.label(ui, text::SHEET);
    let sheets = [
        (Sheet::Light, text::LIGHT),
        (Sheet::Dark, text::DARK),
        (Sheet::ContrastLight, text::CONTRAST_LIGHT),
        (Sheet::ContrastDark, text::CONTRAST_DARK),
    ];
    for (sheet, words) in sheets {
        if hand.choice(ui, words, "", sheet == look.sheet).clicked() {
            wish(Look { sheet, ..*look });
        }
    }
    hand.label(ui, text::HAND);
    for (strumming, words) in [(Strumming::Right, text::RIGHT_HAND), (Strumming::Left, text::LEFT_HAND)] {
        if hand.choice(ui, words, "", strumming == look.hand).clicked() {
            wish(Look { hand: strumming, ..*look });
        }
    }
    hand.label(ui, text::MOTION);
    for (motion, words) in [(Motion::Full, text::MOTION_FULL), (Motion::Reduced, text::MOTION_REDUCED)] {
        if hand.choice(ui, words, "", motion == look.motion).clicked() {
            wish(Look { motion, ..*look });
        }
    }
    hand.gap(ui, 12.0);
    let range = Look::MIN_SCALE..=Look::MAX_SCALE;
    if let Some(scale) = hand.slider(ui, text::SCALE, (look.scale, &text::scale(look.scale)), &range, 0.05) {
        wish(Look { scale: (scale * 20.0).round() / 20.0, ..*look });
    }
    let range = Look::MIN_DISTANCE_M..=Look::MAX_DISTANCE_M;
    let shown = text::metres(look.distance_m);
    if let Some(distance) = hand.slider(ui, text::DISTANCE, (look.distance_m, &shown), &range, 0.1) {
        wish(Look { distance_m: (distance * 10.0).round() / 10.0, ..*look });
    }
    if let Some(points_per_mm) = card(ui, hand, look) {
        wish(Look { points_per_mm, ..*look });
    }
}

/// A card's outline, to be made as wide as a real one: then what is read from afar is as large as it should be.
fn card(ui: &mut Ui, hand: Hand, look: &Look) -> Option<f32> {
    let (width_mm, height_mm) = Look::CARD_MM;
    hand.label(ui, text::CARD);
    hand.sentence(ui, text::CARD_WORDS);
    let range = Look::MIN_POINTS_PER_MM * width_mm..=Look::MAX_POINTS_PER_MM * width_mm;
    let width = look.points_per_mm * width_mm;
    let new = hand.slider(ui, text::CARD_WIDTH, (width, &text::card(look.points_per_mm)), &range, 2.0);
    let size = vec2(width, height_mm * look.points_per_mm);
    let (rect, response) = ui.allocate_exact_size(size, Sense::empty());
    response.widget_info(|| WidgetInfo::labeled(Role::Image, true, text::CARD));
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    // Corners of that format are about 3.2 mm round.
    pen.frame(rect, 3.2 * look.points_per_mm, 2.0, pen.palette().now);
    new.map(|width| width / width_mm)
}

/// Every command with its keys and its pedal; a press on one waits for the key or pedal it is to have.
fn keys(ui: &mut Ui, hand: Hand, (stand, found): Shown<'_>, intents: &mut Vec<Intent>) {
    hand.label(ui, text::KEYS);
    hand.sentence(ui, text::KEYS_SET);
    hand.sentence(ui, &text::midi_pedals(found));
    hand.gap(ui, 4.0);
    let waits = keymap::waiting(ui.ctx());
    for command in COMMANDS {
        let keys = if waits == Some(command.id) {
            text::PRESS_A_KEY.to_owned()
        } else {
            let own = stand.keys.keys_of(command.id).map(egui::Key::name);
            own.chain([command.printed]).collect::<Vec<_>>().join("  ")
        };
        if row(ui, hand, command.text, (&keys, &pedals(stand, command.id)), Sense::click()) {
            keymap::wait(ui.ctx(), Some(command.id));
        }
    }
    row(ui, hand, DIGITS.0, (DIGITS.1, ""), Sense::empty());
    hand.gap(ui, 8.0);
    hand.sentence(ui, text::PEDAL);
    hand.sentence(ui, text::MIDI_PEDAL);
    if !(stand.keys.is_empty() && stand.pedals.is_empty()) && hand.link(ui, text::KEYS_RESET) {
        intents.push(Intent::ResetKeys);
    }
}

/// A command's MIDI switches in words; nothing when it has none.
fn pedals(stand: &StandView, id: CommandId) -> String {
    let switches: Vec<_> = stand.pedals.switches_of(id).map(text::midi_switch).collect();
    if switches.is_empty() { String::new() } else { format!("{} {}", text::BY_PEDAL, switches.join(", ")) }
}

fn row(ui: &mut Ui, hand: Hand, words: &str, (keys, pedals): (&str, &str), sense: Sense) -> bool {
    let (rect, response) = ui.allocate_exact_size(vec2(ui.available_width(), 22.0 * hand.unit), sense);
    let role = if sense == Sense::empty() { Role::Label } else { Role::Button };
    response.widget_info(|| WidgetInfo::labeled(role, true, text::command_name(words, keys, pedals)));
    let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
    let unit = pen.unit;
    if response.has_focus() {
        pen.focus_ring(rect, 3.0 * unit);
    }
    let set = pen.set(Face::Medium, Step::Label, pen.palette().ink);
    let column = 256.0 * unit;
    let middle = rect.center().y;
    pen.text_level(pos2(rect.left() + 4.0, middle), Side::Left, keys, set, column - 16.0 * unit);
    let set = pen.set(Face::Regular, Step::Label, pen.palette().quiet);
    let drawn = pen.text_level(pos2(rect.left() + column, middle), Side::Left, words, set, rect.width() - column);
    let room = rect.right() - drawn.right() - 12.0 * unit;
    pen.text_level(pos2(rect.right(), middle), Side::Right, pedals, set, room);
    response.clicked()
}
