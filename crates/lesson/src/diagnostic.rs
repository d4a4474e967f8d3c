//! What is wrong with a lesson's text, said once and clearly.

use std::fmt;

/// How much it matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The lesson can be played; a teacher may want to look.
    Warning,
    /// The lesson can't be played.
    Error,
}

/// A place in the text, both from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line.
    pub line: u32,
    /// Column.
    pub column: u32,
}

/// One finding.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Diagnostic {
    /// How much it matters.
    pub severity: Severity,
    /// A short stable name, for example `unknown-chord`.
    pub code: &'static str,
    /// Where.
    pub place: Place,
    /// What: lower case, no final period.
    pub message: String,
    /// What would be right.
    pub hint: Option<String>,
    /// For the compact texts: the text and the columns (from 0, end exclusive) to put carets under.
    pub caret: Option<Caret>,
}

/// A piece of compact text with the part that is meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caret {
    /// The whole compact text.
    pub text: String,
    /// First character meant.
    pub from: usize,
    /// One past the last character meant.
    pub to: usize,
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let severity = match self.severity {
            Severity::Warning => "warning",
            Severity::Error => "error",
        };
        write!(f, "{}:{}: {severity}[{}]: {}", self.place.line, self.place.column, self.code, self.message)?;
        if let Some(caret) = &self.caret {
            let width = caret.to.saturating_sub(caret.from).max(1);
            write!(f, "\n    {}\n    {}{}", caret.text, " ".repeat(caret.from), "^".repeat(width))?;
        }
        if let Some(hint) = &self.hint {
            write!(f, "\nhint: {hint}")?;
        }
        Ok(())
    }
}
