//! From byte offsets to the lines and columns a person sees.

#[cfg(test)]
mod tests;

use crate::diagnostic::Place;

/// The place of each offset; the offsets must rise. One walk over the text serves them all.
pub(crate) fn place_each(text: &str, offsets: impl Iterator<Item = usize>) -> Vec<Place> {
    let mut place = Place { line: 1, column: 1 };
    let mut chars = text.char_indices().peekable();
    offsets
        .map(|offset| {
            while let Some((_, c)) = chars.next_if(|(at, _)| *at < offset) {
                if c == '\n' {
                    place = Place { line: place.line + 1, column: 1 };
                } else {
                    place.column += 1;
                }
            }
            place
        })
        .collect()
}

/// Where character `index` of a string's value stands in its literal, in bytes from the literal's first.
///
/// The literal is one RON has accepted: quoted with escapes, or raw.
pub(crate) fn source_offset(literal: &str, index: usize) -> usize {
    let Some(open) = literal.find('"') else { return 0 };
    let body = &literal[open + 1..];
    if literal.starts_with('r') {
        return open + 1 + body.char_indices().nth(index).map_or(body.len(), |(at, _)| at);
    }
    let mut at = 0;
    for _ in 0..index {
        at += escape_length(&body[at..]);
    }
    open + 1 + at
}

/// Bytes that spell the first character of a quoted string's body.
fn escape_length(body: &str) -> usize {
    let mut chars = body.chars();
    match (chars.next(), chars.next()) {
        (Some('\\'), Some('u')) => body.find('}').map_or(body.len(), |end| end + 1),
        (Some('\\'), Some('x')) => "\\xFF".len().min(body.len()),
        (Some('\\'), Some(escaped)) => 1 + escaped.len_utf8(),
        (Some(plain), _) => plain.len_utf8(),
        (None, _) => 0,
    }
}
