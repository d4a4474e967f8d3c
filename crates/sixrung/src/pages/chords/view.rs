//! What the page where chords are heard shows: plain data, filled by the room.

use sixrung_listen::{LearnTask, LearnTrouble, LearnWait};

use crate::stand::{ChordView, HearingView};

/// The player's chords, heard one by one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ChordsPage {
    /// The chord asked for; `None` when none is.
    pub now: Option<AskedChord>,
    /// Whether all that was asked for was heard.
    pub is_done: bool,
    /// The chords of the stretch on the stand; empty when nothing is.
    pub shapes: Vec<ChordItem>,
    /// When down- and up-strokes were learned, in words; `None` when they can't be told apart.
    pub directions: Option<String>,
    /// The capo's fret, 0 for none.
    pub capo: u8,
    /// The guitar being played, as the player calls it.
    pub guitar: String,
    /// The guitars there are, this one among them.
    pub guitars: Vec<String>,
    /// What the microphone gives.
    pub hearing: HearingView,
}

/// A chord asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct AskedChord {
    /// The chord.
    pub chord: ChordView,
    /// Which it is of those asked for, from 1.
    pub number: usize,
    /// How many are asked for.
    pub of: usize,
    /// Which strokes, and how many.
    pub task: LearnTask,
    /// How many of them were heard.
    pub heard: u32,
    /// What is waited for.
    pub wait: LearnWait,
    /// What was not as asked.
    pub trouble: Option<LearnTrouble>,
}

/// A chord of the stretch.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChordItem {
    /// Its name, signs already set.
    pub name: String,
    /// How it stands with it.
    pub state: ChordState,
}

/// How it stands with a chord.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ChordState {
    /// It was learned: when, in words.
    Known(String),
    /// It is being heard.
    Now,
    /// It comes later.
    Coming,
    /// It was left out, or never asked for.
    LeftOut,
}
