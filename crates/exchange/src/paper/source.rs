//! A file's text, its parts with their places, and what is wrong with them.

use ron::Options;
use ron::error::{Error, Position, SpannedError};
use ron::extensions::Extensions;
use ron::value::RawValue;
use serde::{Deserialize, Deserializer};
use sixrung_lesson::{Place, did_you_mean};

use super::Refusal;

/// What a kind of file is called.
pub(crate) struct Kind {
    /// The name in front of its first bracket.
    pub(crate) name: &'static str,
    /// With its article, for messages.
    pub(crate) called: &'static str,
    /// The version written, and the newest that is read.
    pub(crate) version: u32,
    /// The most bytes one may have.
    pub(crate) most_bytes: usize,
    /// What makes one.
    pub(crate) made_by: &'static str,
}

/// A field that is optional is written without `Some(…)`.
pub(crate) fn ron() -> Options {
    Options::default().with_default_extension(Extensions::IMPLICIT_SOME)
}

/// Reads a part as it is written, with its place in the text; `None` where it is left out.
pub(crate) fn bare<'de: 'a, 'a, D: Deserializer<'de>>(from: D) -> Result<Option<&'a RawValue>, D::Error> {
    let raw = <&RawValue>::deserialize(from)?;
    Ok(Some(raw).filter(|raw| raw.get_ron().trim() != "None"))
}

/// A file's text.
#[derive(Clone, Copy)]
pub(crate) struct Source<'t> {
    text: &'t str,
    kind: &'static Kind,
}

