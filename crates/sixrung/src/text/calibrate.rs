//! Words of the page where sound is measured.

use crate::measuring::Measure;
use crate::pages::RoundTrip;

/// Heading of the page, and the way to it.
pub const CALIBRATE: &str = "Calibrate and check";
/// Nothing to measure with.
pub const NO_DEVICES: &str = "I need speakers and a microphone for this.";
/// Measures the round trip.
pub const LOOPBACK: &str = "Measure it";
/// What that does.
pub const LOOPBACK_WORDS: &str =
    "Ten short chirps, ten seconds. The microphone has to hear the speakers: take headphones off, and be quiet.";
/// The fallback.
pub const TAP_ALONG: &str = "Tap along instead";
/// What that does.
pub const TAP_ALONG_WORDS: &str =
    "For headphones. Twenty clicks: tap on the guitar's body with each. What you hear and tap ahead is in the result.";
/// Above the check.
pub const CHECK: &str = "sound check";
/// Not done yet.
pub const UNCHECKED: &str = "Not checked yet.";
/// Nothing found.
pub const PASSED: &str = "Nothing stands in the way of your guitar’s sound.";
/// What a finding means.
pub const STANDS: &str = "Until a check passes I do not judge: it would not be fair.";
/// Goes on all the same.
pub const OVERRULE: &str = "Judge me all the same";
/// Went on.
pub const OVERRULED: &str = "I judge you all the same, as you asked.";
/// Begins it.
pub const STRUMS: &str = "Check my sound";
/// What that does.
pub const STRUMS_WORDS: &str =
    "Twelve seconds: first stay quiet, then strum a chord four times and let the last one ring.";

/// What to do now.
#[must_use]
pub fn now(measure: Measure, share: f32) -> &'static str {
    match measure {
        Measure::Loopback => "I listen to my own chirps.",
        Measure::TapAlong => "Tap with each click.",
        Measure::Strums if share < 0.2 => "Stay quiet …",
        Measure::Strums if share < 0.55 => "Now strum four times …",
        Measure::Strums => "… and let it ring.",
    }
}

/// What is in a round trip.
#[must_use]
pub const fn trip_kind(trip: RoundTrip) -> &'static str {
    match trip {
        RoundTrip::Unknown => "The first pass finds it, and is not judged. Measured here it is known at once.",
        RoundTrip::Heard(..) => "The sound's own way: if you play early or late, you are told so.",
        RoundTrip::Tapped(..) => "Your own early tapping is in it: what you are told of early and late is less sure.",
        RoundTrip::Found(_) => "Your own early or late playing in that pass is in it.",
        RoundTrip::Set(_) => "As you set it.",
    }
}

/// How well it was heard.
#[must_use]
pub fn heard(agreed: usize, asked: usize, above_noise_db: f64) -> String {
    format!("{agreed} of {asked} chirps agree, {above_noise_db:.0} dB above the room.")
}

/// A message as a sentence.
#[must_use]
pub fn sentence(message: &str) -> String {
    let mut chars = message.chars();
    let first = chars.next().map(|first| first.to_uppercase().collect::<String>()).unwrap_or_default();
    let end = if message.ends_with('.') { "" } else { "." };
    format!("{first}{}{end}", chars.as_str())
}
