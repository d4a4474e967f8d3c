//! What can be wrong with a recording.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

use super::keep::Wanted;

/// Why a recording can't be used: a message, and a hint.
#[derive(Debug)]
pub struct DecodeError {
    path: PathBuf,
    trouble: Trouble,
}

/// The cause.
#[derive(Debug)]
pub(super) enum Trouble {
    Unreadable(io::Error),
    Folder,
    Empty,
    NotAudio,
    /// WAV, but holding a kind of samples we do not read.
    Kind(&'static str),
    TooLong(Wanted),
    /// Whoever asked for it wanted no more.
    Stopped,
}

impl From<io::Error> for Trouble {
    fn from(error: io::Error) -> Self {
        Self::Unreadable(error)
    }
}

impl DecodeError {
    pub(super) fn new(path: &Path, trouble: Trouble) -> Self {
        Self { path: path.to_owned(), trouble }
    }

    /// What is wrong, and where: one line, lower case.
    #[must_use]
    pub fn message(&self) -> String {
        let path = self.path.display();
        match &self.trouble {
            Trouble::Unreadable(error) if error.kind() == io::ErrorKind::NotFound => {
                format!("{path}: there is no such file")
            }
            Trouble::Unreadable(error) => format!("{path}: can't be read: {}", error.to_string().to_lowercase()),
            Trouble::Folder => format!("{path}: this is a folder"),
            Trouble::Empty => format!("{path}: there is no sound in this file"),
            Trouble::NotAudio => format!("{path}: this is not a recording that can be read"),
            Trouble::Kind(what) => format!("{path}: {what} can't be read"),
            Trouble::TooLong(_) => format!("{path}: this recording is too long"),
            Trouble::Stopped => format!("{path}: stopped before all of it was read"),
        }
    }

    /// Whether it was only stopped.
    #[must_use]
    pub const fn is_stopped(&self) -> bool {
        matches!(self.trouble, Trouble::Stopped)
    }

    /// What to try.
    #[must_use]
    pub const fn hint(&self) -> &'static str {
        match self.trouble {
            Trouble::Unreadable(_) => "check the name and whether you may read it",
            Trouble::Folder => "name a file in it",
            Trouble::Empty => "was anything recorded? try it in another player",
            Trouble::NotAudio => "WAV, FLAC, Ogg Vorbis and MP3 can be read",
            Trouble::Kind(_) => "save it as 16-bit, 24-bit or 32-bit float WAV",
            Trouble::TooLong(Wanted::Take) => {
                "cut it to the part to be judged: at most two hours, and 1 GiB of samples"
            }
            Trouble::TooLong(Wanted::Song) => {
                "cut it to the song: at most twelve minutes, and 300 MB of samples, which is six minutes at 96 kHz"
            }
            Trouble::Stopped => "open it again",
        }
    }
}

impl fmt::Display for DecodeError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}\nhint: {}", self.message(), self.hint())
    }
}

impl std::error::Error for DecodeError {}
