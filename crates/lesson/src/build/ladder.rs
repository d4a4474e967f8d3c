//! The ladder and the clean criterion a teacher may set.

use super::ranged;
use crate::file::v1::{CleanForm, LadderForm};
use crate::findings::{At, Findings};
use crate::nearest::did_you_mean;
use crate::rules::{Criterion, LadderRules, Level};
use crate::units::Tempo;

/// Rungs a ladder may have.
const MAX_RUNGS: i64 = 24;

pub(super) fn ladder(form: Option<&LadderForm>, tempo: Option<Tempo>, findings: &mut Findings<'_>) -> LadderRules {
    let mut rules = LadderRules::default();
    let Some(form) = form else { return rules };
    if form.bpm.is_some() && (form.start.is_some() || form.rungs.is_some()) {
        let hint = "keep bpm: […], or start and rungs";
        findings.error(form.span, "two-ladders", "the rungs are named and also reckoned from a start", hint);
    }
    if let Some(start) = &form.start {
        if (20.0..=100.0).contains(&start.value) {
            rules.start = start.value / 100.0;
        } else {
            let message = format!("the first rung is 20 to 100 percent of the tempo; found {}", start.value);
            findings.error(start.span, "out-of-range", message, "write start: 60 for 60 %");
        }
    }
    rules.rungs = ranged(form.rungs.as_ref(), "the number of rungs", 1..=MAX_RUNGS, findings).unwrap_or(rules.rungs);
    rules.up_after = ranged(form.up_after.as_ref(), "up_after", 1..=20, findings).unwrap_or(rules.up_after);
    rules.down_after = ranged(form.down_after.as_ref(), "down_after", 1..=20, findings).unwrap_or(rules.down_after);
    if let Some(bpm) = &form.bpm {
        rules.named = named(bpm, tempo, findings);
    }
    rules
}

/// Rungs named outright: rising, and none above the lesson's own tempo.
fn named(bpm: &At<Vec<At<f64>>>, tempo: Option<Tempo>, findings: &mut Findings<'_>) -> Vec<Tempo> {
    if bpm.value.is_empty() || bpm.value.len() > usize::try_from(MAX_RUNGS).unwrap_or(usize::MAX) {
        let message = format!("a ladder has 1 to {MAX_RUNGS} rungs; found {}", bpm.value.len());
        findings.error(bpm.span, "bad-rungs", message, "name a few tempi, as in bpm: [76, 92, 126]");
        return Vec::new();
    }
    let mut rungs: Vec<Tempo> = Vec::new();
    for written in &bpm.value {
        let Some(rung) = Tempo::from_bpm(written.value) else {
            let message = format!("a rung is 10 to 400 beats per minute; found {}", written.value);
            findings.error(written.span, "bad-tempo", message, "write a tempo in the lesson's beats per minute");
            continue;
        };
        if rungs.last().is_some_and(|last| *last >= rung) {
            let message = format!("rung {} is not above the one before it", written.value);
            findings.error(written.span, "bad-rungs", message, "write the rungs from slow to fast, each once");
        } else if tempo.is_some_and(|tempo| rung > tempo) {
            let message = format!("rung {} is above the lesson's tempo", written.value);
            findings.error(written.span, "bad-rungs", message, "the ladder ends at the original tempo");
        }
        rungs.push(rung);
    }
    rungs
}

pub(super) fn criterion(form: Option<&CleanForm>, findings: &mut Findings<'_>) -> Criterion {
    let mut criterion = Criterion::default();
    let Some(form) = form else { return criterion };
    if let Some(level) = &form.level {
        match level.value.as_str() {
            "beginner" => criterion.level = Level::Beginner,
            "improver" => criterion.level = Level::Improver,
            "advanced" => criterion.level = Level::Advanced,
            other => {
                let hint = did_you_mean(other, &["beginner", "improver", "advanced"], "");
                findings.error(level.span, "bad-level", format!("\"{other}\" is not a level"), hint);
            }
        }
    }
    criterion.allowed_faults = ranged(form.faults.as_ref(), "the faults allowed in a pass", 0..=999, findings);
    criterion
}
