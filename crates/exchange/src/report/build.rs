//! From what was practised to the report.

use std::collections::{BTreeMap, BTreeSet};

use sixrung_practice::{ChangeTimes, Date, Day, Marked, Verdict};

use super::{Asked, DayRow, FORM, PassKind, PlayedPass, Practised, Report, SectionRow, SlowChange, Tally, Timing};
use super::{WorstBar, input::HeldRung};
use crate::assignment::Assignment;
use crate::paper::Line;

/// A change timed fewer times is not called slow: a design choice of ours.
const LEAST_CHANGES: usize = 3;

impl Report {
    /// How the learner did, from what was practised.
    #[must_use]
    pub fn of(assignment: &Assignment, practised: &Practised) -> Self {
        let passes = &practised.passes;
        let in_arrangement: Vec<&PlayedPass> =
            passes.iter().filter(|pass| pass.arrangement == assignment.arrangement()).collect();
        let task = assignment.task();
        Self {
            version: FORM.version,
            learner: task.learner.clone(),
            lesson: line(&assignment.original().title),
            lesson_hash: assignment.lesson_hash(),
            assignment: assignment.id(),
            asked: Asked {
                arrangement: line(assignment.arrangement()),
                start: assignment.start(),
                goal: assignment.goal(),
                original: assignment.original().tempo,
                days: task.days,
                minutes: task.minutes,
                from: task.from,
                due: task.due,
            },
            days: days(practised),
            sections: sections(assignment, &in_arrangement, &practised.held),
            slowest_change: slowest(practised),
            timing: timing(&in_arrangement),
            calibrated: practised.calibrated,
            other_arrangement: count(passes.len() - in_arrangement.len()),
            other_lesson: practised.other_lesson,
            pain: !practised.hurt.is_empty(),
            note: practised.note.clone(),
        }
    }
}

fn days(practised: &Practised) -> Vec<DayRow> {
    let mut seconds = BTreeMap::<Day, f64>::new();
    for pass in &practised.passes {
        *seconds.entry(pass.day).or_default() += pass.seconds;
    }
    for hurt in &practised.hurt {
        seconds.entry(*hurt).or_default();
    }
    let row = |(day, seconds): (Day, f64)| DayRow {
        date: Date::of(day),
        minutes: rounded(seconds / 60.0, 10.0),
        pain: practised.hurt.contains(&day),
    };
    seconds.into_iter().map(row).collect()
}

fn sections(assignment: &Assignment, passes: &[&PlayedPass], held: &[HeldRung]) -> Vec<SectionRow> {
    let lesson = assignment.original();
    let named = lesson.sections.iter().map(|section| Some(section.name.clone()));
    let row = |section: Option<String>| {
        let of_it: Vec<&PlayedPass> = passes.iter().copied().filter(|pass| pass.section == section).collect();
        let held: Vec<&HeldRung> = held.iter().filter(|rung| rung.section == section).collect();
        // The whole piece is asked for by no name; who was asked for single sections may still play it.
        let asked = section.as_deref().is_some_and(|name| assignment.asks_for(name));
        (asked || !of_it.is_empty()).then(|| SectionRow {
            asked,
            heard: tally(&of_it, &held, Marked::Heard),
            self_marked: tally(&of_it, &held, Marked::ByPlayer),
            worst_bar: worst_bar(&of_it),
            section: section.as_deref().map(line),
        })
    };
    named.chain([None]).filter_map(row).collect()
}

fn tally(passes: &[&PlayedPass], held: &[&HeldRung], marked: Marked) -> Tally {
    let through: Vec<_> =
        passes.iter().filter(|pass| pass.marked == marked && pass.kind == PassKind::Through).collect();
    let clean = || through.iter().filter(|pass| pass.verdict == Verdict::Clean);
    Tally {
        passes: count(through.len()),
        clean: count(clean().count()),
        not_judged: count(through.iter().filter(|pass| matches!(pass.verdict, Verdict::NotJudged(_))).count()),
        falls: count(through.iter().filter(|pass| pass.fell).count()),
        best: clean().map(|pass| pass.tempo).max(),
        held: held.iter().filter(|rung| rung.marked == marked).map(|rung| rung.tempo).max(),
    }
}

