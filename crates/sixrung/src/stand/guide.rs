//! What can be wished on the page of the guide.

use sixrung_drawing::Hand;
use sixrung_exchange::guide::{Paper, Print};

/// A wish on the page of the guide.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GuideWish {
    /// On: the next page, or the lower half of this one.
    Next,
    /// Back.
    Previous,
    /// For this paper.
    Paper(Paper),
    /// Mirrored for this hand.
    Hand(Hand),
    /// Mirrored for the other hand.
    OtherHand,
    /// In this print.
    Print(Print),
    /// As this arrangement plays it, by its place in the lesson's list.
    Arrangement(usize),
    /// Shows half a page at a time, larger, or whole pages again.
    Closer,
    /// Writes the PDF.
    Write,
}
