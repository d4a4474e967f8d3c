//! Words of assignments and reports: what is asked in one line, how it went as a table.

use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::report::{Calibrated, Report, Tally};
use sixrung_lesson::Tempo;
use sixrung_practice::Date;

use super::WHOLE_PIECE;

/// After a report was written.
pub const WRITTEN: &str = "written as above, for your teacher";
/// Nothing was played.
const NOTHING_PLAYED: &str = "nothing was played yet";
/// Columns of the table.
pub const COLUMNS: usize = 9;
/// The table's head.
pub const HEADS: [&str; COLUMNS] =
    ["section", "asked", "passes", "clean", "down", "not judged", "best", "held", "bar to work on"];
/// Under the table.
pub const LEGEND: &str = "down: times the ladder went a rung down; best: fastest clean pass since the assignment’s first day; \
                          held: up to now, so it may be faster";
/// What nothing is known of.
pub const NOTHING: &str = "–";
/// Read aloud of a section instead of its numbers.
pub const NOT_PLAYED: &str = "not played";

/// What an assignment asks, on the sheet, where the lesson and its arrangement are named anyway.
#[must_use]
pub fn asked_here(assignment: &Assignment) -> String {
    let task = assignment.task();
    let sections = if task.sections.is_empty() { "every section".to_owned() } else { task.sections.join(", ") };
    let long = plan((task.days, task.minutes), (None, task.due));
    format!("Asked: {sections}, up to {}{long}.", bpm(assignment.goal()))
}

/// What an assignment asks, in a sentence.
#[must_use]
pub fn asked(assignment: &Assignment) -> String {
    format!("Asked: {}.", assigned(assignment))
}

/// Under it: what to attend to, and when to stop.
#[must_use]
pub fn focus(assignment: &Assignment) -> String {
    let task = assignment.task();
    let lines: Vec<&str> =
        [&task.focus, &task.stop_on].into_iter().flatten().map(sixrung_exchange::paper::Line::as_str).collect();
    lines.join("; ")
}

/// The same on the sheet, or what follows from the assignment where nothing is to be attended to.
#[must_use]
pub fn hint(assignment: &Assignment) -> String {
    Some(focus(assignment))
        .filter(|lines| !lines.is_empty())
        .unwrap_or_else(|| "your plan for today follows it".to_owned())
}

/// An assignment in one line.
#[must_use]
pub fn assigned(assignment: &Assignment) -> String {
    let task = assignment.task();
    let learner = task.learner.as_ref().map_or_else(String::new, |name| format!("for {name}, "));
    let sections = if task.sections.is_empty() { "every section".to_owned() } else { task.sections.join(", ") };
    let original = assignment.original().tempo;
    let tempi = tempi(assignment.start(), assignment.goal(), original);
    let plan = plan((task.days, task.minutes), (task.from, task.due));
    let (title, arrangement) = (&assignment.original().title, assignment.arrangement());
    format!("{learner}\"{title}\" ({arrangement}): {sections}, {tempi}{plan}")
}

fn tempi(start: Tempo, goal: Tempo, original: Tempo) -> String {
    let of = if goal < original { format!(" of {}", bpm(original)) } else { String::new() };
    format!("{} to {}{of} beats a minute", bpm(start), bpm(goal))
}

/// How long, from when and until when; begins with a comma, or is empty.
fn plan((days, minutes): (Option<u16>, Option<u16>), (from, due): (Option<Date>, Option<Date>)) -> String {
    let long = match (days, minutes) {
        (Some(days), Some(minutes)) => format!(", {} of {minutes} minutes", counted(u32::from(days), "day")),
        (Some(days), None) => format!(", {}", counted(u32::from(days), "day")),
        (None, Some(minutes)) => format!(", {minutes} minutes a day"),
        (None, None) => String::new(),
    };
    let from = from.map_or_else(String::new, |from| format!(", from {from}"));
    let due = due.map_or_else(String::new, |due| format!(", due {due}"));
    format!("{long}{from}{due}")
}

/// A report, line by line.
#[must_use]
pub fn lines(report: &Report) -> Vec<String> {
    let mut lines = head(report);
    if !report.days.is_empty() {
        lines.extend([String::new(), "day          minutes".to_owned()]);
    }
    for day in &report.days {
        let hurt = if day.pain { "   something hurt" } else { "" };
        lines.push(format!("{}   {:>7.1}{hurt}", day.date, day.minutes));
    }
    lines.extend([String::new(), row(&HEADS.map(str::to_owned))]);
    lines.extend(rows(report).iter().map(row));
    lines.extend([LEGEND.to_owned(), String::new()]);
    lines.extend(findings(report));
    lines
}

