//! What the page of shapes shows: plain data, filled by the room.

use crate::stand::{ChordView, HearingView};

/// Where the fingers go, shape by shape.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ShapesPage {
    /// The section's shapes, in the order they come; empty when nothing is open.
    pub shapes: Vec<ShapeItem>,
    /// The one that is shown, as an index into `shapes`.
    pub now: usize,
    /// How many of its fingers are down.
    pub placed: usize,
    /// What to do now.
    pub sentence: String,
    /// A quiet sentence to it.
    pub more: String,
    /// How its silent strings are kept silent, one line each.
    pub mutes: Vec<String>,
    /// One entry a string, in written order: whether it was heard; `None` for a silent one.
    pub rings: Vec<Option<bool>>,
    /// Whether the strings are asked for now.
    pub listens: bool,
    /// Whether it is the last one that was not gone through.
    pub is_last: bool,
    /// The capo's fret, 0 for none.
    pub capo: u8,
    /// Whether the diagram is explained.
    pub explains: bool,
    /// What the microphone gives.
    pub hearing: HearingView,
}

/// A shape of the section.
#[derive(Clone, Debug, PartialEq)]
pub struct ShapeItem {
    /// The chord.
    pub chord: ChordView,
    /// Whether each of its strings was heard, or the player went on.
    pub is_done: bool,
}
