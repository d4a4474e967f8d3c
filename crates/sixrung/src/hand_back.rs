//! What the journal knows of an assignment: what its report is made from.

use std::collections::BTreeSet;

use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::paper::Line;
use sixrung_exchange::report::{Calibrated, HeldRung, PassKind, PlayedChange, PlayedPass, Practised};
use sixrung_journal::{
    Journal, JournalError, LessonRef, Measured, PassId, PlayedPass as KeptPass, StretchKey, Strokes,
};
use sixrung_lesson::{Arrangement, Stretch, frets_text};
use sixrung_practice::{ChordFinding, Day, Felt, Finding, Moment, Step, UtcOffset, Verdict};

/// Passes read at once; as long as none of them is older than the assignment, so many times as many are read.
const AT_ONCE: u32 = 1_000;
const TIMES_AS_MANY: u32 = 8;

/// All that was practised with the assignment's lesson since its first day, where local time is `zone`, with a line from
/// the learner.
///
/// # Errors
/// When the journal can't be read, or holds what it should not.
pub fn practised(
    journal: &Journal,
    assignment: &Assignment,
    zone: UtcOffset,
    note: Option<Line>,
) -> Result<Practised, JournalError> {
    let from = assignment.task().from.map_or(Moment(i64::MIN), |date| date.day().begins(zone));
    let lesson = LessonRef { hash: assignment.lesson_hash(), title: assignment.original().title.clone() };
    let (same, other): (Vec<_>, Vec<_>) = passes_since(journal, from)?
        .into_iter()
        .filter(|(_, pass)| pass.key.lesson.hash == lesson.hash || pass.key.lesson.title == lesson.title)
        .partition(|(_, pass)| pass.key.lesson.hash == lesson.hash);
    let until = same.iter().map(|(_, pass)| pass.ended).max();
    // Whatever hurt on a day without this lesson came of something else, and is between the learner and whom that concerns.
    let played: BTreeSet<Day> = same.iter().map(|(_, pass)| pass.ended.day(zone)).collect();
    let passes = same.into_iter().map(|(id, pass)| {
        let strokes = journal.strokes(id)?.unwrap_or_default();
        Ok(told(&pass, &strokes, zone))
    });
    let pain = journal.felt_since(from)?.into_iter().filter(|(felt, _)| *felt == Felt::Pain);
    let hurt = pain.map(|(_, at)| at.day(zone)).filter(|day| played.contains(day));
    Ok(Practised {
        passes: passes.collect::<Result<_, JournalError>>()?,
        changes: changes(journal, assignment, from)?,
        held: held(journal, assignment, &lesson)?,
        hurt: hurt.collect(),
        calibrated: until.map_or(Ok(Calibrated::Unknown), |until| calibrated(journal, until))?,
        other_lesson: u32::try_from(other.len()).unwrap_or(u32::MAX),
        note,
    })
}

/// Every pass since `from`.
fn passes_since(journal: &Journal, from: Moment) -> Result<Vec<(PassId, KeptPass)>, JournalError> {
    let mut limit = AT_ONCE;
    loop {
        let mut newest = journal.recent_passes(None, limit)?;
        let is_all = newest.len() < limit as usize || limit == u32::MAX;
        if is_all || newest.last().is_some_and(|(_, pass)| pass.ended < from) {
            newest.retain(|(_, pass)| pass.ended >= from);
            return Ok(newest);
        }
        limit = limit.saturating_mul(TIMES_AS_MANY);
    }
}

