//! Devices, how much of them is heard, and how long sound takes round.

use egui::{Sense, Ui, vec2};
use sixrung_lesson::Level;

use super::parts::Hand;
use super::view::{RoundTrip, SoundView};
use crate::draw::{Pen, meter};
use crate::stand::{HearingState, Intent, Page, Part, Volumes};
use crate::text::{self as words, pages as text};

/// The longest round trip one can set by hand, in milliseconds.
const LONGEST_ROUND_TRIP_MS: f32 = 500.0;

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &SoundView, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::SOUND);
    for note in &view.notes {
        hand.attention(ui, &note.text);
        if !note.hint.is_empty() {
            hand.sentence(ui, &note.hint);
        }
    }
    let mut more = Vec::new();
    hand.columns(ui, |ui| devices(ui, hand, view, intents), |ui| levels(ui, hand, view, &mut more));
    intents.append(&mut more);
}

fn devices(ui: &mut Ui, hand: Hand, view: &SoundView, intents: &mut Vec<Intent>) {
    hand.label(ui, text::OUTPUT);
    if view.outputs.is_empty() {
        hand.sentence(ui, text::NO_DEVICE);
    }
    for output in &view.outputs {
        if hand.choice(ui, &output.name, "", output.chosen).clicked() {
            intents.push(Intent::ChooseOutput(output.id.clone()));
        }
    }
    hand.label(ui, text::INPUT);
    for input in &view.inputs {
        if hand.choice(ui, &input.name, "", input.chosen).clicked() {
            intents.push(Intent::ChooseInput(input.choice.clone()));
        }
    }
    strokes_start(ui, hand, view.strokes_start, intents);
    if !view.buffer_choices.is_empty() {
        hand.label(ui, text::BUFFER);
        for frames in &view.buffer_choices {
            let name = text::buffer(*frames, view.rate_hz);
            if hand.choice(ui, &name, "", *frames == view.buffer_frames).clicked() {
                intents.push(Intent::SetBuffer(*frames));
            }
        }
        hand.sentence(ui, text::BUFFER_WORDS);
        hand.sentence(ui, &text::lost(view.lost));
    }
}

fn levels(ui: &mut Ui, hand: Hand, view: &SoundView, intents: &mut Vec<Intent>) {
    hand.label(ui, words::hearing(view.hearing.state));
    if view.hearing.state != HearingState::NoMicrophone {
        let size = vec2((ui.available_width()).min(320.0 * hand.unit), 24.0 * hand.unit);
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let pen = Pen::new(ui.painter(), hand.theme, hand.unit);
        meter::paint(&pen, rect, view.hearing.level, view.hearing.state == HearingState::TooLoud);
    }
    if hand.link(ui, crate::text::calibrate::CALIBRATE) {
        intents.push(Intent::OpenPage(Page::Calibrate));
    }
    if hand.link(ui, crate::text::song::SONG) {
        intents.push(Intent::OpenPage(Page::Song));
    }
    if hand.link(ui, text::TUNER_LINK) {
        intents.push(Intent::OpenPage(Page::Tuner));
    }
    if hand.link(ui, crate::text::mix::PARTS) {
        intents.push(Intent::OpenPage(Page::Parts));
    }
    hand.label(ui, text::VOLUMES);
    let parts = [
        (words::CLICK, Part::Click, view.volumes.click_db),
        (words::GUITAR, Part::Guitar, view.volumes.guitar_db),
        (words::MASTER, Part::Master, view.volumes.master_db),
    ];
    for (name, part, value) in parts {
        let range = Volumes::SILENT_DB..=Volumes::LOUDEST_DB;
        if let Some(new) = hand.slider(ui, name, (value, &text::decibels(value)), &range, 3.0) {
            intents.push(Intent::SetVolume(part, new));
        }
    }
    hand.sentence(ui, text::EARS);
    round_trip(ui, hand, view.round_trip, intents);
    hand.label(ui, text::LEVEL);
    let levels =
        [(Level::Beginner, text::BEGINNER), (Level::Improver, text::IMPROVER), (Level::Advanced, text::ADVANCED)];
    for (level, name) in levels {
        if hand.choice(ui, name, "", level == view.level).clicked() {
            intents.push(Intent::SetLevel(level));
        }
    }
}

fn strokes_start(ui: &mut Ui, hand: Hand, is_on: bool, intents: &mut Vec<Intent>) {
    hand.label(ui, text::HANDS_FREE);
    if hand.toggle(ui, text::STROKES_START, text::STROKES_START, is_on) {
        intents.push(Intent::SetStrokesStart(!is_on));
    }
    hand.sentence(ui, text::STROKES_START_WORDS);
}

fn round_trip(ui: &mut Ui, hand: Hand, trip: RoundTrip, intents: &mut Vec<Intent>) {
    hand.label(ui, text::ROUND_TRIP);
    let known = match trip {
        RoundTrip::Unknown => None,
        RoundTrip::Found(ms) | RoundTrip::Set(ms) | RoundTrip::Heard(ms, _) | RoundTrip::Tapped(ms, _) => Some(ms),
    };
    #[expect(clippy::cast_possible_truncation, reason = "milliseconds for a slider")]
    let value = known.unwrap_or(0.0) as f32;
    let shown = text::round_trip_ms(known);
    if let Some(new) = hand.slider(ui, text::ROUND_TRIP_HAND, (value, &shown), &(0.0..=LONGEST_ROUND_TRIP_MS), 1.0) {
        intents.push(Intent::SetRoundTrip(Some(f64::from(new))));
    }
    hand.sentence(ui, &text::round_trip(trip));
    if known.is_some() && hand.link(ui, text::ROUND_TRIP_AGAIN) {
        intents.push(Intent::SetRoundTrip(None));
    }
}
