//! Expected and heard to a verdict.

use sixrung_lesson::Criterion;

use crate::align::{Reach, align};
use crate::median::{median, spread};
use crate::plan::PassPlan;
use crate::quality::Quality;
use crate::strums::Strum;
use crate::verdict::{ChordFinding, Finding, PassVerdict, Reason, StrokeFinding, Verdict};
use crate::window::{allowed_extras, allowed_faults, bias_limit_s, window_s};

/// Strokes closer than this, in seconds, can't be told from the strings of one slow strum.
const CLOSEST_STROKES_S: f64 = 0.060;

/// Judges one pass: which strum is which stroke, how far off, and whether that is clean.
///
/// A stroke found beyond its window but nearer to it than to its neighbours (and within one slot) is early or late,
/// not missed. The window lies around the expected time plus the pass's own median offset, within limits.
#[must_use]
pub fn judge(plan: &PassPlan, heard: &[Strum], criterion: &Criterion, quality: &Quality) -> PassVerdict {
    let times: Vec<f64> = heard.iter().map(|strum| strum.at_s).collect();
    let expected: Vec<f64> = plan.times_s().collect();
    let limit_s = bias_limit_s(criterion.level);
    // The first look is for the bias only, the second removes it.
    let bias_s = median(&mut offsets_s(plan, heard)).map_or(0.0, |offset| offset.clamp(-limit_s, limit_s));
    let pairs = align(&reaches(plan, &expected, bias_s), &times);

    let strokes = findings(plan, &expected, &times, &pairs, bias_s, criterion);
    let extras_s = extras(plan, heard, &pairs);
    let mut offsets: Vec<f64> = strokes.iter().filter_map(|stroke| stroke.offset_ms).collect();
    let median_offset_ms = median(&mut offsets);
    let mut pass = PassVerdict {
        verdict: Verdict::Clean,
        spread_ms: median_offset_ms.and_then(|around| spread(&offsets, around)),
        median_offset_ms,
        allowed_faults: allowed_faults(criterion, strokes.len()),
        strokes,
        extras_s,
        tuning_cents: None,
    };
    pass.verdict = outcome(plan, heard, quality, &pass);
    pass
}

fn outcome(plan: &PassPlan, heard: &[Strum], quality: &Quality, pass: &PassVerdict) -> Verdict {
    if plan.strokes.is_empty() {
        return Verdict::NotJudged(Reason::NothingExpected);
    }
    if plan.strokes.windows(2).any(|pair| pair[1].at_s - pair[0].at_s < CLOSEST_STROKES_S) {
        return Verdict::NotJudged(Reason::TooFast);
    }
    if let Some(reason) = quality.objection(plan, heard) {
        return Verdict::NotJudged(reason);
    }
    let faults = pass.strokes.len() - pass.count(Finding::InTime);
    let clean = faults <= pass.allowed_faults as usize && pass.extras_s.len() <= allowed_extras(pass.strokes.len());
    if clean { Verdict::Clean } else { Verdict::NotClean }
}

/// Half-way to the neighbours, and at most one slot.
fn reaches(plan: &PassPlan, expected: &[f64], bias_s: f64) -> Vec<Reach> {
    let strokes = plan.strokes.iter().zip(expected).enumerate();
    strokes
        .map(|(index, (stroke, at))| {
            let before = index.checked_sub(1).map_or(f64::INFINITY, |before| (at - expected[before]) / 2.0);
            let after = expected.get(index + 1).map_or(f64::INFINITY, |after| (after - at) / 2.0);
            Reach { at: at + bias_s, before: before.min(stroke.slot_s), after: after.min(stroke.slot_s) }
        })
        .collect()
}

/// Heard − expected of every stroke that was heard, in seconds.
pub(crate) fn offsets_s(plan: &PassPlan, heard: &[Strum]) -> Vec<f64> {
    let times: Vec<f64> = heard.iter().map(|strum| strum.at_s).collect();
    let expected: Vec<f64> = plan.times_s().collect();
    let pairs = align(&reaches(plan, &expected, 0.0), &times);
    expected.iter().zip(pairs).filter_map(|(at, pair)| Some(times[pair?] - at)).collect()
}

fn findings(
    plan: &PassPlan,
    expected: &[f64],
    times: &[f64],
    pairs: &[Option<usize>],
    bias_s: f64,
    criterion: &Criterion,
) -> Vec<StrokeFinding> {
    let strokes = plan.strokes.iter().zip(expected).zip(pairs);
    strokes
        .map(|((stroke, at), pair)| {
            let heard_s = pair.map(|index| times[index]);
            let half_s = window_s(criterion.level, stroke.slot_s);
            let finding = match heard_s.map(|heard| heard - at - bias_s) {
                None => Finding::Missed,
                Some(off) if off < -half_s => Finding::Early,
                Some(off) if off > half_s => Finding::Late,
                Some(_) => Finding::InTime,
            };
            StrokeFinding {
                bar: stroke.bar,
                slot: stroke.slot,
                action: stroke.action,
                direction: stroke.direction,
                shape: stroke.shape,
                expected_s: *at,
                heard_s,
                offset_ms: heard_s.map(|heard| (heard - at) * 1000.0),
                finding,
                chord: ChordFinding::Unsure,
                sounded_like: None,
                heard_direction: None,
                strings: Vec::new(),
                window_ms: half_s * 1000.0,
            }
        })
        .collect()
}

fn extras(plan: &PassPlan, heard: &[Strum], pairs: &[Option<usize>]) -> Vec<f64> {
    let (from, to) = plan.reach_s();
    let mut matched = vec![false; heard.len()];
    for index in pairs.iter().flatten() {
        matched[*index] = true;
    }
    if plan.only_asked {
        return Vec::new();
    }
    let unmatched = heard.iter().zip(matched).filter(|(strum, matched)| !matched && strum.certain);
    unmatched.map(|(strum, _)| strum.at_s).filter(|at| (from..to).contains(at)).collect()
}
