//! Words of the pages.

use sixrung_devices::PedalKind;
use sixrung_lesson::Pitch;

use crate::commands::pedalmap::Switch;
use crate::pages::RoundTrip;

/// Back to the stand.
pub const BACK: &str = "Back to the stand";
/// Its key.
pub const BACK_KEY: &str = "Esc";
/// The key of a page's next thing.
pub const NEXT_KEY: &str = "Space";

/// Heading of the lessons page.
pub const LESSONS: &str = "Lessons";
/// Those that come with the program.
pub const DEMOS: &str = "to begin with";
/// Those opened before.
pub const RECENT: &str = "opened before";
/// When none was opened before.
pub const RECENT_EMPTY: &str = "Lessons you open are listed here.";
/// Above the field for a file's name.
pub const OPEN_FILE: &str = "from a file";
/// The field as a control.
pub const OPEN_FILE_NAME: &str = "where the lesson file is";
/// In the empty field.
pub const OPEN_FILE_HINT: &str = "drop a lesson on this window, or type where it is";
/// To the page between teacher and learner.
pub const HAND_OVER: &str = "Assignments and reports";
/// Opens it.
pub const OPEN: &str = "Open";
/// Beside what is on the stand.
pub const ON_THE_STAND: &str = "on the stand";

/// Heading of the page of sections.
pub const SECTIONS: &str = "What to play";
/// The stretches.
pub const SECTION: &str = "section";
/// The arrangements.
pub const ARRANGEMENT: &str = "arrangement";
/// How to pick bars.
pub const BARS_HINT: &str =
    "To loop a few bars, drag along the bars on the stand. A double click takes all of them again.";
/// With no lesson open.
pub const SECTIONS_EMPTY: &str = "Open a lesson, and its sections are listed here.";
/// Takes all bars.
pub const ALL_BARS: &str = "All bars";

/// Heading of the sound page.
pub const SOUND: &str = "Sound";
/// Where sound goes.
pub const OUTPUT: &str = "sound goes to";
/// Where it comes from.
pub const INPUT: &str = "I listen through";
/// With no device found.
pub const NO_DEVICE: &str = "No sound device was found.";
/// The system's own choice.
pub const SYSTEM_CHOICE: &str = "whatever the system uses";
/// No microphone wanted.
pub const NO_MICROPHONE: &str = "none: I say myself how a pass was";
/// Buffer.
pub const BUFFER: &str = "buffer";
/// What a buffer size does.
pub const BUFFER_WORDS: &str = "Smaller answers sooner; larger never stutters.";
/// How often sound was lost.
#[must_use]
pub fn lost(times: u64) -> String {
    match times {
        0 => "No sound was lost since the start.".to_owned(),
        1 => "Sound was lost once since the start.".to_owned(),
        _ => format!("Sound was lost {times} times since the start."),
    }
}

/// Round trip.
pub const ROUND_TRIP: &str = "round trip";
/// Sets it.
pub const ROUND_TRIP_HAND: &str = "by hand";
/// Finds it anew.
pub const ROUND_TRIP_AGAIN: &str = "Find it again";
/// Above the switch for the strokes that start.
pub const HANDS_FREE: &str = "both hands on the guitar";
/// Four muted strokes start.
pub const STROKES_START: &str = "Four muted strokes start";
/// How to play them, and what is no sign.
pub const STROKES_START_WORDS: &str = "Lay a hand on the strings and, after a beat of rest, strum four times, evenly: the \
     pass starts, as with Space. While nothing plays; strings that ring start nothing.";
/// Volumes.
pub const VOLUMES: &str = "how loud";
/// The timing window.
pub const LEVEL: &str = "how close counts as in time";
/// The widest window.
pub const BEGINNER: &str = "beginner, ±80 ms";
/// The middle one.
pub const IMPROVER: &str = "improver, ±60 ms";
/// The narrow one.
pub const ADVANCED: &str = "advanced, ±40 ms";
/// A line about ears: no program can know how loud a room is.
pub const EARS: &str = "Start low. I cannot know how loud it is in your room.";

/// Fits the drawing to the screen.
pub const CARD: &str = "how large this screen is";
/// How.
pub const CARD_WORDS: &str = "Hold a bank card, or any card of that size, against the outline, and make it as wide. What you \
                              read while playing is then as large as your distance asks for.";
/// The slider.
pub const CARD_WIDTH: &str = "as wide as";
/// Heading of the tuner's page.
pub const TUNER: &str = "Tuner";
/// On the sound page.
pub const TUNER_LINK: &str = "Tuner";
/// Nothing sounds.
pub const TUNER_NOTHING: &str = "Pluck one string and let it ring";
/// Something does that is no string of ours.
pub const TUNER_UNCLEAR: &str = "Listening";
/// No microphone.
pub const TUNER_DEAF: &str = "I need a microphone to hear your strings";
/// A string as it should be.
pub const IN_TUNE: &str = "in tune";
/// Too low.
pub const FLAT: &str = "flat";
/// Too high.
pub const SHARP: &str = "sharp";
/// Listens for all strings.
pub const ANY_STRING: &str = "Any string";
/// What a press on a string does.
pub const TUNER_HINT: &str = "Press a string to listen for that one only, when it is far off or another rings along.";

/// How far off a string is, in words: `12 cents flat`.
#[must_use]
pub fn off(cents: f64) -> String {
    let whole = cents.abs().round();
    let unit = if whole == 1.0 { "cent" } else { "cents" };
    format!("{whole:.0} {unit} {}", if cents < 0.0 { FLAT } else { SHARP })
}

/// What to do about it.
#[must_use]
pub const fn cure(cents: f64) -> &'static str {
    if cents < 0.0 { "tighten it" } else { "loosen it" }
}