/// A pass as a report takes it: nothing of the devices comes along.
fn told(pass: &KeptPass, strokes: &Strokes, zone: UtcOffset) -> PlayedPass {
    let (section, first, is_all) = match &pass.key.stretch {
        Stretch::Whole => (None, 0, true),
        Stretch::Section(section) => (Some(section.clone()), 0, true),
        Stretch::Bars { section, first, .. } => (Some(section.clone()), *first, false),
    };
    // The other steps play something simpler than the section.
    let is_section = matches!(pass.step, Step::Slow | Step::Climb | Step::PlayAlong | Step::Sing);
    let fell = matches!((pass.rung, pass.rung_after), (Some(rung), Some(after)) if after < rung);
    PlayedPass {
        day: pass.ended.day(zone),
        seconds: f64::from(pass.duration_ms) / 1000.0,
        section,
        arrangement: pass.key.arrangement.clone(),
        kind: if is_section && is_all { PassKind::Through } else { PassKind::Exercise },
        tempo: pass.tempo,
        verdict: pass.verdict,
        marked: pass.marked,
        fell: fell && pass.verdict == Verdict::NotClean,
        offset_ms: pass.median_offset_ms,
        spread_ms: pass.spread_ms,
        faults: if is_section { faults(strokes, first) } else { Vec::new() },
    }
}

/// Strokes that went wrong, bar by bar of the section.
fn faults(strokes: &Strokes, first: u32) -> Vec<(u32, u32)> {
    let mut bars: Vec<(u32, u32)> = Vec::new();
    let wrong =
        strokes.marks.iter().filter(|mark| mark.finding != Finding::InTime || mark.chord == ChordFinding::Wrong);
    for mark in wrong {
        let bar = first + u32::from(mark.bar);
        match bars.last_mut() {
            Some((last, faults)) if *last == bar => *faults += 1,
            _ => bars.push((bar, 1)),
        }
    }
    bars
}

/// The timed changes between shapes of the lesson, under their names there.
fn changes(journal: &Journal, assignment: &Assignment, from: Moment) -> Result<Vec<PlayedChange>, JournalError> {
    let lesson = assignment.original();
    let shift =
        lesson.arrangement(assignment.arrangement()).map_or(0, |arrangement: &Arrangement| arrangement.capo_shift);
    let capo = lesson.capo.saturating_add(shift);
    let name = |frets: &str| {
        let shape = lesson.shapes.iter().find(|shape| frets_text(&shape.strings) == frets);
        shape.map(|shape| shape.name.clone())
    };
    let kept = journal.recent_changes(None, u32::MAX)?;
    let of_lesson = kept.into_iter().filter(|change| change.at >= from && change.pair.capo == capo);
    let named = of_lesson.filter_map(|change| {
        let took_s = f64::from(change.took_ms) / 1000.0;
        Some(PlayedChange { from: name(&change.pair.from)?, to: name(&change.pair.to)?, took_s })
    });
    Ok(named.collect())
}

/// The rungs that are held now, section by section and of the whole piece.
fn held(journal: &Journal, assignment: &Assignment, lesson: &LessonRef) -> Result<Vec<HeldRung>, JournalError> {
    let named = assignment.original().sections.iter().map(|section| Some(section.name.clone()));
    let mut held = Vec::new();
    for section in named.chain([None]) {
        let stretch = section.clone().map_or(Stretch::Whole, Stretch::Section);
        let key = StretchKey { lesson: lesson.clone(), stretch, arrangement: assignment.arrangement().to_owned() };
        let Some(climb) = journal.climb(&key)? else { continue };
        held.extend(climb.rungs.iter().filter_map(|(tempo, rung)| {
            let marked = rung.held?.marked;
            Some(HeldRung { section: section.clone(), tempo: *tempo, marked })
        }));
    }
    Ok(held)
}

/// The round trip measured last before the newest pass: passes keep how long it was, not how that was found.
fn calibrated(journal: &Journal, until: Moment) -> Result<Calibrated, JournalError> {
    Ok(journal.newest_round_trip(until)?.map_or(Calibrated::Unknown, |trip| match trip.how {
        Measured::FromPass => Calibrated::FromPass,
        Measured::Loopback => Calibrated::Loopback,
        Measured::TapAlong => Calibrated::TapAlong,
        Measured::ByHand => Calibrated::ByHand,
    }))
}
