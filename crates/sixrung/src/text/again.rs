//! Words for hearing the worst bar of the last pass again.

use crate::stand::Voice;

/// Before the three who can be heard.
#[must_use]
pub fn hear(bar: u32) -> String {
    format!("hear bar {bar}:")
}

/// Who is heard, and by which key.
#[must_use]
pub const fn voice(voice: Voice) -> (&'static str, &'static str) {
    match voice {
        Voice::You => ("you", "Y"),
        Voice::Lesson => ("the lesson", "G"),
        Voice::Both => ("both", "W"),
    }
}

/// At half the tempo, and by which key.
pub const SLOWLY: (&str, &str) = ("slowly", "Z");

/// One of the three as a control.
#[must_use]
pub fn control(bar: u32, words: &str) -> String {
    format!("hear bar {bar}, {words}")
}
