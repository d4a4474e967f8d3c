//! Strokes, a token a slot: `D - D> U - U D> ^U`.

use super::{MAX_PROBLEMS, at_token, tokens};
use crate::counts::pendulum;
use crate::findings::TextProblem;
use crate::meter::Meter;
use crate::pattern::{Action, Direction, Dynamic, Grid, Stroke};

/// A stroke text as read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Strokes {
    /// One a slot.
    pub(crate) strokes: Vec<Stroke>,
    /// The `|` in it.
    pub(crate) bar_lines: Vec<BarLine>,
}

/// A `|`, which is for the eye only.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct BarLine {
    /// The slot it stands before.
    pub(crate) before: u32,
    /// Its character in the text.
    pub(crate) at: usize,
}

/// Reads a stroke text; where it leaves a direction open, the pendulum of `grid` in `meter` gives it.
pub(crate) fn parse_strokes(text: &str, grid: Grid, meter: Meter) -> Result<Strokes, Vec<TextProblem>> {
    let mut read = Strokes { strokes: Vec::new(), bar_lines: Vec::new() };
    let mut problems = Vec::new();
    let mut slot = 0_u32;
    for token in tokens(text) {
        if token.1 == "|" {
            read.bar_lines.push(BarLine { before: slot, at: token.0 });
            continue;
        }
        if problems.len() == MAX_PROBLEMS {
            break;
        }
        match stroke(token, pendulum(meter, grid, slot)) {
            Ok(stroke) if slot == 0 && stroke.changes => {
                let message = "a change point on the first slot leaves the first chord nothing to sound on";
                let hint = "a pattern's first chord begins by itself: take the ^ away";
                problems.push(at_token("change-at-start", token, message, hint));
            }
            Ok(stroke) => read.strokes.push(stroke),
            Err(problem) => problems.push(problem),
        }
        slot += 1;
    }
    if slot == 0 {
        problems.push(at_token("bad-stroke", (0, text), "there are no strokes", "write one a slot, as in \"D - D U\""));
    }
    if problems.is_empty() { Ok(read) } else { Err(problems) }
}

fn stroke(token: (usize, &str), swing: Direction) -> Result<Stroke, TextProblem> {
    let (changes, rest) = match token.1.strip_prefix('^') {
        Some(rest) => (true, rest),
        None => (false, token.1),
    };
    let (base, dynamic) = match rest.strip_suffix(['>', ',']) {
        Some(base) if rest.ends_with('>') => (base, Dynamic::Accent),
        Some(base) => (base, Dynamic::Soft),
        None => (rest, Dynamic::Plain),
    };
    let (action, direction) = match base {
        "D" => (Action::Strum, Direction::Down),
        "U" => (Action::Strum, Direction::Up),
        "X" => (Action::Chuck, swing),
        "XD" => (Action::Chuck, Direction::Down),
        "XU" => (Action::Chuck, Direction::Up),
        "B" | "BD" => (Action::Bass, Direction::Down),
        "BU" => (Action::Bass, Direction::Up),
        "-" => (Action::Air, swing),
        "." => (Action::Ring, swing),
        "S" => (Action::Stop, swing),
        "" => {
            let hint = "write ^ right before a stroke, as in ^U";
            return Err(at_token("bad-stroke", token, "this stands alone, without a stroke", hint));
        }
        _ => {
            let message = format!("\"{}\" is not a stroke", token.1);
            return Err(at_token("bad-stroke", token, message, stroke_hint(base)));
        }
    };
    if dynamic != Dynamic::Plain && !action.sounds() {
        let message = format!("\"{}\" makes no sound to be louder or softer", token.1);
        return Err(at_token("silent-dynamic", token, message, "take the > or , away"));
    }
    Ok(Stroke { action, direction, dynamic, changes })
}

fn stroke_hint(base: &str) -> String {
    let upper = base.to_uppercase();
    let known = matches!(upper.as_str(), "D" | "U" | "X" | "XD" | "XU" | "B" | "BD" | "BU" | "S");
    if known {
        return format!("capital letters: {upper}");
    }
    if base.chars().all(|c| "DUXB-.S".contains(c)) {
        return "put a blank between one stroke and the next".to_owned();
    }
    "strokes are D U X B - . S, with > or , behind and ^ before; | is a bar line".to_owned()
}

/// A stroke text that reads back as these strokes.
#[must_use]
pub fn strokes_text(strokes: &[Stroke]) -> String {
    strokes.iter().map(token_of).collect::<Vec<_>>().join(" ")
}

fn token_of(stroke: &Stroke) -> String {
    let base = match (stroke.action, stroke.direction) {
        (Action::Strum, Direction::Down) => "D",
        (Action::Strum, Direction::Up) => "U",
        (Action::Chuck, Direction::Down) => "XD",
        (Action::Chuck, Direction::Up) => "XU",
        (Action::Bass, Direction::Down) => "B",
        (Action::Bass, Direction::Up) => "BU",
        (Action::Air, _) => "-",
        (Action::Ring, _) => ".",
        (Action::Stop, _) => "S",
    };
    let suffix = match stroke.dynamic {
        Dynamic::Soft => ",",
        Dynamic::Plain => "",
        Dynamic::Accent => ">",
    };
    format!("{}{base}{suffix}", if stroke.changes { "^" } else { "" })
}
