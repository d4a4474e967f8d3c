//! What can stand in a take's way.

use std::fmt;
use std::io;
use std::path::{Path, PathBuf};

/// Why a take could not be made.
#[derive(Debug)]
pub enum Error {
    /// A file or folder would not be read or written.
    File(PathBuf, io::Error),
    /// A sound file that can't be used.
    Sound(PathBuf, String),
    /// The synthesiser is missing or failed.
    Synthesiser(String),
    /// The lesson can't be played as asked.
    Lesson(String),
    /// The planted mistakes can't be read, or can't be planted here.
    Mistakes(String),
}

impl Error {
    pub(crate) fn file(path: &Path) -> impl FnOnce(io::Error) -> Self {
        let path = path.to_owned();
        move |error| Self::File(path, error)
    }

    pub(crate) fn sound(path: &Path) -> impl FnOnce(hound::Error) -> Self {
        let path = path.to_owned();
        move |error| Self::Sound(path, error.to_string())
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::File(path, error) => write!(f, "{}: {error}", path.display()),
            Self::Sound(path, error) => write!(f, "{}: {error}", path.display()),
            Self::Synthesiser(error) => {
                write!(f, "{error}\nhint: apt-get install fluidsynth fluid-soundfont-gm")
            }
            Self::Lesson(error) => write!(f, "{error}"),
            Self::Mistakes(error) => write!(
                f,
                "{error}\nhint: none, or a list like late:3,missed:10,extra:7@2 (KIND:STROKE[@PASS], from 1; kinds: {})",
                crate::mistakes::KINDS.join(" ")
            ),
        }
    }
}

impl std::error::Error for Error {}