/// The bar with the most faults, the first of equals: only where something was heard.
fn worst_bar(passes: &[&PlayedPass]) -> Option<WorstBar> {
    let judged: Vec<_> = passes
        .iter()
        .filter(|pass| pass.marked == Marked::Heard && !matches!(pass.verdict, Verdict::NotJudged(_)))
        .collect();
    let mut bars = BTreeMap::<u32, u32>::new();
    for (bar, faults) in judged.iter().flat_map(|pass| &pass.faults) {
        *bars.entry(*bar).or_default() += faults;
    }
    let (bar, faults) = bars.into_iter().filter(|(_, faults)| *faults > 0).rev().max_by_key(|(_, faults)| *faults)?;
    Some(WorstBar { bar: bar + 1, faults, passes: count(judged.len()) })
}

fn slowest(practised: &Practised) -> Option<SlowChange> {
    let pairs: BTreeSet<(&str, &str)> =
        practised.changes.iter().map(|change| (change.from.as_str(), change.to.as_str())).collect();
    let times = pairs.into_iter().map(|(from, to)| {
        let of_pair =
            practised.changes.iter().filter(|change| (change.from.as_str(), change.to.as_str()) == (from, to));
        (from, to, of_pair.map(|change| change.took_s).collect::<ChangeTimes>())
    });
    let slow = times
        .filter(|(.., times)| times.count() >= LEAST_CHANGES)
        .filter_map(|(from, to, times)| Some((from, to, times.median()?, times.count())));
    let (from, to, median_s, times) = slow.max_by(|a, b| a.2.total_cmp(&b.2))?;
    Some(SlowChange { from: line(from), to: line(to), median_s: rounded(median_s, 100.0), count: count(times) })
}

fn timing(passes: &[&PlayedPass]) -> Option<Timing> {
    let heard = passes.iter().filter(|pass| pass.marked == Marked::Heard);
    let (offsets, spreads): (Vec<f64>, Vec<f64>) =
        heard.filter_map(|pass| Some((pass.offset_ms?, pass.spread_ms?))).unzip();
    let passes = count(offsets.len());
    let (offset_ms, spread_ms) = (median(offsets)?, median(spreads)?);
    Some(Timing { offset_ms: rounded(offset_ms, 10.0), spread_ms: rounded(spread_ms, 10.0), passes })
}

fn median(mut values: Vec<f64>) -> Option<f64> {
    values.sort_unstable_by(f64::total_cmp);
    let upper = *values.get(values.len() / 2)?;
    let lower = values[(values.len() - 1) / 2];
    Some(f64::midpoint(lower, upper))
}

/// To a part of one; what is no number is nothing.
fn rounded(value: f64, parts: f64) -> f64 {
    if value.is_finite() { (value * parts).round() / parts } else { 0.0 }
}

fn count(of: usize) -> u32 {
    u32::try_from(of).unwrap_or(u32::MAX)
}

/// A name as far as it fits; a lesson's names are hardly ever longer.
fn line(name: &str) -> Line {
    Line::cut(name).unwrap_or_else(|| Line::new("?").expect("one plain character"))
}

#[cfg(test)]
mod tests {
    use super::{median, rounded};

    #[test]
    fn the_middle_and_the_parts() {
        assert_eq!(median(vec![]), None);
        assert_eq!(median(vec![3.0]), Some(3.0));
        assert_eq!(median(vec![4.0, 1.0, 3.0, 2.0]), Some(2.5));
        assert_eq!(rounded(14.26, 10.0), 14.3);
        assert_eq!(rounded(f64::NAN, 10.0), 0.0);
    }
}