/// A string as it is read aloud: `string 5, A2, 110.0 hertz`.
#[must_use]
pub fn string_name(number: usize, pitch: Pitch) -> String {
    format!("string {number}, {pitch}, {:.1} hertz", pitch.hertz())
}

/// Under a string's name.
#[must_use]
pub fn string_number(number: usize) -> String {
    format!("string {number}")
}

/// A frequency.
#[must_use]
pub fn hertz(pitch: Pitch) -> String {
    format!("{:.1} Hz", pitch.hertz())
}

/// Why the strings are called as they are.
#[must_use]
pub fn capo(fret: u8) -> String {
    format!("With the capo at fret {fret}: these are the sounds above it.")
}

/// Heading of the page of appearance and keys.
pub const LOOK: &str = "Appearance and keys";
/// Which sheet.
pub const SHEET: &str = "sheet";
/// Light.
pub const LIGHT: &str = "light";
/// Dark.
pub const DARK: &str = "dark";
/// Black on white.
pub const CONTRAST_LIGHT: &str = "black on white";
/// White on black.
pub const CONTRAST_DARK: &str = "white on black";
/// Which hand.
pub const HAND: &str = "diagrams for";
/// Right.
pub const RIGHT_HAND: &str = "the right hand strumming";
/// Left.
pub const LEFT_HAND: &str = "the left hand strumming";
/// Movement.
pub const MOTION: &str = "movement";
/// All of it.
pub const MOTION_FULL: &str = "as drawn";
/// Only what is needed.
pub const MOTION_REDUCED: &str = "only what is needed";
/// Scale.
pub const SCALE: &str = "size";
/// Distance.
pub const DISTANCE: &str = "read from";
/// Keys.
pub const KEYS: &str = "keys";
/// How another key or pedal is set.
pub const KEYS_SET: &str = "Press one of these, then the key or pedal switch it is to have.";
/// While a key or pedal is waited for.
pub const PRESS_A_KEY: &str = "now the key or pedal (Esc: no change)";
/// Takes back what was set.
pub const KEYS_RESET: &str = "All keys and pedals as they were";
/// About pedals.
pub const PEDAL: &str = "A page-turn pedal works: its forward switch starts and goes on, its back switch plays the part first, or after a \
     pass its worst bar.";
/// About pedals that send MIDI.
pub const MIDI_PEDAL: &str = "So does a pedal that sends MIDI: sustain (CC 64) is forward, sostenuto and soft (CC 66, CC 67) are back. Any \
     other switch of it can be set to any of these.";
/// Before a command's MIDI switches.
pub const BY_PEDAL: &str = "pedal";

/// Which MIDI pedals are plugged in.
#[must_use]
pub fn midi_pedals(found: &[String]) -> String {
    if found.is_empty() { "No MIDI pedal found.".to_owned() } else { format!("MIDI comes from: {}.", found.join(", ")) }
}

/// A MIDI switch: `CC 64`, or on one channel `CC 20 ch 3`.
#[must_use]
pub fn midi_switch(Switch { kind, number, channel }: Switch) -> String {
    let kind = match kind {
        PedalKind::Control => "CC",
        PedalKind::Note => "note",
        PedalKind::Program => "PC",
    };
    let channel = channel.map(|channel| format!(" ch {}", channel + 1)).unwrap_or_default();
    format!("{kind} {number}{channel}")
}

/// A command of the page of keys, as it is read aloud.
#[must_use]
pub fn command_name(words: &str, keys: &str, pedals: &str) -> String {
    if pedals.is_empty() { format!("{words}: {keys}") } else { format!("{words}: {keys}, {pedals}") }
}

/// The round trip in words.
#[must_use]
pub fn round_trip(trip: RoundTrip) -> String {
    let said = match trip {
        RoundTrip::Unknown => "not known yet: the next pass finds it".to_owned(),
        RoundTrip::Heard(ms, spread) => format!("{ms:.1} ms, give or take {spread:.1}, by my own sound"),
        RoundTrip::Tapped(ms, spread) => format!("{ms:.0} ms, give or take {spread:.0}, by your taps"),
        RoundTrip::Found(ms) => format!("{ms:.0} ms, found by a pass"),
        RoundTrip::Set(ms) => format!("{ms:.0} ms, set by hand"),
    };
    said.replace('-', "−")
}

/// A buffer in frames, and how long that lasts.
#[must_use]
pub fn buffer(frames: u32, rate_hz: u32) -> String {
    if rate_hz == 0 {
        return frames.to_string();
    }
    let ms = f64::from(frames) * 1000.0 / f64::from(rate_hz);
    format!("{frames} · {ms:.0} ms")
}

/// A volume in decibels.
#[must_use]
pub fn decibels(db: f32) -> String {
    if db <= crate::stand::Volumes::SILENT_DB {
        "off".to_owned()
    } else if db.abs() < 0.5 {
        "0 dB".to_owned()
    } else {
        format!("{db:+.0} dB").replace('-', "−")
    }
}

/// A scale.
#[must_use]
pub fn scale(scale: f32) -> String {
    format!("{:.0} %", scale * 100.0)
}

/// A distance.
#[must_use]
pub fn metres(metres: f32) -> String {
    format!("{metres:.1} m")
}

/// The round trip beside its slider.
#[must_use]
pub fn round_trip_ms(ms: Option<f64>) -> String {
    ms.map_or_else(|| "–".to_owned(), |ms| format!("{ms:.0} ms"))
}

/// How fine the screen is.
#[must_use]
pub fn card(points_per_mm: f32) -> String {
    format!("{:.0} points an inch", points_per_mm * 25.4)
}
