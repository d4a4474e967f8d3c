//! What the page of the learner's own recording shows: plain data.

use std::sync::Arc;

use crate::song::Peak;
use crate::stand::Note;

/// The learner's own recording.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SongPage {
    /// Whether a lesson is on the stand: a recording belongs to one.
    pub has_lesson: bool,
    /// How far it is.
    pub state: SongState,
    /// Its file's name.
    pub file: Option<String>,
    /// The file ends before it says it does.
    pub is_cut_off: bool,
    /// What its picture is drawn from.
    pub peaks: Arc<[Peak]>,
    /// Its length in seconds.
    pub length_s: f64,
    /// What is drawn of it, from and to, in seconds.
    pub window: (f64, f64),
    /// Where it plays, or the cursor stands, in seconds.
    pub at_s: f64,
    /// Bar 1, in seconds.
    pub start_s: Option<f64>,
    /// The beats in the window.
    pub beats: Vec<BeatMark>,
    /// How many anchors there are.
    pub anchors: usize,
    /// The tempo marked.
    pub bpm: Option<f64>,
    /// The lesson's, as printed.
    pub lesson_bpm: Option<String>,
    /// What was found.
    pub found: Option<FoundBeats>,
    /// How often the key was pressed.
    pub presses: usize,
    /// What that tells.
    pub tapped: Option<TappedBeats>,
    /// So many semitones higher.
    pub semitones: i8,
    /// How loud it is on the stand.
    pub volume_db: f32,
    /// Whether clicks are heard on its beats.
    pub has_clicks: bool,
    /// Whether it plays.
    pub is_playing: bool,
    /// The rungs it is slowed for, the one now first.
    pub rungs: Vec<RungSong>,
    /// Whether something was stopped or failed that can be tried again.
    pub can_retry: bool,
    /// What can't be done.
    pub trouble: Option<Note>,
}

/// How far a recording is.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum SongState {
    /// None was opened.
    #[default]
    Nothing,
    /// Being read: the share done, 0 to 1.
    Reading(f32),
    /// It could not be read, or reading was stopped.
    Unread,
    /// Read.
    Read,
}

/// One beat.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BeatMark {
    /// Where, in seconds.
    pub at_s: f64,
    /// The bar it begins, from 1.
    pub bar: Option<u32>,
    /// Whether it is an anchor, or bar 1.
    pub is_anchor: bool,
    /// Whether it lies before bar 1.
    pub is_before: bool,
}

/// Beats that were found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FoundBeats {
    /// Their tempo.
    pub bpm: f64,
    /// Whether they stand out.
    pub is_clear: bool,
}

/// What presses of a key tell.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TappedBeats {
    /// Their tempo.
    pub bpm: f64,
    /// How even they are, in milliseconds.
    pub spread_ms: f64,
}

/// A rung the recording is wanted at.
#[derive(Clone, Debug, PartialEq)]
pub struct RungSong {
    /// Its tempo, as printed.
    pub bpm: String,
    /// How far its slowing is, while it goes on.
    pub share: Option<f32>,
    /// Whether it is ready.
    pub is_ready: bool,
}
