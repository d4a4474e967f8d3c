//! Words of assignments and reports: what is asked in one line, how it went as a table.

use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::report::{Calibrated, Report, SectionRow, Tally};
use sixrung_lesson::Tempo;
use sixrung_practice::Date;

use super::WHOLE_PIECE;

/// After a report was written.
pub const WRITTEN: &str = "written as above, for your teacher";
/// Nothing was played.
const NOTHING_PLAYED: &str = "nothing was played yet";
/// The table's head; widths are those of [`row`].
const HEAD: &str = "section             asked   passes   clean   falls   not judged    best    held   worst bar";

/// What an assignment asks, on the sheet.
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
    if lines.is_empty() { "your plan for today follows it".to_owned() } else { lines.join("; ") }
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
    let asked = &report.asked;
    let learner = report.learner.as_ref().map_or_else(String::new, |name| format!("{name}: "));
    let mut lines = vec![
        format!("{learner}\"{}\" ({})", report.lesson, asked.arrangement),
        format!(
            "asked: {}{}",
            tempi(asked.start, asked.goal, asked.original),
            plan((asked.days, asked.minutes), (asked.from, asked.due))
        ),
    ];
    if report.days.is_empty() {
        lines.push(NOTHING_PLAYED.to_owned());
    } else {
        let days = report.days.iter().filter(|day| day.minutes > 0.0).count();
        let days = counted(u32::try_from(days).unwrap_or(u32::MAX), "day");
        lines.push(format!("played: {days}, {:.0} minutes of playing", report.minutes()));
    }
    days(report, &mut lines);
    sections(report, &mut lines);
    lines.push(String::new());
    findings(report, &mut lines);
    lines
}

fn days(report: &Report, lines: &mut Vec<String>) {
    if report.days.is_empty() {
        return;
    }
    lines.extend([String::new(), "day          minutes".to_owned()]);
    for day in &report.days {
        let hurt = if day.pain { "   something hurt" } else { "" };
        lines.push(format!("{}   {:>7.1}{hurt}", day.date, day.minutes));
    }
}

fn sections(report: &Report, lines: &mut Vec<String>) {
    lines.extend([String::new(), HEAD.to_owned()]);
    for section in &report.sections {
        let name = section.section.as_ref().map_or(WHOLE_PIECE, |name| name.as_str());
        let worst = section.worst_bar.map_or_else(String::new, |worst| {
            format!("{} ({} in {})", worst.bar, counted(worst.faults, "fault"), passes(worst.passes))
        });
        lines.push(row(name, yes_or_no(section), &section.heard, &worst));
        if section.self_marked != Tally::default() {
            lines.push(row("  by own mark", "", &section.self_marked, ""));
        }
    }
}

fn yes_or_no(section: &SectionRow) -> &'static str {
    if section.asked { "yes" } else { "no" }
}

fn row(name: &str, asked: &str, tally: &Tally, worst: &str) -> String {
    let Tally { passes, clean, not_judged, falls, best, held } = tally;
    let tempo = |tempo: &Option<Tempo>| tempo.map_or_else(|| "–".to_owned(), bpm);
    let row = format!(
        "{name:<18} {asked:>6} {passes:>8} {clean:>7} {falls:>7} {not_judged:>12} {:>7} {:>7}   {worst}",
        tempo(best),
        tempo(held)
    );
    row.trim_end().to_owned()
}

fn findings(report: &Report, lines: &mut Vec<String>) {
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
        "hands: nothing was said to hurt".to_owned()
    });
    if let Some(note) = &report.note {
        lines.push(format!("note: {note}"));
    }
    lines.push(format!("lesson {:016x}, assignment {:016x}", report.lesson_hash, report.assignment));
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

fn counted(count: u32, what: &str) -> String {
    if count == 1 { format!("1 {what}") } else { format!("{count} {what}s") }
}

/// A tempo as it is printed beside a rung.
fn bpm(tempo: Tempo) -> String {
    crate::session::bpm_text(tempo)
}
