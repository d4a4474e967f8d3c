//! Why a stretch can't be laid out.

use std::fmt;

/// Why a stretch can't be laid out. A lesson that was read without errors only ever meets the first three.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LayoutError {
    /// The lesson has no section of this name.
    UnknownSection(String),
    /// The bars asked for are not there.
    NoSuchBars {
        /// The section.
        section: String,
        /// How many bars it has.
        bars: u32,
    },
    /// The stretch is longer than [`super::MAX_BARS`] bars.
    TooLong,
    /// There is nothing in it to play.
    Empty,
    /// The lesson has no pattern of this name, or it has no strokes.
    UnknownPattern(String),
    /// The lesson has no shape of this name.
    UnknownShape(String),
    /// An entry's chords do not match its pattern's change points.
    ChordsMismatch {
        /// The pattern.
        pattern: String,
        /// How many change points it has.
        change_points: usize,
        /// How many chords the entry gives.
        chords: usize,
    },
    /// A stroke crosses a bar line, or a bar is left unfinished by a new meter or the section's end.
    BrokenBar {
        /// The section.
        section: String,
        /// The bar's number in it, from 0.
        bar: u32,
    },
}

impl fmt::Display for LayoutError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownSection(name) => write!(f, "the lesson has no section \"{name}\""),
            Self::NoSuchBars { section, bars } => {
                write!(f, "the bars asked for are not in section \"{section}\", which has {bars}")
            }
            Self::TooLong => write!(f, "the stretch is longer than {} bars", super::MAX_BARS),
            Self::Empty => f.write_str("there is nothing to play"),
            Self::UnknownPattern(name) => write!(f, "the lesson has no strokes for a pattern \"{name}\""),
            Self::UnknownShape(name) => write!(f, "the lesson has no shape \"{name}\""),
            Self::ChordsMismatch { pattern, change_points, chords } => {
                write!(f, "pattern \"{pattern}\" with {change_points} change points does not take {chords} chords")
            }
            Self::BrokenBar { section, bar } => {
                write!(f, "bar {} of section \"{section}\" does not come out even", bar + 1)
            }
        }
    }
}

impl std::error::Error for LayoutError {}
