//! What is heard: the parts, how loud, and how the click goes.

use egui::{Sense, Ui, vec2};
use sixrung_audio::{ClickSound, Strings};
use sixrung_timeline::{Clicks, Division, Thinned};

use super::parts::Hand;
use super::view::PartsView;
use crate::stand::{ClickChoice, Intent, Part, Volumes};
use crate::text::{self as words, mix as text, pages};

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &PartsView, intents: &mut Vec<Intent>) {
    let PartsView { volumes, click, strings, hears_first } = *view;
    hand.heading(ui, text::PARTS);
    let mut more = Vec::new();
    hand.columns(
        ui,
        |ui| {
            parts(ui, hand, &volumes, intents);
            if hand.toggle(ui, text::HEAR_FIRST, text::HEAR_FIRST, hears_first) {
                intents.push(Intent::HearFirst(!hears_first));
            }
            strung(ui, hand, strings, intents);
            clicks(ui, hand, click, intents);
        },
        |ui| beats(ui, hand, click, &mut more),
    );
    intents.append(&mut more);
}

fn parts(ui: &mut Ui, hand: Hand, volumes: &Volumes, intents: &mut Vec<Intent>) {
    hand.label(ui, text::HEARD);
    let names = [words::CLICK, words::GUITAR, text::RECORDING, text::BASS, text::BRUSHES];
    for (part, name) in Part::MIXED.into_iter().zip(names) {
        let db = volumes.db(part);
        let shown = pages::decibels(db);
        let silenced = volumes.is_muted(part);
        ui.allocate_ui_with_layout(
            vec2(ui.available_width(), 34.0 * hand.unit),
            egui::Layout::right_to_left(egui::Align::Center),
            |ui| {
                ui.spacing_mut().item_spacing.x = 6.0 * hand.unit;
                let (mute, solo) = (format!("{}, {name}", text::MUTE), format!("{}, {name}", text::SOLO));
                if hand.toggle(ui, text::SOLO, &solo, volumes.only == Some(part)) {
                    intents.push(Intent::HearOnly(part));
                }
                if hand.toggle(ui, text::MUTE, &mute, silenced) {
                    intents.push(Intent::Mute(part));
                }
                let left = vec2(ui.available_width(), 34.0 * hand.unit);
                ui.allocate_ui_with_layout(left, egui::Layout::top_down(egui::Align::Min), |ui| {
                    let range = Volumes::SILENT_DB..=Volumes::LOUDEST_DB;
                    if let Some(new) = hand.slider(ui, name, (db, &shown), &range, 3.0) {
                        intents.push(Intent::SetVolume(part, new));
                    }
                });
            },
        );
    }
    ui.allocate_exact_size(vec2(1.0, 4.0 * hand.unit), Sense::hover());
    hand.sentence(ui, text::PARTS_HINT);
}

fn strung(ui: &mut Ui, hand: Hand, strings: Strings, intents: &mut Vec<Intent>) {
    hand.label(ui, text::STRUNG);
    for (choice, name) in [(Strings::Steel, text::STEEL), (Strings::Nylon, text::NYLON)] {
        if hand.choice(ui, name, "", strings == choice).clicked() {
            intents.push(Intent::SetStrings(choice));
        }
    }
}

/// What clicks.
fn clicks(ui: &mut Ui, hand: Hand, click: ClickChoice, intents: &mut Vec<Intent>) {
    hand.label(ui, text::SOUND);
    for (sound, name) in
        [(ClickSound::Wood, text::WOOD), (ClickSound::Bell, text::BELL), (ClickSound::Tick, text::TICK)]
    {
        if hand.choice(ui, name, "", click.sound == sound).clicked() {
            intents.push(Intent::SetClick(ClickChoice { sound, ..click }));
        }
    }
}

fn beats(ui: &mut Ui, hand: Hand, click: ClickChoice, intents: &mut Vec<Intent>) {
    let mut wish = |clicks: Clicks| intents.push(Intent::SetClick(ClickChoice { clicks, ..click }));
    let clicks = click.clicks;
    hand.label(ui, text::THINNED);
    let thinned = [
        (Thinned::Not, text::EVERY),
        (Thinned::FirstOnly, text::FIRST),
        (Thinned::EvenOnly, text::EVEN),
        (Thinned::SilentBars { heard: 1, silent: 1 }, text::SILENT_BARS),
    ];
    for (thinned, name) in thinned {
        if hand.choice(ui, name, "", clicks.thinned == thinned).clicked() {
            wish(Clicks { thinned, ..clicks });
        }
    }
    hand.sentence(ui, text::THINNED_HINT);
    hand.label(ui, text::DIVIDED);
    let divisions = [
        (Division::WhereSlow, text::UNDIVIDED),
        (Division::Two, text::HALVES),
        (Division::Three, text::THIRDS),
        (Division::Four, text::QUARTERS),
    ];
    for (division, name) in divisions {
        if hand.choice(ui, name, "", clicks.division == division).clicked() {
            wish(Clicks { division, ..clicks });
        }
    }
    hand.gap(ui, 10.0);
    if hand.toggle(ui, text::NO_ACCENT, text::NO_ACCENT, clicks.even) {
        wish(Clicks { even: !clicks.even, ..clicks });
    }
    if hand.toggle(ui, text::RISING, text::RISING, clicks.count_rises) {
        wish(Clicks { count_rises: !clicks.count_rises, ..clicks });
    }
    hand.sentence(ui, text::NEXT_PASS);
}
