//! The syntax gate: `ron` itself says whether a text is RON, and where it first is not.

use ron::error::{Error, Position, SpannedError};
use serde::de::IgnoredAny;

use super::tree::{self, MAX_DEPTH, MAX_VALUES, Node, Stop};
use crate::findings::{Findings, Span};

/// The tree of `text`; a malformed text gives its first syntax error and nothing else.
pub(crate) fn tree_of<'t>(text: &'t str) -> Result<Node, Findings<'t>> {
    let stop = |offset: usize, code, message: &str, hint: &str| {
        let mut findings = Findings::new(text);
        findings.error(Span { start: offset, end: offset }, code, message, hint);
        Err(findings)
    };
    // What is too much is turned away before `ron` spends time on it.
    let tree = match tree::parse(text) {
        Err(Stop::TooDeep(offset)) => {
            let message = format!("brackets are nested deeper than {MAX_DEPTH}");
            return stop(
                offset,
                "too-deep",
                &message,
                "a lesson needs about ten; close the brackets opened before this",
            );
        }
        Err(Stop::TooMany(offset)) => {
            let message = format!("there are more than {MAX_VALUES} values");
            return stop(
                offset,
                "too-many",
                &message,
                "split the lesson, or say it shorter with times, sections and form",
            );
        }
        Err(Stop::Syntax(offset)) => Err(offset),
        Ok(tree) => Ok(tree),
    };
    if let Err(error) = ron::Options::default().from_str::<IgnoredAny>(text) {
        let offset = offset_of(text, &error);
        return stop(offset, "syntax", &in_lower_case(&error.code), hint(&error.code, text[offset..].chars().next()));
    }
    tree.or_else(|offset| {
        stop(
            offset,
            "syntax",
            "this can't be read",
            "a lesson is made of (field: value), [lists], \"texts\" and numbers",
        )
    })
}

/// The byte that is wrong. `ron` gives where it stood before and after it met the error.
fn offset_of(text: &str, error: &SpannedError) -> usize {
    let (start, end) = (byte_at(text, error.span.start), byte_at(text, error.span.end));
    match error.code {
        Error::InvalidEscape(_) => text[..end].rfind('\\').unwrap_or(start),
        Error::UnclosedBlockComment => text[..start].rfind("/*").unwrap_or(start),
        _ => tree::past_blank(text, start),
    }
}

/// The byte of a position; `ron` counts lines and characters from 1.
fn byte_at(text: &str, position: Position) -> usize {
    let line_start = text.split_inclusive('\n').take(position.line.saturating_sub(1)).map(str::len).sum::<usize>();
    let line = &text[line_start..];
    line_start + line.char_indices().nth(position.col.saturating_sub(1)).map_or(line.len(), |(offset, _)| offset)
}

fn in_lower_case(code: &Error) -> String {
    let mut message = code.to_string();
    if let Some(first) = message.get_mut(..1) {
        first.make_ascii_lowercase();
    }
    message
}

/// What would be right, by the error and the character that stands there.
fn hint(code: &Error, found: Option<char>) -> &'static str {
    match (code, found) {
        (Error::ExpectedStringEnd, _) => "this text has no closing quote \"",
        (Error::InvalidEscape(_), _) => "in a \"text\" a backslash is written twice, as in \\\\-; or write r\"text\"",
        (Error::UnclosedBlockComment, _) => "close the comment with */",
        (Error::TrailingCharacters, _) => "nothing may follow the closing ) of Lesson(…)",
        (Error::Eof, _) | (_, None) => "the file ends early: a bracket or a quote is still open",
        (Error::ExpectedComma, Some(')' | ']' | '}')) => "a bracket of another kind is still open: close that first",
        (Error::ExpectedComma | Error::ExpectedMapColon, Some('=')) => "write name: value",
        (Error::ExpectedComma, _) => "put a comma between one value and the next",
        (Error::ExpectedMapColon, _) => "in { } write number: value",
        (_, Some(',')) => "one comma is enough",
        _ => "a lesson is made of (field: value), [lists], \"texts\" and numbers",
    }
}
