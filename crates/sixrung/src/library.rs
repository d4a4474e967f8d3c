//! Where lessons come from: the embedded demos, by name, and files, by path.

use std::io::ErrorKind;
use std::path::{Path, PathBuf};

use sixrung_exchange::assignment::{Assignment, ENDING};
use sixrung_exchange::report;
use sixrung_lesson::{Lesson, read};

use crate::files::{Unread, read_at_most};

/// The demos, in the order they are offered: name, and text.
pub const DEMOS: [(&str, &str); 4] = [
    ("lantern-on-the-quay", include_str!("../../../assets/lessons/lantern-on-the-quay.lesson.ron")),
    ("ferry-lullaby", include_str!("../../../assets/lessons/ferry-lullaby.lesson.ron")),
    ("kettle-and-clock", include_str!("../../../assets/lessons/kettle-and-clock.lesson.ron")),
    ("tin-roof-shuffle", include_str!("../../../assets/lessons/tin-roof-shuffle.lesson.ron")),
];

/// The longest lesson text taken, in bytes; a file that is longer is not read into memory.
pub const LONGEST_TEXT: u64 = 1 << 20;

/// Where a lesson's text lies.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Source {
    /// An embedded demo, by name.
    Demo(&'static str),
    /// A file.
    File(PathBuf),
}

impl Source {
    /// A demo of this name, else the file at this path.
    #[must_use]
    pub fn from_argument(argument: &str) -> Self {
        match DEMOS.iter().find(|(name, _)| *name == argument) {
            Some((name, _)) if !Path::new(argument).exists() => Self::Demo(name),
            _ => Self::File(PathBuf::from(argument)),
        }
    }

    /// As it is written in the journal and read back by [`Self::from_argument`].
    #[must_use]
    pub fn to_argument(&self) -> String {
        match self {
            Self::Demo(name) => (*name).to_owned(),
            Self::File(path) => path.to_string_lossy().into_owned(),
        }
    }

    /// Whether its name says that it is an assignment.
    #[must_use]
    pub fn is_assignment(&self) -> bool {
        matches!(self, Self::File(path) if path.to_string_lossy().ends_with(ENDING))
    }

    /// The file, when its name says that it is a report.
    #[must_use]
    pub fn report(&self) -> Option<&Path> {
        match self {
            Self::File(path) if path.to_string_lossy().ends_with(report::ENDING) => Some(path),
            _ => None,
        }
    }

    /// The lesson in it, an assignment's too; `None` where it can't be read or played.
    #[must_use]
    pub fn lesson(&self) -> Option<Lesson> {
        let text = self.text().ok()?;
        if self.is_assignment() {
            return Assignment::read(&text).ok().map(|assignment| assignment.lesson());
        }
        read(&text).ok().map(|read| read.lesson)
    }

    /// The text.
    ///
    /// # Errors
    /// What was wrong and what to try, when the file can't be read or is longer than [`LONGEST_TEXT`].
    pub fn text(&self) -> Result<Vec<u8>, Unreadable> {
        match self {
            Self::Demo(name) => Ok(DEMOS
                .iter()
                .find(|(demo, _)| demo == name)
                .map(|(_, text)| text.as_bytes().to_vec())
                .unwrap_or_default()),
            Self::File(path) => read_file(path),
        }
    }
}

/// Why a lesson's text could not be had.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Unreadable {
    /// What and where.
    pub message: String,
    /// What to try.
    pub hint: String,
}

fn read_file(path: &Path) -> Result<Vec<u8>, Unreadable> {
    let shown = path.display();
    read_at_most(path, LONGEST_TEXT).map_err(|unread| match unread {
        Unread::Disk(error) if error.kind() == ErrorKind::NotFound => Unreadable {
            message: format!("{shown} is not there"),
            hint: format!("was it moved or renamed? give where it is, or one of the demos: {}", demo_names()),
        },
        Unread::Disk(error) => Unreadable {
            message: format!("{shown}: {error}"),
            hint: format!("give the path of a lesson file, or one of the demos: {}", demo_names()),
        },
        Unread::TooLong(size) => Unreadable {
            message: format!("{shown}: {size} bytes are more than a lesson's {LONGEST_TEXT}"),
            hint: "a lesson is a short text; is this another kind of file?".to_owned(),
        },
    })
}

fn demo_names() -> String {
    DEMOS.map(|(name, _)| name).join(", ")
}
