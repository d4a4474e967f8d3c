//! What goes wrong on the command line: one message, where, a hint, an exit code.

use std::fmt;

/// An error as it is shown: lower case, no final period, the hint on its own line.
#[derive(Debug)]
pub(crate) struct Fault {
    message: String,
    hint: Option<String>,
    code: u8,
}

impl Fault {
    /// Something could not be done: exit code 1.
    pub(crate) fn error(message: impl Into<String>) -> Self {
        Self { message: message.into(), hint: None, code: 1 }
    }

    /// The call's own words are off: exit code 2.
    pub(crate) fn usage(message: impl Into<String>) -> Self {
        Self { message: message.into(), hint: None, code: 2 }
    }

    /// Whoever read stdout has seen enough: nothing is said, exit code 1.
    pub(crate) fn nobody_reads() -> Self {
        Self::error(String::new())
    }

    /// Whether there is nothing to say.
    pub(crate) fn is_silent(&self) -> bool {
        self.message.is_empty()
    }

    /// With what to try.
    pub(crate) fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }

    /// The process's exit code.
    pub(crate) fn code(&self) -> u8 {
        self.code
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "error: {}", self.message)?;
        match &self.hint {
            Some(hint) => write!(f, "\nhint: {hint}"),
            None => Ok(()),
        }
    }
}
