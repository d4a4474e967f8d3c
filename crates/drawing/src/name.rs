//! Names and letters that stand in drawings.

use sixrung_lesson::{Action, Direction};

/// How a bar without a chord is written.
pub const NO_CHORD: &str = "N.C.";

/// A chord's name with real signs: `Bb` becomes `B♭`, `F#m` becomes `F♯m`. Only the root's and the bass's own signs are
/// set, so that `m7b5` keeps its `b`.
#[must_use]
pub fn chord_name(written: &str) -> String {
    let parts = written.split('/').map(|part| {
        let mut chars = part.chars();
        let root = chars.next().filter(|root| ('A'..='G').contains(root));
        match (root, chars.clone().next()) {
            (Some(root), Some('b')) => format!("{root}♭{}", &chars.as_str()[1..]),
            (Some(root), Some('#')) => format!("{root}♯{}", &chars.as_str()[1..]),
            _ => part.to_owned(),
        }
    });
    parts.collect::<Vec<_>>().join("/")
}

/// The letter under a stroke: arrows are published both ways up, so a letter always stands with them (common
/// practice).
#[must_use]
pub const fn stroke_letter(action: Action, direction: Direction) -> &'static str {
    match (action, direction) {
        (Action::Strum, Direction::Down) => "D",
        (Action::Strum, Direction::Up) => "U",
        (Action::Chuck, _) => "X",
        (Action::Bass, _) => "B",
        (Action::Stop, _) => "S",
        (Action::Air | Action::Ring, _) => "",
    }
}
