//! What was played, and how the ear's judge judges it.

use sixrung_lesson::Criterion;
use sixrung_listen::{ChordFinding, Moment, PassPlan, PassVerdict, Quality, Strum, Verdict, judge};

/// What became of one expected stroke in the learner's hands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Played {
    /// Played − expected in milliseconds, early is negative; `None` when it was not played.
    pub offset_ms: Option<f64>,
    /// Whether another chord sounds than the one asked for.
    pub wrong: bool,
}

/// The strums of a pass by time, as sure as an ear can be of them.
#[must_use]
pub fn heard(plan: &PassPlan, played: &[Played]) -> Vec<Strum> {
    let strum = |at_s| Strum { at_s, strength_db: -30.0, rise_db: 15.0, gain_db: 15.0, certain: true };
    let strokes = plan.strokes.iter().zip(played);
    let times = strokes.filter_map(|(stroke, played)| Some(plan.starts_s + stroke.at_s + played.offset_ms? / 1000.0));
    let mut heard: Vec<Strum> = times.map(strum).collect();
    heard.sort_unstable_by(|one, other| one.at_s.total_cmp(&other.at_s));
    heard
}

/// Judges what was played, over an input with nothing wrong: times by the ear's own [`judge`]; a wrong chord makes the
/// pass not clean, as it does where the ear hears one.
#[must_use]
pub fn judged(plan: &PassPlan, played: &[Played], criterion: &Criterion) -> PassVerdict {
    let end_s = plan.starts_s + plan.length_s + 1.0;
    let moment = Moment { end_s, level_db: -20.0, peak_db: -8.0, clipped: 0.0, gap: false, bad: false };
    let quality = Quality { moments: vec![moment], struck: true, ..Quality::default() };
    let mut pass = judge(plan, &heard(plan, played), criterion, &quality);
    for (stroke, played) in pass.strokes.iter_mut().zip(played) {
        let heard_wrong = played.wrong && stroke.heard_s.is_some();
        stroke.chord = if heard_wrong { ChordFinding::Wrong } else { ChordFinding::Right };
    }
    let wrong = pass.strokes.iter().any(|stroke| stroke.chord == ChordFinding::Wrong);
    if wrong && pass.verdict == Verdict::Clean {
        pass.verdict = Verdict::NotClean;
    }
    pass
}
