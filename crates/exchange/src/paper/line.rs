//! A short text: all that these files hold beside numbers and the lesson.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A line of at most [`Line::LONGEST`] characters, none of them a control character, not blank.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Line(String);

/// Why a text is no line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineError {
    /// It is longer than [`Line::LONGEST`] characters.
    TooLong(usize),
    /// It has a line break or another control character.
    Control,
    /// There is nothing in it.
    Blank,
}

impl Line {
    /// The most characters: a sentence. A design choice of ours, as it is that no more than a sentence is sent.
    pub const LONGEST: usize = 200;

    /// The text, blanks at its ends taken off.
    ///
    /// # Errors
    /// When it is longer, blank, or has control characters in it.
    pub fn new(text: &str) -> Result<Self, LineError> {
        let text = text.trim();
        let length = text.chars().count();
        if text.is_empty() {
            Err(LineError::Blank)
        } else if length > Self::LONGEST {
            Err(LineError::TooLong(length))
        } else if text.contains(char::is_control) {
            Err(LineError::Control)
        } else {
            Ok(Self(text.to_owned()))
        }
    }

    /// As much of the text as fits, control characters left out; `None` of nothing.
    #[must_use]
    pub fn cut(text: &str) -> Option<Self> {
        let kept: String = text.trim().chars().filter(|c| !c.is_control()).take(Self::LONGEST).collect();
        Self::new(&kept).ok()
    }

    /// The text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl TryFrom<String> for Line {
    type Error = LineError;

    fn try_from(text: String) -> Result<Self, LineError> {
        Self::new(&text)
    }
}

impl From<Line> for String {
    fn from(line: Line) -> Self {
        line.0
    }
}

impl fmt::Display for Line {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl fmt::Display for LineError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooLong(length) => write!(f, "has at most {} characters; found {length}", Line::LONGEST),
            Self::Control => f.write_str("is one line of plain characters"),
            Self::Blank => f.write_str("is empty"),
        }
    }
}

impl std::error::Error for LineError {}
