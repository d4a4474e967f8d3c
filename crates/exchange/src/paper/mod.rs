//! What goes between teacher and learner is text: RON with a version, which a person can read, and this says what is
//! wrong with one.

mod line;
mod source;

pub use line::{Line, LineError};
pub(crate) use source::{Kind, Source, bare, ron};

use std::fmt;

use sixrung_lesson::{Diagnostic, Place};

/// Why a file was not taken: the first thing that is wrong with it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Refusal {
    /// Where; `None` for the file as a whole.
    pub place: Option<Place>,
    /// What: lower case, no final period.
    pub message: String,
    /// What would be right.
    pub hint: String,
    /// What is wrong with the lesson inside, in the lesson's own lines.
    pub findings: Vec<Diagnostic>,
}

/// A fingerprint as it is written: sixteen digits, a few letters among them.
pub(crate) fn hash_text(hash: u64) -> String {
    format!("{hash:016x}")
}

impl Refusal {
    /// Where and what, with what is wrong with the lesson; without the hint.
    #[must_use]
    pub fn told(&self) -> String {
        let place = self.place.map_or_else(String::new, |Place { line, column }| format!("{line}:{column}: "));
        let findings: String = self.findings.iter().map(|finding| format!("\nlesson:{finding}")).collect();
        format!("{place}{}{findings}", self.message)
    }
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}\nhint: {}", self.told(), self.hint)
    }
}

impl std::error::Error for Refusal {}
