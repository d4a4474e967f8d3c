//! Runs of strokes on one chord, and where in their sound to look.

use std::ops::Range;

use sixrung_lesson::{Action, Direction};

use crate::plan::PlannedStroke;

/// A string's attack is noisy and takes about so long, in seconds: common practice in chord recognition.
const ATTACK_S: f64 = 0.030;
/// A look ends so long before the next span begins: a player's fingers leave the strings before the hand strikes.
const LIFT_S: f64 = 0.010;
/// A stroke that rings on is looked at again every so many seconds, so often at most: what rang on from the chord before
/// is gone then.
const AGAIN_S: f64 = 0.3;
const MOST_LOOKS: u32 = 4;
/// Lengths of a look in seconds, the longest that fits is taken. Hann's main lobe is 4 / length wide, so that E2 and F2,
/// 4.9 Hz apart, part in the longest alone; shorter ones know how far they smear.
pub(super) const LOOKS_S: [f64; 4] = [0.125, 0.2, 0.32, 0.512];

/// A run of strokes on one shape.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Span {
    /// Index of the shape asked for.
    pub shape: usize,
    /// Its strokes.
    pub strokes: Range<usize>,
}

/// Where to look at the sound of a span.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Looks {
    /// Index in [`LOOKS_S`].
    pub length: usize,
    /// When each begins, in seconds.
    pub at_s: Vec<f64>,
    /// Whether a down-stroke was heard in it, which strikes all strings.
    pub all_strings: bool,
}

/// The spans of a plan, by time; strokes without a shape belong to none.
pub(super) fn spans(strokes: &[PlannedStroke]) -> Vec<Span> {
    let mut spans: Vec<Span> = Vec::new();
    for (index, stroke) in strokes.iter().enumerate() {
        let Some(shape) = stroke.shape else { continue };
        match spans.last_mut() {
            Some(span) if span.shape == shape && span.strokes.end == index => span.strokes.end += 1,
            _ => spans.push(Span { shape, strokes: index..index + 1 }),
        }
    }
    spans
}

/// One look a heard stroke that sounds a chord, all of one length: the longest that at least half leave room
/// for. A look runs over the strokes that follow in the span, since they sound the same chord. `None` when there is not
/// even room for the shortest.
pub(super) fn looks(span: &Span, strokes: &[PlannedStroke], heard_s: &[Option<f64>], ends_s: f64) -> Option<Looks> {
    let after = heard_s[span.strokes.end..].iter().flatten().next();
    let ends_s = after.copied().unwrap_or(ends_s).min(ends_s) - LIFT_S;
    let usable = || span.strokes.clone().filter(|index| strokes[*index].action == Action::Strum);
    let mut at_s: Vec<f64> = Vec::new();
    for index in usable() {
        let Some(from) = heard_s[index].map(|heard| heard + ATTACK_S) else { continue };
        let next = heard_s[index + 1..].iter().flatten().next().copied().unwrap_or(ends_s);
        let again = (1..MOST_LOOKS).map(|times| from + f64::from(times) * AGAIN_S);
        at_s.push(from);
        at_s.extend(again.take_while(|at_s| at_s + AGAIN_S <= next));
    }
    let most = at_s.len().div_ceil(2);
    let fits = |length: f64, at_s: &f64| at_s + length <= ends_s;
    let roomy = |length: f64| at_s.iter().filter(|at_s| fits(length, at_s)).count() >= most.max(1);
    let length = (0..LOOKS_S.len()).rev().find(|length| roomy(LOOKS_S[*length]))?;
    at_s.retain(|at_s| fits(LOOKS_S[length], at_s));
    let down = |index: usize| heard_s[index].is_some() && strokes[index].direction == Direction::Down;
    Some(Looks { length, at_s, all_strings: usable().any(down) })
}
