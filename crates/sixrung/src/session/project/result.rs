//! A judged pass as the sheet shows it.

use std::sync::Arc;

use sixrung_listen::{ChordFinding, Finding, PassVerdict, StrokeFinding, Verdict};
use sixrung_practice::{Advice, Effect, Marked, advice};

use super::super::stage::Stage;
use super::chords::chord;
use crate::say;
use crate::stand::{ChordSpan, MarkKind, PlotMark, PlotView, ResultView, StringMark};

/// What to read after a pass.
pub(crate) fn result(stage: &Stage, verdict: &PassVerdict, marked: Marked, effects: &[Effect]) -> ResultView {
    if marked == Marked::ByPlayer {
        let detail = say::effects(effects).unwrap_or_default();
        let quiet = say::SELF_MARKED.to_owned();
        return ResultView { headline: say::headline(verdict.verdict), detail, quiet, ..ResultView::default() };
    }
    if let Verdict::NotJudged(reason) = verdict.verdict {
        return ResultView {
            headline: say::headline(verdict.verdict),
            detail: say::reason_sentence(reason).to_owned(),
            quiet: say::cure_sentence(reason).to_owned(),
            ..ResultView::default()
        };
    }
    let found = advice(verdict, &stage.score);
    let chord = say::wrong_chord(verdict, stage);
    let advice = say::advice(&found, stage).filter(|_| chord.is_none() || !found.is_about_chords());
    let sentences = [say::in_time(verdict), chord, advice, say::effects(effects)];
    let quiet = [say::string(verdict, stage), say::other_way(verdict, stage), say::bias(verdict)];
    ResultView {
        headline: say::headline(verdict.verdict),
        detail: sentences.into_iter().flatten().collect::<Vec<_>>().join(" "),
        quiet: quiet.into_iter().flatten().next().unwrap_or_default(),
        plot: Some(Arc::new(plot(stage, verdict))),
        ..ResultView::default()
    }
}

/// The strokes along the stretch: the player's own bias taken out, so that what is left is what the window judges.
#[expect(clippy::cast_possible_truncation, reason = "fractions and milliseconds, for drawing")]
fn plot(stage: &Stage, verdict: &PassVerdict) -> PlotView {
    let Some(scale) = Scale::new(stage, verdict) else { return PlotView::default() };
    let bias = verdict.median_offset_ms.unwrap_or(0.0);
    let mut marks: Vec<_> = verdict
        .strokes
        .iter()
        .map(|stroke| PlotMark {
            at: scale.share(stroke.expected_s) as f32,
            offset_ms: stroke.offset_ms.map_or(0.0, |offset| offset - bias) as f32,
            kind: kind(stroke),
            other_way: stroke.heard_direction.filter(|heard| *heard != stroke.direction),
        })
        .collect();
    marks.extend(verdict.extras_s.iter().map(|heard| PlotMark {
        at: scale.share(*heard).clamp(0.0, 1.0) as f32,
        offset_ms: 0.0,
        kind: MarkKind::Extra,
        other_way: None,
    }));
    let length = f64::from(stage.score.length.0);
    PlotView {
        marks,
        window_ms: verdict.strokes.iter().map(|stroke| stroke.window_ms).fold(0.0, f64::max) as f32,
        bar_lines: stage.score.bars.iter().skip(1).map(|bar| (f64::from(bar.start.0) / length) as f32).collect(),
        chords: chord_spans(stage, verdict, &scale),
        worst_bar: worst_bar(stage, verdict),
    }
}

#[expect(clippy::cast_possible_truncation, reason = "fractions, for drawing")]
fn chord_spans(stage: &Stage, verdict: &PassVerdict, scale: &Scale) -> Vec<ChordSpan> {
    let length = f64::from(stage.score.length.0);
    let changes = &stage.score.changes;
    let ends = changes.iter().skip(1).map(|change| f64::from(change.at.0)).chain([length]);
    changes
        .iter()
        .zip(ends)
        .map(|(change, end)| {
            let (from, to) = (f64::from(change.at.0) / length, end / length);
            // A stroke lies on its change but for rounding.
            let inside = |stroke: &&StrokeFinding| (from - 1e-6..to - 1e-6).contains(&scale.share(stroke.expected_s));
            let wrong = verdict.strokes.iter().filter(inside).find(|stroke| stroke.chord == ChordFinding::Wrong);
            ChordSpan {
                span: from as f32..to as f32,
                name: chord(stage, change.shape).name,
                heard: wrong.map(say::sounded_like),
                strings: strings(verdict.strokes.iter().filter(inside)),
            }
        })
        .collect()
}

/// What is wrong with strings anywhere in a span, the heaviest string first.
fn strings<'a>(strokes: impl Iterator<Item = &'a StrokeFinding>) -> Vec<StringMark> {
    let found = strokes.flat_map(|stroke| &stroke.strings);
    let mut marks: Vec<_> = found.map(|found| StringMark { number: found.string, fault: found.fault }).collect();
    marks.sort_unstable_by(|a, b| b.number.cmp(&a.number).then(a.fault.cmp(&b.fault)));
    marks.dedup();
    marks
}

/// When bar 1 beat 1 was, in seconds on the take's clock; `None` with fewer than two strokes.
pub(crate) fn begins_s(stage: &Stage, verdict: &PassVerdict) -> Option<f64> {
    Scale::new(stage, verdict).map(|scale| scale.starts_s)
}

fn worst_bar(stage: &Stage, verdict: &PassVerdict) -> Option<u32> {
    match advice(verdict, &stage.score) {
        Advice::Bar { bar, .. } => stage.score.bars.get(bar).map(|bar| bar.number + 1),
        _ => None,
    }
}

fn kind(stroke: &StrokeFinding) -> MarkKind {
    match stroke.finding {
        Finding::InTime => MarkKind::InTime,
        Finding::Early => MarkKind::Early,
        Finding::Late => MarkKind::Late,
        Finding::Missed => MarkKind::Missed,
    }
}

/// From seconds on the take's clock to fractions of the stretch, by the first and the last expected stroke.
struct Scale {
    starts_s: f64,
    length_s: f64,
}

impl Scale {
    fn new(stage: &Stage, verdict: &PassVerdict) -> Option<Self> {
        let sounding = stage.score.slots.iter().filter(|slot| slot.stroke.action.sounds() && slot.shape.is_some());
        let (first, last) = (verdict.strokes.first()?, verdict.strokes.last()?);
        let ticks = |of: &StrokeFinding| {
            let slot = sounding.clone().find(|slot| slot.bar == of.bar && slot.index == of.slot);
            slot.map(|slot| f64::from(slot.at.0))
        };
        let (first_tick, last_tick) = (ticks(first)?, ticks(last)?);
        let seconds_per_tick = if last_tick > first_tick {
            (last.expected_s - first.expected_s) / (last_tick - first_tick)
        } else {
            return None;
        };
        let starts_s = first.expected_s - first_tick * seconds_per_tick;
        Some(Self { starts_s, length_s: f64::from(stage.score.length.0) * seconds_per_tick })
    }

    fn share(&self, seconds: f64) -> f64 {
        (seconds - self.starts_s) / self.length_s
    }
}