impl<'t> Source<'t> {
    /// The text of a file of this kind, of a version that can be read.
    pub(crate) fn new(bytes: &'t [u8], kind: &'static Kind) -> Result<Self, Refusal> {
        /// What a program of any version finds in it.
        #[derive(Deserialize)]
        struct Versioned<'t> {
            #[serde(borrow, default, deserialize_with = "bare")]
            version: Option<&'t RawValue>,
        }
        let whole = |message: String, hint: String| Refusal { place: None, message, hint, findings: Vec::new() };
        let Kind { name, called, version, most_bytes, made_by } = kind;
        if bytes.len() > *most_bytes {
            let message = format!("{} bytes are more than {called}'s {most_bytes}", bytes.len());
            return Err(whole(message, "is this another kind of file?".to_owned()));
        }
        let text = std::str::from_utf8(bytes)
            .map_err(|error| {
                let message = format!("this is no text (byte {})", error.valid_up_to());
                whole(message, format!("give a file that `{made_by}` wrote"))
            })?
            .trim_start_matches('\u{feff}');
        let source = Self { text, kind };
        let name_found = source.name();
        if !name_found.is_empty() && name_found != *name {
            let message = format!("expected {name}(…), found {name_found}(…)");
            return Err(source.refuse(source.head(), message, format!("`{made_by}` writes {called}")));
        }
        // A later version may have other fields and other kinds of them: nothing else is said about it.
        if let Ok(Versioned { version: Some(raw) }) = ron().from_str(&source.head()[name_found.len()..])
            && let Ok(found) = raw.into_rust::<u32>()
            && found != *version
        {
            let message = format!("this is {called} of version {found}; version {version} can be read");
            let hint = if found > *version {
                "it was written by a newer Sixrung: bring this one up to date".to_owned()
            } else {
                format!("write it again with `{made_by}`")
            };
            return Err(source.refuse(raw.trim().get_ron(), message, hint));
        }
        Ok(source)
    }

    /// Reads the whole, or a part of it.
    pub(crate) fn parse<T: Deserialize<'t>>(self, part: &'t str) -> Result<T, Refusal> {
        ron().from_str(part).map_err(|error| {
            let (message, hint) = self.words(&error, part);
            self.refuse(&part[offset_of(part, &error)..], message, hint)
        })
    }

    /// The whole text.
    pub(crate) const fn text(self) -> &'t str {
        self.text
    }

    /// Where the file itself begins, for what is missing in it.
    pub(crate) fn head(self) -> &'t str {
        &self.text[past_blank(self.text)..]
    }

    /// A refusal at the place where `at`, a piece of the text, begins.
    pub(crate) fn refuse(self, at: &str, message: impl Into<String>, hint: impl Into<String>) -> Refusal {
        let offset = at.as_ptr().addr().saturating_sub(self.text.as_ptr().addr()).min(self.text.len());
        let before = self.text.get(..offset).unwrap_or_default();
        let line_start = before.rfind('\n').map_or(0, |end| end + 1);
        let counted = |count: usize| u32::try_from(count + 1).unwrap_or(u32::MAX);
        let place = Place {
            line: counted(before.matches('\n').count()),
            column: counted(before[line_start..].chars().count()),
        };
        Refusal { place: Some(place), message: message.into(), hint: hint.into(), findings: Vec::new() }
    }

    /// The name in front of the first bracket; empty where there is none.
    fn name(self) -> &'t str {
        let rest = self.head();
        let length = rest.find(|c: char| !(c.is_alphanumeric() || c == '_')).unwrap_or(rest.len());
        &rest[..length]
    }

    fn words(self, error: &SpannedError, part: &str) -> (String, String) {
        let Kind { name, called, made_by, .. } = self.kind;
        let outer = |outer: &Option<String>| match outer {
            Some(outer) if outer == name => (*called).to_owned(),
            // Parts that a file names have small letters; of the others it knows only the brackets.
            Some(outer) if outer.starts_with(char::is_lowercase) => format!("`{outer}`"),
            _ => "this part".to_owned(),
        };
        match &error.code {
            Error::NoSuchStructField { expected, found, outer: owner } => {
                (format!("{} has no field {found}", outer(owner)), did_you_mean(found, expected, ""))
            }
            Error::MissingStructField { field, outer: owner } => {
                (format!("{} needs {field}", outer(owner)), format!("add {field}: …"))
            }
            Error::DuplicateStructField { field, .. } => {
                (format!("{field} is written twice"), "keep one of the two".to_owned())
            }
            Error::NoSuchEnumVariant { expected, found, .. } => {
                (format!("there is no choice {found}"), did_you_mean(found, expected, ""))
            }
            Error::Eof => ("the file ends early".to_owned(), "a bracket or a quote is still open".to_owned()),
            Error::ExpectedStringEnd => {
                ("a text has no closing quote".to_owned(), "end it with the quotes it begins with".to_owned())
            }
            Error::TrailingCharacters => {
                ("something follows the end".to_owned(), format!("nothing may follow the closing ) of {name}(…)"))
            }
            _ if part.trim().is_empty() => {
                ("the file is empty".to_owned(), format!("give a file that `{made_by}` wrote"))
            }
            code => {
                let mut message = code.to_string();
                if let Some(first) = message.get_mut(..1) {
                    first.make_ascii_lowercase();
                }
                let hint = format!("{called} is made of (field: value), [lists], \"texts\" and numbers");
                (message, hint)
            }
        }
    }
}

/// The byte at which blanks, comments and attributes before the first value end.
fn past_blank(text: &str) -> usize {
    let mut at = 0;
    loop {
        let rest = &text[at..];
        let blank = rest.len() - rest.trim_start().len();
        let skipped = match &rest[blank..] {
            comment if comment.starts_with("//") || comment.starts_with("#!") => {
                comment.find('\n').unwrap_or(comment.len())
            }
            comment if comment.starts_with("/*") => comment.find("*/").map_or(comment.len(), |end| end + 2),
            _ => return at + blank,
        };
        at += blank + skipped;
    }
}

/// The byte of `part` that is wrong. `ron` gives where it stood before and after it met the error.
fn offset_of(part: &str, error: &SpannedError) -> usize {
    let start = byte_at(part, error.span.start);
    start + past_blank(&part[start..])
}

/// The byte of a position; `ron` counts lines and characters from 1.
fn byte_at(text: &str, position: Position) -> usize {
    let line_start = text.split_inclusive('\n').take(position.line.saturating_sub(1)).map(str::len).sum::<usize>();
    let line = &text[line_start..];
    line_start + line.char_indices().nth(position.col.saturating_sub(1)).map_or(line.len(), |(offset, _)| offset)
}
