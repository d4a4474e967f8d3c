//! Your own recording: open it, mark bar 1 and the beats, hear it slowed on the stand.

pub(super) mod view;
mod wave;

use std::path::PathBuf;

use egui::{Id, Key, Ui, vec2};

use super::parts::Hand;
use crate::stand::{Intent, Part, SongWish, Volumes};
use crate::text::song as text;
use view::{SongPage, SongState};

/// Draws the page.
pub(super) fn show(ui: &mut Ui, hand: Hand, view: &SongPage, intents: &mut Vec<Intent>) {
    hand.heading(ui, text::SONG);
    if !view.has_lesson {
        return hand.sentence(ui, text::NO_LESSON);
    }
    if let Some(trouble) = &view.trouble {
        hand.attention(ui, &crate::text::calibrate::sentence(&trouble.text));
        if !trouble.hint.is_empty() {
            hand.sentence(ui, &crate::text::calibrate::sentence(&trouble.hint));
        }
    }
    match view.state {
        SongState::Nothing => {
            hand.sentence(ui, text::WHAT);
            open(ui, hand, intents);
        }
        SongState::Reading(share) => {
            hand.line(ui, &text::reading(view.file.as_deref().unwrap_or_default()));
            progress(ui, hand, share);
            wish(ui, hand, text::CANCEL, SongWish::Cancel, intents);
        }
        SongState::Unread => {
            hand.line(ui, view.file.as_deref().unwrap_or_default());
            wish(ui, hand, text::AGAIN, SongWish::Again, intents);
            wish(ui, hand, text::FORGET, SongWish::Forget, intents);
            open(ui, hand, intents);
        }
        SongState::Read => read(ui, hand, view, intents),
    }
}

fn read(ui: &mut Ui, hand: Hand, view: &SongPage, intents: &mut Vec<Intent>) {
    hand.line(ui, &text::about(view));
    if view.is_cut_off {
        hand.attention(ui, text::CUT_OFF);
    }
    hand.gap(ui, 6.0);
    wave::show(ui, hand, view, intents);
    for line in text::keys() {
        hand.sentence(ui, &line);
    }
    let mut more = Vec::new();
    hand.columns(ui, |ui| beats(ui, hand, view, intents), |ui| stand(ui, hand, view, &mut more));
    intents.append(&mut more);
}

/// Bar 1, tempo, anchors.
fn beats(ui: &mut Ui, hand: Hand, view: &SongPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::BEATS);
    hand.line(ui, &text::marked(view));
    if let Some(bpm) = &view.lesson_bpm {
        hand.sentence(ui, &text::lesson_says(bpm));
    }
    let play = if view.is_playing { text::PAUSE } else { text::PLAY };
    let clicks = if view.has_clicks { text::CLICKS_OFF } else { text::CLICKS_ON };
    ui.horizontal(|ui| {
        wish(ui, hand, play, SongWish::Play, intents);
        wish(ui, hand, text::BAR_1, SongWish::Bar1, intents);
    });
    wish(ui, hand, clicks, SongWish::Clicks, intents);
    if let Some(found) = view.found {
        if found.is_clear {
            wish(ui, hand, &text::take_found(found.bpm), SongWish::TakeFound, intents);
        } else {
            hand.sentence(ui, text::NOTHING_FOUND);
        }
    } else {
        hand.sentence(ui, text::NOTHING_FOUND);
    }
    hand.sentence(ui, &text::tapped(view.presses, view.tapped));
    if let Some(tapped) = view.tapped {
        wish(ui, hand, &text::take_tapped(tapped.bpm), SongWish::TakeTapped, intents);
    }
    typed(ui, hand, ("song tempo", text::TEMPO_NAME, text::TEMPO_HINT), text::SET, |typed| {
        // What is no number is refused like a number no tempo can be.
        let bpm = typed.replace(',', ".").parse().unwrap_or(f64::NAN);
        intents.push(Intent::Song(SongWish::Tempo(bpm)));
    });
}

/// What is heard of it on the stand.
fn stand(ui: &mut Ui, hand: Hand, view: &SongPage, intents: &mut Vec<Intent>) {
    hand.label(ui, text::ON_STAND);
    let range = Volumes::SILENT_DB..=Volumes::LOUDEST_DB;
    let shown = crate::text::pages::decibels(view.volume_db);
    if let Some(db) = hand.slider(ui, text::VOLUME, (view.volume_db, &shown), &range, 3.0) {
        intents.push(Intent::SetVolume(Part::Song, db));
    }
    let most = f32::from(crate::song::MOST_SEMITONES);
    let shown = text::semitones(view.semitones);
    if let Some(semitones) = hand.slider(ui, text::PITCH, (f32::from(view.semitones), &shown), &(-most..=most), 1.0) {
        #[expect(clippy::cast_possible_truncation, reason = "a few semitones")]
        let semitones = semitones.round() as i8;
        if semitones != view.semitones {
            intents.push(Intent::Song(SongWish::Semitones(semitones)));
        }
    }
    for rung in &view.rungs {
        hand.sentence(ui, &text::rung(rung));
        if let Some(share) = rung.share {
            progress(ui, hand, share);
            wish(ui, hand, text::CANCEL, SongWish::Cancel, intents);
        }
    }
    hand.sentence(ui, text::MEMORY);
    if view.can_retry {
        wish(ui, hand, text::AGAIN, SongWish::Again, intents);
    }
    wish(ui, hand, text::FORGET, SongWish::Forget, intents);
    open(ui, hand, intents);
}

fn wish(ui: &mut Ui, hand: Hand, words: &str, wish: SongWish, intents: &mut Vec<Intent>) {
    if hand.link(ui, words) {
        intents.push(Intent::Song(wish));
    }
}

fn open(ui: &mut Ui, hand: Hand, intents: &mut Vec<Intent>) {
    typed(ui, hand, ("song file name", text::FILE_NAME, text::FILE_HINT), text::OPEN, |typed| {
        intents.push(Intent::Song(SongWish::Open(PathBuf::from(typed))));
    });
}

/// A field, and a link that sends what is in it. What is being typed is the window's own affair until it is sent.
fn typed(ui: &mut Ui, hand: Hand, (id, name, hint): (&str, &str, &str), send: &str, sent: impl FnOnce(&str)) {
    let id = Id::unique(id.to_owned());
    let mut typed = ui.data_mut(|data| data.get_temp::<String>(id)).unwrap_or_default();
    hand.gap(ui, 4.0);
    let room = (ui.available_width() - 120.0 * hand.unit).clamp(80.0 * hand.unit, 560.0 * hand.unit);
    let (response, is_pressed) = ui
        .horizontal(|ui| {
            let field = |ui: &mut Ui| {
                ui.set_max_width(room);
                hand.field(ui, name, hint, &mut typed)
            };
            let response = ui.scope(field).inner;
            (response, hand.link(ui, send))
        })
        .inner;
    let is_sent = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    let text = typed.trim().to_owned();
    let goes = (is_sent || is_pressed) && !text.is_empty();
    ui.data_mut(|data| data.insert_temp(id, if goes { String::new() } else { typed }));
    if goes {
        sent(&text);
    }
}

/// How far something is.
fn progress(ui: &mut Ui, hand: Hand, share: f32) {
    let size = vec2(ui.available_width().min(320.0 * hand.unit), 12.0 * hand.unit);
    let (rect, _) = ui.allocate_exact_size(size, egui::Sense::hover());
    super::calibrate::bar(ui, hand, rect, share);
    hand.gap(ui, 2.0);
}
