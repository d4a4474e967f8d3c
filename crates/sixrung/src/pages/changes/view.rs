//! What the page of changes shows: plain data, filled by the room.

use crate::stand::{ChordView, HearingView};

/// Two shapes to and fro.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChangesPage {
    /// The two shapes; `None` when nothing is open, or the section never changes.
    pub drill: Option<DrillView>,
    /// The section's pairs, the one that needs it most first.
    pub pairs: Vec<PairItem>,
    /// A fingering that would make the section easier, in a sentence.
    pub offer: String,
    /// The capo's fret, 0 for none.
    pub capo: u8,
    /// What the microphone gives.
    pub hearing: HearingView,
}

/// The drill of one pair.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillView {
    /// The two chords.
    pub chords: [ChordView; 2],
    /// Which of the two was heard last.
    pub heard: Option<usize>,
    /// For each of the two: strings whose finger stays, and strings whose finger slides, as indices in written order.
    pub fingers: [FingerMarks; 2],
    /// What to do now.
    pub sentence: String,
    /// How the fingers go.
    pub moves: Vec<String>,
    /// Changes heard so far.
    pub count: usize,
    /// Attempts that sounded neither chord.
    pub botched: u32,
    /// How many slow ones come first.
    pub slow: usize,
    /// Times of the last changes in seconds, oldest first.
    pub times_s: Vec<f32>,
    /// Median and spread in seconds.
    pub median_s: Option<(f64, f64)>,
    /// The tempo it fits, as printed.
    pub fits: Option<String>,
    /// Whether it is steady.
    pub is_steady: bool,
    /// Whether it is the last one that was not gone through.
    pub is_last: bool,
}

/// Fingers that need not let go.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FingerMarks {
    /// Those that stay.
    pub stay: Vec<usize>,
    /// Those that slide along their string.
    pub slide: Vec<usize>,
}

/// A pair of the section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PairItem {
    /// Both names, for example `G – D`.
    pub name: String,
    /// What is known of it, for example `0.9 s, quick enough for 84`.
    pub detail: String,
    /// Whether it is the one on the page.
    pub is_now: bool,
}
