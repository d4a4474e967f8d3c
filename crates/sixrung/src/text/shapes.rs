//! Words of the page of shapes.

use sixrung_lesson::{Finger, MuteNote};

use crate::theme::Hand;

/// Heading.
pub const TITLE: &str = "Shapes";
/// With no lesson open.
pub const EMPTY: &str = "Open a lesson, and its shapes are shown here.";
/// Keys.
pub const KEYS: &str = "L: hear it. I: what the signs mean. Pedal: forward is Space, back is L.";
/// Above the explanation of the diagram.
pub const HOW_TO_READ: &str = "how to read it";
/// The explanation of the diagram, as it is drawn for this hand.
#[must_use]
pub const fn diagram(hand: Hand) -> [&'static str; 4] {
    [
        "The neck stands upright before you.",
        match hand {
            Hand::Right => "Left is string 6, the thickest. Right is string 1, the thinnest.",
            Hand::Left => "Right is string 6, the thickest. Left is string 1, the thinnest.",
        },
        "The thick bar is the end of the neck. The lines across are frets.",
        "A dot is a fingertip: 1 index, 2 middle, 3 ring, 4 little. ○ rings open. × is not played.",
    ]
}
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

/// The button that goes on: with so many fingers down, and so many to go.
#[must_use]
pub const fn next(placed: usize, left: usize, listens: bool, is_last: bool) -> &'static str {
    match (listens, is_last) {
        (true, true) => "On to the changes",
        (true, false) => "Next shape",
        (false, _) if placed == 0 => "First finger",
        (false, _) if left > 0 => "Next finger",
        (false, _) => "All are down",
    }
}

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

#[cfg(test)]
mod tests {
    use sixrung_drawing::diagram::lay_out;
    use sixrung_drawing::{Point, Rect};
    use sixrung_lesson::read;

    use crate::library::DEMOS;
    use crate::theme::Hand;

    #[test]
    fn the_words_name_the_side_on_which_the_thickest_string_is_drawn() {
        let lesson = read(DEMOS[0].1.as_bytes()).expect("a demo").lesson;
        let shape = lesson.shapes.first().expect("it has shapes");
        for hand in [Hand::Right, Hand::Left] {
            let drawn = lay_out(shape, Rect { min: Point { x: 0.0, y: 0.0 }, max: Point { x: 100.0, y: 100.0 } }, hand);
            let (first, last) = (drawn.strings[0].0, drawn.strings[drawn.strings.len() - 1].0);
            let (thickest, thinnest) = if first < last { ("left", "right") } else { ("right", "left") };
            let shapes = super::diagram(hand)[1].to_lowercase();
            let wanted = format!("{thickest} is string 6, the thickest. {thinnest} is string 1, the thinnest.");
            assert_eq!(shapes, wanted, "{hand:?}");
            let signs = crate::text::signs::diagram(hand)[0];
            assert!(signs.ends_with(&format!("the heaviest on the {thickest}.")), "{hand:?}: {signs}");
        }
    }
}
