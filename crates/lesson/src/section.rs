//! Named stretches of a piece: which pattern is played how often on which chord.

use crate::meter::Meter;

/// A chord as an entry asks for it.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum ChordRef {
    /// A shape of the lesson, by name.
    Shape(String),
    /// No chord: the strings stay silent (N.C.).
    None,
}

/// One pattern played on its chord or chords.
///
/// A pattern with *n* change points takes *n* + 1 chords. With only *n*, the last change point is an early change:
/// it takes the first chord of whatever is played next, at the end of a loop the loop's own first chord.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Play {
    /// Name of a pattern of the lesson.
    pub pattern: String,
    /// The chords in order.
    pub chords: Vec<ChordRef>,
}

/// When an entry is played differently.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Occasion {
    /// The nth time, from 1.
    Nth(u16),
    /// The last time.
    Last,
}

/// What an entry plays on one of its times instead of the usual.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exception {
    /// When.
    pub on: Occasion,
    /// What; as long as the usual.
    pub play: Play,
}

/// A fuller alternative for a stretch of entries, and the key by which an arrangement takes it in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Optional {
    /// The name an arrangement refers to, for example `walk-up`.
    pub name: String,
    /// Played when the arrangement takes it in; as long as `instead`.
    pub fuller: Vec<Entry>,
    /// Played when it is left out.
    pub instead: Vec<Entry>,
}

/// One line of a section's map.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Entry {
    /// A pattern on its chords, a number of times.
    Played {
        /// The usual.
        play: Play,
        /// How often, at least 1.
        times: u16,
        /// What differs on the nth or last time.
        exceptions: Vec<Exception>,
        /// The meter of its bars where it is not the lesson's.
        meter: Option<Meter>,
    },
    /// A stretch with an optional fuller version.
    Optional(Optional),
}

/// A named stretch of the piece.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Name, unique in the lesson.
    pub name: String,
    /// What is played, in order.
    pub entries: Vec<Entry>,
    /// What is played after the entries at each time through: empty for a section played once, one list an ending
    /// for a section with repeats (first ending, second ending …).
    pub endings: Vec<Vec<Entry>>,
    /// The words, one string a printed line, as parsed syllables.
    pub words: Vec<WordLine>,
}

/// A printed line of words.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WordLine {
    /// Its syllables in order.
    pub syllables: Vec<Syllable>,
}

/// The smallest piece of sung text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Syllable {
    /// What is sung; empty where a change falls on no syllable.
    pub text: String,
    /// Whether the section's next change falls on it.
    pub takes_change: bool,
    /// Whether it ends its word: a space follows, rather than the next syllable of the same word.
    pub ends_word: bool,
}
