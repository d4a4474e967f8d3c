//! The printable guide: what lies on paper beside the guitar.
//!
//! [`lay_out`] turns a lesson into [`Page`]s of plain marks in groups with a [`Role`]; [`pdf`] and [`svg`] write them.
//! Chords and strokes are the drawings of the screen (`sixrung_drawing`). Every visible word comes in with [`Words`],
//! the type with [`Fonts`]. The same lesson, options, words and fonts give the same bytes: nothing has a date.

mod chords;
mod days;
mod flow;
mod fonts;
mod head;
mod ladder;
mod page;
pub mod pdf;
mod sheet;
mod song;
mod strokes;
mod sung;
pub mod svg;
mod typeset;
mod used;
mod words;

pub use fonts::{FontError, Fonts, fonts_of};
pub use page::{Node, Page, Role};
pub use pdf::grey;
pub use words::{Facts, Words};

use std::collections::BTreeSet;

use sixrung_drawing::Hand;
use sixrung_lesson::{Arrangement, LayoutError, Lesson};

use sheet::Sheet;
use typeset::Typesetter;

/// What paper it is for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 × 11 inches (ANSI A).
    Letter,
}

impl Paper {
    /// Width and height in points of 1/72 inch.
    #[must_use]
    pub const fn points(self) -> (f32, f32) {
        match self {
            Self::A4 => (595.276, 841.89),
            Self::Letter => (612.0, 792.0),
        }
    }
}

/// How large the print is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Print {
    /// Sentences of 10 points.
    #[default]
    Usual,
    /// Sentences of 16 points: where large print is said to begin (common practice).
    Large,
}

impl Print {
    const fn factor(self) -> f32 {
        match self {
            Self::Usual => 1.0,
            Self::Large => 1.6,
        }
    }
}

/// How a guide is made.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct GuideOptions {
    /// What paper it is for.
    pub paper: Paper,
    /// How diagrams are mirrored.
    pub hand: Hand,
    /// How large the print is.
    pub print: Print,
    /// How the lesson is played.
    pub arrangement: Arrangement,
}

/// A guide laid out.
#[derive(Clone, Debug, PartialEq)]
pub struct Guide {
    /// The lesson's title.
    pub title: String,
    /// Language of its words, as RFC 5646 tags it.
    pub language: &'static str,
    /// Width and height of every page in points.
    pub size: (f32, f32),
    /// The pages.
    pub pages: Vec<Page>,
    /// Characters that no font has: each is printed as □.
    pub missing: BTreeSet<char>,
}

/// Lays a lesson out on pages.
///
/// # Errors
/// When a section can't be laid out: a lesson that was read without errors always can. When a font can't be read.
pub fn lay_out(lesson: &Lesson, options: &GuideOptions, words: &Words, fonts: &Fonts) -> Result<Guide, GuideError> {
    let typesetter = Typesetter::new(fonts)?;
    let mut sheet = Sheet::new(options, words, &typesetter);
    head::write(&mut sheet, lesson);
    chords::write(&mut sheet, lesson);
    strokes::write(&mut sheet, lesson);
    song::write(&mut sheet, lesson)?;
    // Ladder, days and caution are one sheet to practise with, if a page holds them.
    let from = sheet.len();
    ladder::write(&mut sheet, lesson);
    head::caution(&mut sheet);
    sheet.keep_together(from);
    let pages = sheet.pages(&lesson.title);
    Ok(Guide {
        title: lesson.title.clone(),
        language: words.language,
        size: options.paper.points(),
        missing: typesetter.missing(&pages),
        pages,
    })
}

/// Why a guide could not be made.
#[derive(Debug)]
pub enum GuideError {
    /// The lesson can't be laid out.
    Layout(LayoutError),
    /// A font can't be read.
    Font(FontError),
    /// The file could not be made; what was wrong with it.
    Write(String),
}

impl std::fmt::Display for GuideError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Layout(error) => error.fmt(f),
            Self::Font(error) => error.fmt(f),
            Self::Write(why) => write!(f, "the guide could not be made: {why}"),
        }
    }
}

impl std::error::Error for GuideError {}

impl From<LayoutError> for GuideError {
    fn from(error: LayoutError) -> Self {
        Self::Layout(error)
    }
}

impl From<FontError> for GuideError {
    fn from(error: FontError) -> Self {
        Self::Font(error)
    }
}
