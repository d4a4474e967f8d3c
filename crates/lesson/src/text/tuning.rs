//! Tunings: the open strings, the heaviest first, as in `E2 A2 D3 G3 B3 E4`.

use super::{at_token, tokens};
use crate::findings::TextProblem;
use crate::pitch::Pitch;
use crate::tuning::Tuning;

/// The pitches a string may be tuned to: B0, the low string of a five-string bass, to C6.
const PITCHES: std::ops::RangeInclusive<u8> = 23..=84;

/// Reads a tuning of 4 to 8 strings.
pub(crate) fn parse_tuning(text: &str) -> Result<Tuning, Vec<TextProblem>> {
    let mut open = Vec::new();
    let mut problems = Vec::new();
    for token in tokens(text) {
        match Pitch::parse(token.1) {
            Some(pitch) if PITCHES.contains(&pitch.0) => open.push(pitch),
            Some(_) => {
                let message = format!("no string is tuned to {}", token.1);
                problems.push(at_token("bad-tuning", token, message, "strings are tuned from B0 to C6"));
            }
            None => {
                let message = format!("\"{}\" is not a pitch", token.1);
                let hint = "a pitch is a letter, # or b, and an octave: E2, F#3, Bb1; C4 is middle C";
                problems.push(at_token("bad-tuning", token, message, hint));
            }
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let strings = open.len();
    Tuning::new(open).ok_or_else(|| {
        let message =
            format!("a tuning names {} to {} strings; found {strings}", Tuning::MIN_STRINGS, Tuning::MAX_STRINGS);
        vec![at_token("bad-tuning", (0, text), message, "a standard guitar is \"E2 A2 D3 G3 B3 E4\"")]
    })
}
