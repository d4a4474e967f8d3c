//! What was learned, applied to a pass: directions and strings into its findings.

use sixrung_lesson::{Action, Direction};

use super::attack::{Attacks, NEEDS_S};
use super::form::{Learned, LearnedDirection, LearnedShape};
use super::grid::Spectra;
use super::strings::{StringEar, Stroke};
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::verdict::{PassVerdict, StringFinding, StrokeFinding};

/// A stroke is said to go where it lies beyond this on the line between down (−1) and up (1): on made takes (seed
/// 33000, 3,637 strokes of 19 players) 1 % of strokes lie so far on the wrong side, and 7 in 10 on the right one.
const SURE: f64 = 0.6;

/// Fills in what is heard of directions and strings. Passes, strokes and chords that were not learned stay as they are.
pub(crate) fn fill(learned: &Learned, plan: &PassPlan, sound: &PassSound, pass: &mut PassVerdict) {
    if !learned.is_sound() || sound.samples.is_empty() {
        return;
    }
    let alone_s = alone_s(pass);
    let shape = |stroke: &StrokeFinding| stroke.shape.and_then(|index| learned.shape(plan.shapes.get(index)?));
    if let Some(line) = &learned.direction {
        let mut attacks = Attacks::new(sound.rate);
        for (stroke, alone_s) in pass.strokes.iter_mut().zip(&alone_s) {
            let (Some(heard_s), Action::Strum) = (stroke.heard_s, stroke.action) else { continue };
            if *alone_s >= NEEDS_S {
                let attack = attacks.of(sound, heard_s);
                stroke.heard_direction = attack.and_then(|attack| direction(line, shape(stroke), &attack));
            }
        }
    }
    let mut spectra = Spectra::new(sound.rate, 0.0);
    let mut ears: Vec<(usize, StringEar)> = Vec::new();
    for span in spans(&pass.strokes) {
        let strokes = &pass.strokes[span.clone()];
        let (Some(index), Some(learned)) = (strokes[0].shape, shape(&strokes[0])) else { continue };
        if !ears.iter().any(|ear| ear.0 == index) {
            ears.push((index, StringEar::new(learned)));
        }
        let Some((_, ear)) = ears.iter().find(|ear| ear.0 == index) else { continue };
        let whole: Vec<Stroke> = strokes.iter().zip(&alone_s[span.clone()]).filter_map(whole_stroke).collect();
        let strings = learned.strings.len();
        let finding =
            |(index, fault): (usize, _)| Some(StringFinding { string: u8::try_from(strings - index).ok()?, fault });
        let found: Vec<_> = ear.listen(&mut spectra, sound, &whole).into_iter().filter_map(finding).collect();
        for stroke in &mut pass.strokes[span] {
            stroke.strings.clone_from(&found);
        }
    }
}

/// A stroke that should pass over all strings of its shape.
pub(super) fn whole_stroke((stroke, alone_s): (&StrokeFinding, &f64)) -> Option<Stroke> {
    let down = stroke.direction == Direction::Down && stroke.heard_direction != Some(Direction::Up);
    (down && stroke.action == Action::Strum).then_some((stroke.heard_s?, *alone_s))
}

fn direction(line: &LearnedDirection, shape: Option<&LearnedShape>, attack: &[f64]) -> Option<Direction> {
    let centre = shape.map(|shape| &shape.attack_db).filter(|own| !own.is_empty()).unwrap_or(&line.attack_db);
    let off = attack.iter().zip(centre).zip(&line.weights);
    let side: f64 = line.bias + off.map(|((level, centre), weight)| weight * (level - centre)).sum::<f64>();
    match side {
        side if side > SURE => Some(Direction::Up),
        side if side < -SURE => Some(Direction::Down),
        _ => None,
    }
}

/// How long each stroke was left alone, in seconds; endless after the last.
pub(super) fn alone_s(pass: &PassVerdict) -> Vec<f64> {
    let mut heard: Vec<f64> =
        pass.strokes.iter().filter_map(|stroke| stroke.heard_s).chain(pass.extras_s.iter().copied()).collect();
    heard.sort_unstable_by(f64::total_cmp);
    let alone = |stroke: &StrokeFinding| {
        let Some(at_s) = stroke.heard_s else { return 0.0 };
        let next = heard.get(heard.partition_point(|other| *other <= at_s));
        next.map_or(f64::INFINITY, |next| next - at_s)
    };
    pass.strokes.iter().map(alone).collect()
}

/// Stretches of strokes on one shape.
fn spans(strokes: &[StrokeFinding]) -> Vec<std::ops::Range<usize>> {
    let mut spans: Vec<std::ops::Range<usize>> = Vec::new();
    for (index, stroke) in strokes.iter().enumerate() {
        match spans.last_mut() {
            Some(span) if strokes[span.start].shape == stroke.shape => span.end = index + 1,
            _ => spans.push(index..index + 1),
        }
    }
    spans
}
