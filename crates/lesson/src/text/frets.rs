//! Frets and fingers of a shape, a character a string, the heaviest string first: `xx0232` and `---132`.

use super::at_token;
use crate::findings::TextProblem;
use crate::shape::{Finger, StringUse};

/// The highest fret a shape may name.
const MAX_FRET: u8 = 24;
/// Strings looked at; one more than any instrument here has is enough to see that there are too many.
const LONGEST: usize = 32;

/// Reads `xx0232`, or with dashes between the strings `x-10-12-12-11-x`.
pub(crate) fn parse_frets(text: &str) -> Result<Vec<StringUse>, Vec<TextProblem>> {
    let mut strings = Vec::new();
    let mut problems = Vec::new();
    for piece in pieces(text).into_iter().take(LONGEST) {
        match string_use(piece.1) {
            Ok(string) => strings.push(string),
            Err((message, hint)) => problems.push(at_token("bad-fret", piece, message, hint)),
        }
    }
    if strings.is_empty() && problems.is_empty() {
        problems.push(at_token("bad-fret", (0, text), "there are no frets", "write a fret a string, as in \"xx0232\""));
    }
    if problems.is_empty() { Ok(strings) } else { Err(problems) }
}

/// The text of each string with its character.
pub(crate) fn pieces(text: &str) -> Vec<(usize, &str)> {
    if text.contains('-') { dashed(text) } else { single(text) }
}

fn dashed(text: &str) -> Vec<(usize, &str)> {
    let mut at = 0;
    let mut pieces = Vec::new();
    for piece in text.split('-') {
        pieces.push((at, piece));
        at += piece.chars().count() + 1;
    }
    pieces
}

fn single(text: &str) -> Vec<(usize, &str)> {
    text.char_indices().enumerate().map(|(index, (at, c))| (index, &text[at..at + c.len_utf8()])).collect()
}

fn string_use(piece: &str) -> Result<StringUse, (String, &'static str)> {
    match piece {
        "x" | "X" => return Ok(StringUse::Muted),
        "" => return Err(("a fret is missing here".to_owned(), "write x for a muted string, 0 for an open one")),
        _ => {}
    }
    match piece.parse::<u8>() {
        Ok(0) if piece.len() == 1 => Ok(StringUse::Open),
        Ok(fret) if (1..=MAX_FRET).contains(&fret) && !piece.starts_with(['+', '0']) => Ok(StringUse::Fret(fret)),
        _ if piece.chars().all(|c| c.is_ascii_digit()) => {
            Err((format!("there is no fret {piece}"), "frets go from 0 (open) to 24"))
        }
        _ => Err((
            format!("\"{piece}\" is not a fret"),
            "a fret is x, or a digit; with two digits put dashes between the strings, as in \"x-10-12-12-11-x\"",
        )),
    }
}

/// The shortest text that reads back as these strings.
#[must_use]
pub fn frets_text(strings: &[StringUse]) -> String {
    let words: Vec<String> =
        strings.iter().map(|string| string.fret().map_or_else(|| "x".to_owned(), |fret| fret.to_string())).collect();
    words.join(if words.iter().any(|word| word.len() > 1) { "-" } else { "" })
}

/// Reads `---132`: 1 to 4, `T` the thumb, `-` none.
pub(crate) fn parse_fingers(text: &str) -> Result<Vec<Option<Finger>>, Vec<TextProblem>> {
    let mut fingers = Vec::new();
    let mut problems = Vec::new();
    for (at, c) in text.chars().enumerate().take(LONGEST) {
        fingers.push(match c {
            '-' => None,
            'T' | 't' => Some(Finger::Thumb),
            '1' => Some(Finger::Index),
            '2' => Some(Finger::Middle),
            '3' => Some(Finger::Ring),
            '4' => Some(Finger::Little),
            other => {
                let (message, hint) = (format!("'{other}' is not a finger"), "fingers are 1 to 4, T the thumb, - none");
                problems.push(at_token("bad-finger", (at, "1"), message, hint));
                None
            }
        });
    }
    if problems.is_empty() { Ok(fingers) } else { Err(problems) }
}
