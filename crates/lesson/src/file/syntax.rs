//! The syntax gate: `ron` itself says whether a text is RON, and where it first is not.

use ron::error::{Error, SpannedError};
use serde::de::IgnoredAny;

use super::tree::{self, MAX_DEPTH, Node, Stop};
use crate::findings::{Findings, Span};

/// The tree of `text`; a malformed text gives its first syntax error and nothing else.
pub(crate) fn tree_of<'t>(text: &'t str) -> Result<Node, Findings<'t>> {
    let stop = |offset: usize, code, message: &str, hint: &str| {
        let mut findings = Findings::new(text);
        findings.error(Span { start: offset, end: offset }, code, message, hint);
        Err(findings)
    };
    let tree = tree::parse(text);
    if let Err(Stop::TooDeep(offset)) = tree {
        let message = format!("brackets are nested deeper than {MAX_DEPTH}");
        return stop(offset, "too-deep", &message, "a lesson needs about ten; close the brackets opened before this");
    }
    if let Err(error) = ron::Options::default().from_str::<IgnoredAny>(text) {
        let (message, hint) = in_plain_words(&error);
        return stop(offset_of(text, &error), "syntax", &message, hint);
    }
    match tree {
        Ok(tree) => Ok(tree),
        Err(Stop::Syntax(offset) | Stop::TooDeep(offset)) => stop(
            offset,
            "syntax",
            "this can't be read",
            "a lesson is made of (field: value), [lists], \"texts\" and numbers",
        ),
    }
}

/// The byte at which `ron` stopped; it counts lines and characters from 1.
fn offset_of(text: &str, error: &SpannedError) -> usize {
    let at = error.span.start;
    let line_start = text.split_inclusive('\n').take(at.line.saturating_sub(1)).map(str::len).sum::<usize>();
    let line = &text[line_start..];
    line_start + line.char_indices().nth(at.col.saturating_sub(1)).map_or(line.len(), |(offset, _)| offset)
}

fn in_plain_words(error: &SpannedError) -> (String, &'static str) {
    let hint = match error.code {
        Error::ExpectedComma => "put a comma between one value and the next",
        Error::ExpectedStringEnd => "this text has no closing quote \"",
        Error::ExpectedArrayEnd => "close the list with ] or put a comma before its next value",
        Error::ExpectedMapEnd => "close the map with } or put a comma before its next value",
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => {
            "close it with ) or put a comma before its next field"
        }
        Error::ExpectedMapColon => "write name: value",
        Error::InvalidEscape(_) => {
            "in a \"text\" a backslash is written twice: \\\\- for a hyphen that is sung as written"
        }
        Error::UnclosedBlockComment => "close the comment with */",
        Error::Eof => "the file ends early: a bracket or a quote is still open",
        Error::TrailingCharacters => "nothing may follow the closing ) of Lesson(…)",
        _ => "a lesson is made of (field: value), [lists], \"texts\" and numbers",
    };
    let mut message = error.code.to_string();
    message.get_mut(..1).map(str::make_ascii_lowercase);
    (message, hint)
}
