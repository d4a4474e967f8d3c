//! Words of the page of the learner's own recording.

use crate::commands::song::{KEYS as TABLE, SongKey};
use crate::pages::{RungSong, SongPage, TappedBeats};

/// Heading, and the link on the sound page.
pub const SONG: &str = "Your own recording";
/// With no lesson open.
pub const NO_LESSON: &str = "Open a lesson first: a recording belongs to one.";
/// What it is good for.
pub const WHAT: &str = "Open a recording of this song, mark where bar 1 begins and how the beats go, and it plays along on the \
     stand: at every rung, slowed without changing its pitch.";
/// The field.
pub const FILE_NAME: &str = "where the recording is";
/// In the empty field.
pub const FILE_HINT: &str = "drop a WAV, FLAC, OGG or MP3 on this page, or type where it is";
/// Opens it.
pub const OPEN: &str = "Open";
/// Stops what is being done.
pub const CANCEL: &str = "Stop that";
/// Tries again what was stopped or failed.
pub const AGAIN: &str = "Try again";
/// Forgets the recording.
pub const FORGET: &str = "Take the recording off this lesson";
/// The file was cut off.
pub const CUT_OFF: &str = "The file ends before it says it does. What there is can be played.";
/// Above bar 1, tempo and anchors.
pub const BEATS: &str = "bar 1 and beats";
/// Plays from the cursor.
pub const PLAY: &str = "Play from the cursor (Space)";
/// Stops there.
pub const PAUSE: &str = "Stop here (Space)";
/// Marks bar 1.
pub const BAR_1: &str = "Bar 1 begins here (B)";
/// No beats stand out.
pub const NOTHING_FOUND: &str = "I found no clear beat: tap along, or type the tempo.";
/// The field for a tempo.
pub const TEMPO_NAME: &str = "tempo of the recording";
/// In the empty field.
pub const TEMPO_HINT: &str = "or type the tempo, in beats a minute";
/// Takes it.
pub const SET: &str = "Set it";
/// Clicks on the beats.
pub const CLICKS_ON: &str = "Click on its beats (V)";
/// No clicks.
pub const CLICKS_OFF: &str = "No clicks on its beats (V)";
/// Above what is heard on the stand.
pub const ON_STAND: &str = "on the stand";
/// How loud.
pub const VOLUME: &str = "how loud";
/// How much higher.
pub const PITCH: &str = "semitones";
/// What it takes.
pub const MEMORY: &str = "It takes 300 MB of memory at most, and its slowed parts 200 MB.";
/// The stretch on the stand is not in the form.
pub const NOT_IN_PIECE: &str = "this section is no part of the whole piece, so the recording has nothing for it";
/// What to do.
pub const NOT_IN_PIECE_HINT: &str = "the lesson's form says which sections follow each other";

/// While it is read.
#[must_use]
pub fn reading(file: &str) -> String {
    format!("Reading {file}, then looking for beats")
}

/// Minutes and seconds: `3:07.5`.
#[must_use]
pub fn clock(seconds: f64) -> String {
    let tenths = (seconds.max(0.0) * 10.0).round();
    let minutes = (tenths / 600.0).floor();
    format!("{minutes:.0}:{:04.1}", (tenths - 600.0 * minutes) / 10.0)
}

/// File and length.
#[must_use]
pub fn about(view: &SongPage) -> String {
    format!("{} · {}", view.file.as_deref().unwrap_or_default(), clock(view.length_s))
}

/// What is marked: `bar 1 at 0:01.4 · 125.6 beats a minute · 3 anchors`.
#[must_use]
pub fn marked(view: &SongPage) -> String {
    let mut parts = Vec::new();
    parts.extend(view.start_s.map(|start_s| format!("bar 1 at {}", clock(start_s))));
    parts.extend(view.bpm.map(|bpm| format!("{bpm:.1} beats a minute")));
    parts.extend(match view.anchors {
        0 => None,
        1 => Some("1 anchor".to_owned()),
        anchors => Some(format!("{anchors} anchors")),
    });
    parts.join(" · ")
}

/// The lesson's tempo beside it.
#[must_use]
pub fn lesson_says(bpm: &str) -> String {
    format!("The lesson says {bpm}.")
}

/// Offers what was found.
#[must_use]
pub fn take_found(bpm: f64) -> String {
    format!("Take the beats I found: {bpm:.1} a minute, with their drift")
}

/// What the key's presses tell.
#[must_use]
pub fn tapped(presses: usize, tapped: Option<TappedBeats>) -> String {
    match (presses, tapped) {
        (0, _) => "Or press Enter on every beat, while it plays or by yourself.".to_owned(),
        (_, Some(tapped)) => format!("{presses} beats tapped, give or take {:.0} ms", tapped.spread_ms),
        (presses, None) => format!("{presses} tapped: {} more tell a tempo", 4_usize.saturating_sub(presses).max(1)),
    }
}

/// Takes it.
#[must_use]
pub fn take_tapped(bpm: f64) -> String {
    format!("Take the tempo you tapped: {bpm:.1}")
}

/// A shift, in semitones: `2 lower`.
#[must_use]
pub fn semitones(semitones: i8) -> String {
    match semitones {
        0 => "as it is".to_owned(),
        1.. => format!("{semitones} higher"),
        _ => format!("{} lower", semitones.unsigned_abs()),
    }
}

/// How far a rung is.
#[must_use]
pub fn rung(rung: &RungSong) -> String {
    match (rung.is_ready, rung.share) {
        (true, _) => format!("{} beats a minute: ready", rung.bpm),
        (false, Some(share)) => format!("{} beats a minute: slowing, {:.0} %", rung.bpm, share * 100.0),
        (false, None) => format!("{} beats a minute: not yet", rung.bpm),
    }
}

/// The picture for a screen reader.
#[must_use]
pub fn wave_name(view: &SongPage) -> String {
    let beats = view.beats.len();
    format!(
        "the recording from {} to {}, {beats} beats in it, the cursor at {}",
        clock(view.window.0),
        clock(view.window.1),
        clock(view.at_s)
    )
}

/// The places that can be pressed.
#[must_use]
pub fn place_name(key: &str) -> &'static str {
    if key == "strip" { "a place in the whole recording" } else { "a place near the cursor" }
}

/// The keys of the page, a few to a line.
#[must_use]
pub fn keys() -> Vec<String> {
    let entry = |key: &SongKey| format!("{} {}", key.printed, key.text);
    TABLE.chunks(6).map(|row| row.iter().map(entry).collect::<Vec<_>>().join("  ·  ")).collect()
}