/// Who, what was asked, how much was played.
#[must_use]
pub fn head(report: &Report) -> Vec<String> {
    let asked = &report.asked;
    let learner = report.learner.as_ref().map_or_else(String::new, |name| format!("{name}: "));
    let days = report.days.iter().filter(|day| day.minutes > 0.0).count();
    let days = counted(u32::try_from(days).unwrap_or(u32::MAX), "day");
    let tempi = tempi(asked.start, asked.goal, asked.original);
    let plan = plan((asked.days, asked.minutes), (asked.from, asked.due));
    vec![
        format!("{learner}\"{}\" ({})", report.lesson, asked.arrangement),
        format!("asked: {tempi}{plan}"),
        if report.days.is_empty() {
            NOTHING_PLAYED.to_owned()
        } else {
            format!("played: {days}, {} of playing", minutes_of(report))
        },
    ]
}

fn minutes_of(report: &Report) -> String {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "minutes, from zero up")]
    let minutes = report.minutes().round() as u32;
    counted(minutes, "minute")
}

/// The table's rows: what was heard of each section, and below it what the learner marked.
#[must_use]
pub fn rows(report: &Report) -> Vec<[String; COLUMNS]> {
    let mut rows = Vec::new();
    for section in &report.sections {
        let name = section.section.as_ref().map_or(WHOLE_PIECE, |name| name.as_str());
        let worst = section.worst_bar.map_or_else(String::new, |worst| {
            format!("{} ({} in {})", worst.bar, counted(worst.faults, "fault"), passes(worst.passes))
        });
        let asked = if section.asked { "yes" } else { "no" };
        rows.push(cells(name, asked, &section.heard, worst));
        if section.self_marked != Tally::default() {
            rows.push(cells("  by own mark", "", &section.self_marked, String::new()));
        }
    }
    rows
}

fn cells(name: &str, asked: &str, tally: &Tally, worst: String) -> [String; COLUMNS] {
    let Tally { passes, clean, not_judged, falls, best, held } = tally;
    let is_played = *passes > 0;
    let count = |count: &u32| if is_played { count.to_string() } else { NOTHING.to_owned() };
    let [passes, clean, falls, not_judged] = [passes, clean, falls, not_judged].map(count);
    let [best, held] = [best, held].map(|tempo| tempo.map_or_else(|| NOTHING.to_owned(), bpm));
    [name.to_owned(), asked.to_owned(), passes, clean, falls, not_judged, best, held, worst]
}

/// A row in letters of one width.
fn row([name, asked, passes, clean, falls, not_judged, best, held, worst]: &[String; COLUMNS]) -> String {
    let row = format!(
        "{name:<18} {asked:>6} {passes:>8} {clean:>7} {falls:>7} {not_judged:>12} {best:>7} {held:>7}   {worst}"
    );
    row.trim_end().to_owned()
}

/// What is no number of a section: changes, timing, hands, the learner's line.
#[must_use]
pub fn findings(report: &Report) -> Vec<String> {
    let mut lines = Vec::new();
    if let Some(slow) = &report.slowest_change {
        let (from, to, times) = (&slow.from, &slow.to, counted(slow.count, "change"));
        lines.push(format!("slowest change: {from} to {to}, {:.2} s (median of {times})", slow.median_s));
    }
    if let Some(timing) = report.timing {
        let side = if timing.offset_ms < 0.0 { "early" } else { "late" };
        let (by, spread) = (timing.offset_ms.abs(), timing.spread_ms);
        let over = passes(timing.passes);
        lines.push(format!("strokes: {by:.0} ms {side} on the whole, spread {spread:.0} ms, over {over}"));
    }
    lines.push(format!("sound's round trip: {}", calibrated(report.calibrated)));
    if report.other_arrangement > 0 {
        let count = passes(report.other_arrangement);
        lines.push(format!("in another arrangement: {count}, only in the minutes"));
    }
    if report.other_lesson > 0 {
        let count = passes(report.other_lesson);
        lines.push(format!("with another version of the lesson: {count}, not counted here"));
    }
    lines.push(if report.pain {
        "hands: something hurt, on the days marked; if it persists, see a doctor or other licensed clinician".to_owned()
    } else {
        "hands: nothing was said to hurt on these days".to_owned()
    });
    if let Some(note) = &report.note {
        lines.push(format!("note: {note}"));
    }
    lines.push(format!("lesson {:016x}, assignment {:016x}", report.lesson_hash, report.assignment));
    lines
}

fn calibrated(how: Calibrated) -> &'static str {
    match how {
        Calibrated::Unknown => "not measured",
        Calibrated::FromPass => "found from a pass played along: its own lead or lag is in it",
        Calibrated::Loopback => "measured by the program's own sound",
        Calibrated::TapAlong => "tapped along: how early the learner taps is taken off the strokes",
        Calibrated::ByHand => "set by hand",
    }
}

fn passes(count: u32) -> String {
    if count == 1 { "1 pass".to_owned() } else { format!("{count} passes") }
}

pub(crate) fn counted(count: u32, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// A tempo as it is printed beside a rung.
fn bpm(tempo: Tempo) -> String {
    crate::session::bpm_text(tempo)
}
