//! The compact texts inside a lesson: frets and fingers, strokes, words, tunings, meters.
//!
//! Each reader gives every problem it finds, as characters of the text, so that carets can be drawn under them.

pub(crate) mod frets;
pub(crate) mod meter;
pub(crate) mod strokes;
pub(crate) mod tuning;
pub(crate) mod words;

#[cfg(test)]
mod tests;

use crate::findings::TextProblem;

/// Problems reported of one text; one that has more is not worth reading on.
const MAX_PROBLEMS: usize = 20;

/// The blank-separated words of a text with the character each starts on.
fn tokens(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut at = 0;
    text.split(char::is_whitespace).filter_map(move |token| {
        let start = at;
        at += token.chars().count() + 1;
        (!token.is_empty()).then_some((start, token))
    })
}

/// A problem with one token.
fn at_token(
    code: &'static str,
    (start, token): (usize, &str),
    message: impl Into<String>,
    hint: impl Into<String>,
) -> TextProblem {
    let to = start + token.chars().count();
    TextProblem { code, message: message.into(), hint: hint.into(), from: start, to }
}
