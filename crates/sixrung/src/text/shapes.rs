//! Words of the page of shapes.

use sixrung_lesson::{Finger, MuteNote};

/// Heading.
pub const TITLE: &str = "Shapes";
/// With no lesson open.
pub const EMPTY: &str = "Open a lesson, and its shapes are shown here.";
/// Keys.
pub const KEYS: &str = "Space: next. L: hear it. I: what the signs mean. Pedal: forward is Space, back is L.";
/// Above the explanation of the diagram.
pub const HOW_TO_READ: &str = "how to read it";
/// The explanation of the diagram.
pub const DIAGRAM: [&str; 4] = [
    "The neck stands upright before you.",
    "Left is string 6, the thickest. Right is string 1, the thinnest.",
    "The thick bar is the end of the neck. The lines across are frets.",
    "A dot is a fingertip: 1 index, 2 middle, 3 ring, 4 little. ○ rings open. × is not played.",
];
/// Nothing is down yet.
pub const OPEN_HAND: &str = "Look first. Then one finger at a time.";
/// With it.
pub const OPEN_HAND_MORE: &str = "Space: the first finger. L: hear it.";
/// All fingers are down, and there is a microphone.
pub const PLUCK: &str = "Pluck each string, the thickest first.";
/// All fingers are down, and there is none.
pub const STRUM: &str = "Strum it slowly. Does every string ring?";
/// With it.
pub const STRUM_MORE: &str = "Space when it does. There is no microphone, so you say.";
/// All strings were heard.
pub const RINGS: &str = "Every string rings.";
/// With it.
pub const RINGS_MORE: &str = "Lift the hand, put it down again, and Space for the next shape.";
/// It is the last one.
pub const RINGS_LAST: &str = "That was the last shape. Space goes on to the changes.";
/// While our own sound plays.
pub const LISTEN: &str = "Listen.";

/// Where a finger goes.
#[must_use]
pub fn finger(finger: Option<Finger>, string: usize, fret: u8) -> String {
    let who = match finger {
        Some(Finger::Thumb) => "The thumb".to_owned(),
        Some(finger) => format!("Finger {}", finger.letter()),
        None => "A finger".to_owned(),
    };
    format!("{who}: string {string}, fret {fret}.")
}

/// A finger across several strings.
#[must_use]
pub fn barre(finger: Finger, from: usize, to: usize, fret: u8) -> String {
    format!("Finger {} flat across strings {from} to {to}, fret {fret}.", finger.letter())
}

/// How many fingers are down.
#[must_use]
pub fn placed(placed: usize, of: usize) -> String {
    if placed < of {
        "Press it down, just behind the fret. Then Space.".to_owned()
    } else {
        "Press it down. Then Space, and I listen.".to_owned()
    }
}

/// How many strings were heard.
#[must_use]
pub fn heard(heard: usize, of: usize) -> String {
    match heard {
        0 => format!("{of} strings sound. A ring fills when I hear its string."),
        _ => format!("{heard} of {of} ring. For an empty one, press closer to the fret and arch the finger."),
    }
}

/// How a string is kept silent.
#[must_use]
pub fn mute(note: &MuteNote, number: usize) -> String {
    format!("String {number} is not played: {}.", note.with.trim_end_matches('.').replace('\'', "’"))
}

/// A shape as a control.
#[must_use]
pub fn control(name: &str, is_done: bool) -> String {
    if is_done { format!("{name}, done") } else { name.to_owned() }
}
