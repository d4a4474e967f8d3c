//! The plot of a pass that was kept, as the sheet showed it after it was played.

use sixrung_journal::{KeptPass, StrokeMark};
use sixrung_lesson::{Score, Stretch, layout};
use sixrung_listen::{ChordFinding, Finding};
use sixrung_practice::Step;

use crate::say::chord_name;
use crate::session::{ONE_CHORD_BARS, Stage};
use crate::stand::{ChordSpan, MarkKind, PlotMark, PlotView};
use crate::text::journal as text;

/// Draws it on the score it was played from. Where that is no longer the lesson on the stand, bars are told by the strokes
/// alone and chords not at all. `None` when nothing was heard to plot.
pub(super) fn kept_plot(stage: &Stage, kept: &KeptPass) -> Option<PlotView> {
    let marks = &kept.strokes.marks;
    let (first, last) = (marks.first()?, marks.last()?);
    let score = score_of(stage, kept);
    let ticks = |score: &Score, mark: &StrokeMark| {
        let slot =
            score.slots.iter().find(|slot| slot.bar == usize::from(mark.bar) && slot.index == u32::from(mark.slot));
        slot.map(|slot| f64::from(slot.at.0))
    };
    let placed = score.as_ref().and_then(|score| {
        let (from, to) = (ticks(score, first)?, ticks(score, last)?);
        let ms_a_tick = f64::from(last.expected_ms - first.expected_ms) / (to - from);
        (to > from && ms_a_tick > 0.0).then(|| (-from * ms_a_tick, f64::from(score.length.0) * ms_a_tick, score))
    });
    // Without a score the last stroke is taken to ring as long as the one before it.
    let before = marks.iter().rev().nth(1).unwrap_or(first);
    let rest = f64::from(last.expected_ms - before.expected_ms);
    let (starts_ms, length_ms) =
        placed.map_or((0.0, f64::from(last.expected_ms) + rest), |(at, length, _)| (at, length));
    let share = |ms: f64| to_f32(((ms - starts_ms) / length_ms.max(1.0)).clamp(0.0, 1.0));
    let bias = kept.pass.median_offset_ms.unwrap_or(0.0);
    let mark = |mark: &StrokeMark| PlotMark {
        at: share(f64::from(mark.expected_ms)),
        offset_ms: mark.offset_tenth_ms.map_or(0.0, |tenths| to_f32(f64::from(tenths) / 10.0 - bias)),
        kind: kind(mark.finding),
        other_way: None,
    };
    let extra =
        |ms: &u32| PlotMark { at: share(f64::from(*ms)), offset_ms: 0.0, kind: MarkKind::Extra, other_way: None };
    let bar_lines = match placed {
        Some((.., score)) => {
            let length = f64::from(score.length.0);
            score.bars.iter().skip(1).map(|bar| to_f32(f64::from(bar.start.0) / length)).collect()
        }
        None => marks
            .windows(2)
            .filter(|two| two[0].bar != two[1].bar)
            .map(|two| share(two[1].expected_ms.into()))
            .collect(),
    };
    Some(PlotView {
        marks: marks.iter().map(mark).chain(kept.strokes.extras_ms.iter().map(extra)).collect(),
        window_ms: marks.iter().map(|mark| f32::from(mark.window_ms)).fold(0.0, f32::max),
        bar_lines,
        chords: placed.map(|(.., score)| chords(score, marks, &share)).unwrap_or_default(),
        worst_bar: None,
    })
}

/// The score a pass was played from; `None` where the lesson on the stand is another, or has changed since.
fn score_of(stage: &Stage, kept: &KeptPass) -> Option<Score> {
    let key = &kept.pass.key;
    if key.lesson.hash != stage.hash || (key.stretch == Stretch::Whole && stage.lesson.form.is_empty()) {
        return None;
    }
    let arrangement = stage.lesson.arrangements.iter().find(|known| known.name == key.arrangement);
    let arrangement = arrangement.unwrap_or(&stage.arrangement);
    let score = layout(&stage.lesson, &key.stretch, arrangement).ok()?;
    Some(match kept.pass.step {
        Step::OneStroke => score.one_stroke_per_change(),
        Step::OneChord => score.on_one_chord(None, ONE_CHORD_BARS),
        _ => score,
    })
}

fn chords(score: &Score, marks: &[StrokeMark], share: &dyn Fn(f64) -> f32) -> Vec<ChordSpan> {
    let length = f64::from(score.length.0);
    let ends = score.changes.iter().skip(1).map(|change| f64::from(change.at.0)).chain([length]);
    let span = |(change, end): (&sixrung_lesson::Change, f64)| {
        let span = to_f32(f64::from(change.at.0) / length)..to_f32(end / length);
        // A stroke lies on its change but for rounding to milliseconds.
        let inside = |mark: &&StrokeMark| {
            let at = share(f64::from(mark.expected_ms)) + 1e-3;
            at >= span.start && at < span.end
        };
        let is_wrong = marks.iter().filter(inside).any(|mark| mark.chord == ChordFinding::Wrong);
        ChordSpan {
            name: change
                .shape
                .and_then(|shape| score.shapes.get(shape))
                .map_or_else(|| crate::say::NO_CHORD.to_owned(), |shape| chord_name(&shape.name)),
            heard: is_wrong.then(|| text::ANOTHER_CHORD.to_owned()),
            strings: Vec::new(),
            span,
        }
    };
    score.changes.iter().zip(ends).map(span).collect()
}

const fn kind(finding: Finding) -> MarkKind {
    match finding {
        Finding::InTime => MarkKind::InTime,
        Finding::Early => MarkKind::Early,
        Finding::Late => MarkKind::Late,
        Finding::Missed => MarkKind::Missed,
    }
}

#[expect(clippy::cast_possible_truncation, reason = "for drawing")]
fn to_f32(value: f64) -> f32 {
    value as f32
}
