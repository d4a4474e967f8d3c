//! Words of the page where the player's chords are heard one by one.

use sixrung_listen::{LearnTask, LearnTrouble, LearnWait, Way};

use crate::pages::ChordState;

/// Heading.
pub const TITLE: &str = "Let me hear your chords";
/// The way there from the page of sections.
pub const LINK: &str = "Let me hear your chords, so that I can name single strings";
/// One quiet line on the sheet after a few passes.
pub const OFFER: &str = "Let me hear your chords once (K), and I can tell which string does not ring.";
/// With no lesson open.
pub const EMPTY: &str = "Open a lesson, and its chords are asked for here.";
/// Without a microphone.
pub const DEAF: &str = "I need a microphone to hear your chords.";
/// What to do about that.
pub const DEAF_CURE: &str = "Choose one on the sound page: D.";
/// All was heard.
pub const DONE: &str = "Thank you, I know these chords now.";
/// What follows.
pub const DONE_MORE: &str = "From the next pass on I tell which string does not ring or sounds another note, and strokes \
                             that went the other way.";
/// The same where directions could not be told apart.
pub const DONE_NO_DIRECTIONS: &str = "From the next pass on I tell which string does not ring or sounds another note. Your down- and up-strokes I could \
     not tell apart.";
/// Keys while a chord is asked for.
pub const KEYS: &str = "It goes on by itself. Once more: L, or the pedal back. Leave this chord out: Space, or the \
                        pedal forward.";
/// Keys when none is.
pub const KEYS_DONE: &str = "All of them once more: L, or the pedal back. Press a chord for that one alone. To the \
                             stand: Space, or the pedal forward.";
/// Above what is known.
pub const LEARNED: &str = "what I learned";
/// Directions are not known.
pub const NO_DIRECTIONS: &str = "Down- and up-strokes: not learned yet, so I say nothing of them.";
/// Forgets it.
pub const FORGET: &str = "Forget all I learned of this guitar";
/// Above the guitars.
pub const GUITAR: &str = "the guitar in your hands";
/// The field for another.
pub const ANOTHER_GUITAR: &str = "another guitar: what do you call it?";
/// Before the chord asked for, when read aloud.
pub const ASKED: &str = "asked for";

/// Which chord of how many.
#[must_use]
pub fn which(number: usize, of: usize) -> String {
    format!("chord {number} of {of}")
}

/// What to do now, and a quiet sentence to it.
#[must_use]
pub fn instruction(way: Way, wait: LearnWait, strokes: u32, chord: &str) -> (String, String) {
    let (now, more) = match (wait, way) {
        (LearnWait::Fingers, Way::Slow) => {
            (format!("Put your fingers down for {chord}."), "Then five slow strokes. I am not counting yet.")
        }
        (LearnWait::Fingers, Way::InTurn) => {
            ("Good. Next: down and up in turn.".to_owned(), "Keep the chord. A moment of quiet first.")
        }
        (_, Way::Slow) => (
            format!("{} slow strokes down, now.", counted_word(strokes)),
            "Over its strings from the heaviest one. Let each ring out.",
        ),
        (_, Way::InTurn) => {
            ("Down, up, down, up, now.".to_owned(), "Begin with down. As fast as is easy, without a stop.")
        }
    };
    (now, more.to_owned())
}

fn counted_word(strokes: u32) -> String {
    if strokes == 5 { "Five".to_owned() } else { strokes.to_string() }
}

/// How many were heard, read aloud.
#[must_use]
pub fn counted(heard: u32, of: u32) -> String {
    format!("{heard} of {of} heard")
}

/// What was not as asked, and what to do: never the player's fault.
#[must_use]
pub fn trouble(trouble: LearnTrouble, task: LearnTask) -> String {
    match trouble {
        LearnTrouble::NotAlike => "Those did not all sound alike to me. Five once more, fingers still.".to_owned(),
        LearnTrouble::Stopped { heard } => format!(
            "I heard {heard} of {}, so I lost one on the way. Once more from the first, without a stop.",
            task.strokes
        ),
        LearnTrouble::Unclear => {
            "I hear something, but no stroke I am sure of. A little stronger, over all strings.".to_owned()
        }
        LearnTrouble::Silent => "I hear nothing. Is the microphone near the guitar, and not muted?".to_owned(),
        LearnTrouble::NotQuiet => "A moment of quiet first, then I count.".to_owned(),
        LearnTrouble::Gap => "Part of the sound was lost on its way to me. Once more from the first.".to_owned(),
    }
}

/// How it stands with a chord.
#[must_use]
pub fn state(state: &ChordState) -> String {
    match state {
        ChordState::Known(when) => format!("learned {when}"),
        ChordState::Now => "now".to_owned(),
        ChordState::Coming => "to come".to_owned(),
        ChordState::LeftOut => "not learned".to_owned(),
    }
}

/// A chord of the row as a control.
#[must_use]
pub fn chord_control(name: &str, state: &str) -> String {
    format!("{name}, {state}. Press to play it for me.")
}

/// When down- and up-strokes were learned.
#[must_use]
pub fn directions(when: &str) -> String {
    format!("Down- and up-strokes: learned {when}.")
}

/// Days since, in words.
#[must_use]
pub fn days_ago(days: i64) -> String {
    match days {
        ..=0 => "today".to_owned(),
        1 => "yesterday".to_owned(),
        _ => format!("{days} days ago"),
    }
}
