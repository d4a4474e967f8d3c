//! Words: `^` before the syllable a change falls on, `-` between the syllables of a word.

use super::MAX_PROBLEMS;
use crate::findings::TextProblem;
use crate::section::{Syllable, WordLine};

/// Reads one line, as in `Oh, ^low tide, and the lamp still burn-ing`.
///
/// A lone `^` is a change on no syllable. A backslash makes the `-`, `^` or backslash after it sung as written.
pub(crate) fn parse_words(text: &str) -> Result<WordLine, Vec<TextProblem>> {
    let mut reader = Reader { syllables: Vec::new(), problems: Vec::new(), text: String::new(), takes_change: false };
    let mut chars = text.chars().enumerate().peekable();
    while let Some((at, c)) = chars.next() {
        if reader.problems.len() == MAX_PROBLEMS {
            break;
        }
        match c {
            '\\' => match chars.next_if(|(_, next)| matches!(next, '-' | '^' | '\\')) {
                Some((_, escaped)) => reader.text.push(escaped),
                None => reader.problem(at, "a backslash stands before nothing it could keep", "write \\-, \\^ or \\\\"),
            },
            '^' if reader.takes_change => reader.problem(at, "two ^ stand together", "put a blank between: ^ ^"),
            '^' if reader.text.is_empty() => reader.takes_change = true,
            '^' => reader.problem(
                at,
                "a change falls inside a syllable",
                "put it before the syllable, or split the word with -",
            ),
            '-' if reader.text.is_empty() => {
                reader.problem(
                    at,
                    "no syllable stands before this -",
                    "write \\- for a hyphen that is sung as written",
                );
            }
            '-' => reader.end_syllable(false),
            c if c.is_whitespace() => reader.end_syllable(true),
            c => reader.text.push(c),
        }
    }
    reader.end_syllable(true);
    if reader.problems.is_empty() { Ok(WordLine { syllables: reader.syllables }) } else { Err(reader.problems) }
}

struct Reader {
    syllables: Vec<Syllable>,
    problems: Vec<TextProblem>,
    text: String,
    takes_change: bool,
}

impl Reader {
    fn end_syllable(&mut self, ends_word: bool) {
        let text = std::mem::take(&mut self.text);
        let takes_change = std::mem::take(&mut self.takes_change);
        if !text.is_empty() || takes_change {
            self.syllables.push(Syllable { text, takes_change, ends_word });
        }
    }

    fn problem(&mut self, at: usize, message: &str, hint: &str) {
        let problem =
            TextProblem { code: "bad-words", message: message.into(), hint: hint.into(), from: at, to: at + 1 };
        self.problems.push(problem);
    }
}

/// The character of each `^` that takes a change, for placing what is wrong with it.
pub(crate) fn change_marks(text: &str) -> Vec<usize> {
    let mut escaped = false;
    let mut marks = Vec::new();
    for (at, c) in text.chars().enumerate() {
        match c {
            _ if escaped => escaped = false,
            '\\' => escaped = true,
            '^' => marks.push(at),
            _ => {}
        }
    }
    marks
}
