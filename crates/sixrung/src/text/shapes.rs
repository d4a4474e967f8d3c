//! Words of the page of shapes.

use sixrung_lesson::{Finger, MuteNote};

/// Heading.
pub const TITLE: &str = "Shapes";
/// With no lesson open.
pub const EMPTY: &str = "Open a lesson, and its shapes are shown here.";
/// Keys.
pub const KEYS: &str = "Next finger, next shape: Space, or the pedal forward. Hear it strummed, then string by string: L, \
                        or the pedal back. What the signs mean: I.";
/// Above the explanation of the diagram.
pub const HOW_TO_READ: &str = "how to read it";
/// The explanation of the diagram.
pub const DIAGRAM: &str = "The guitar stands upright before you: the strings run down, the heaviest at the left. The thick \
                           line is the nut, the other lines are frets. A dot is a finger just behind a fret: 1 is the \
                           index finger, 4 the little one. ○ rings open, × stays silent. String 1 is the lightest.";
/// Nothing is down yet.
pub const OPEN_HAND: &str = "Look at the shape, then put the fingers down one by one.";
/// With it.
pub const OPEN_HAND_MORE: &str = "Space shows the first finger. L lets you hear it.";
/// All fingers are down, and there is a microphone.
pub const PLUCK: &str = "Pluck the strings one by one, the heaviest first.";
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
        format!("{placed} of {of} are down. Space for the next.")
    } else {
        "All are down. Space, and I listen to the strings.".to_owned()
    }
}

/// How many strings were heard.
#[must_use]
pub fn heard(heard: usize, of: usize) -> String {
    match heard {
        0 => format!("Each of the {of} rings fills when I hear its string."),
        _ => format!("{heard} of {of} ring. One that stays empty: press close to the fret, let the finger arch."),
    }
}

/// How a string is kept silent.
#[must_use]
pub fn mute(note: &MuteNote, number: usize) -> String {
    format!("String {number} stays silent: {}.", note.with.trim_end_matches('.'))
}

/// A shape as a control.
#[must_use]
pub fn control(name: &str, is_done: bool) -> String {
    if is_done { format!("{name}, done") } else { name.to_owned() }
}
