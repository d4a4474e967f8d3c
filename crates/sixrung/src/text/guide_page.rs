//! Words of the page that shows the guide as it will be printed.

use std::path::Path;

use sixrung_drawing::Hand;
use sixrung_exchange::guide::{Paper, Print};

/// Heading.
pub const TITLE: &str = "On paper";
/// On other pages.
pub const LINK: &str = "The guide on paper";
/// With no lesson open.
pub const EMPTY: &str =
    "Open a lesson, and it lies here as it will be printed: its chords, its strokes, the song, the ladder to tick.";
/// Which paper.
pub const PAPER: &str = "paper";
/// Which hand.
pub const HAND: &str = "diagrams for";
/// How large.
pub const PRINT: &str = "print";
/// Which arrangement.
pub const ARRANGEMENT: &str = "arrangement";
/// On.
pub const NEXT: &str = "next page";
/// Back.
pub const PREVIOUS: &str = "back";
/// Shows half a page, larger.
pub const CLOSER: &str = "look closer";
/// Writes it.
pub const WRITE: &str = "Write PDF";
/// The folder is not there.
pub const NO_FOLDER: &str =
    "There is no folder to write it to: the journal could not be opened. `sixrung guide` writes it where you say.";

/// A paper.
#[must_use]
pub const fn paper(paper: Paper) -> &'static str {
    match paper {
        Paper::A4 => "A4",
        Paper::Letter => "Letter",
    }
}

/// A hand.
#[must_use]
pub const fn hand(hand: Hand) -> &'static str {
    match hand {
        Hand::Right => "right hand",
        Hand::Left => "left hand",
    }
}

/// A print.
#[must_use]
pub const fn print(print: Print) -> &'static str {
    match print {
        Print::Usual => "usual",
        Print::Large => "large",
    }
}

/// Which page is shown, from 1.
#[must_use]
pub fn place(page: usize, of: usize) -> String {
    format!("page {page} of {of}")
}

/// The page as it is read aloud, from 1.
#[must_use]
pub fn page_name(page: usize, of: usize, title: &str) -> String {
    format!("Page {page} of {of} of the guide: {title}")
}

/// Characters that are printed as boxes.
#[must_use]
pub fn missing(letters: &str) -> String {
    format!("No font has {letters}: a box is printed instead.")
}

/// Where it was written.
#[must_use]
pub fn written(path: &Path) -> String {
    format!("written: {}", path.display())
}

/// It could not be written.
#[must_use]
pub fn unwritten(path: &Path, why: &str) -> String {
    format!("{}: {why}; is the folder there, may it be written to, and has the disk room?", path.display())
}
