//! `sixrung assign`: one file for a learner, with the lesson and what is asked.

use std::io::Write;
use std::path::Path;

use serde::Serialize;
use sixrung_exchange::assignment::{Assignment, NotMade, Task, Wrong};
use sixrung_exchange::paper::Line;
use sixrung_lesson::{self as lesson, Lesson, Tempo, read};
use sixrung_practice::{Date, Policy, share_of};

use super::args::Assign;
use super::fault::Fault;
use super::unprinted;
use crate::app::{moment, zone};
use crate::files::write_whole;
use crate::library::Source;
use crate::text::report as text;

#[derive(Serialize)]
struct AssignedJson {
    out: String,
    /// Sixteen hexadecimal digits.
    assignment: String,
    lesson: String,
    lesson_hash: String,
    arrangement: String,
    sections: Vec<String>,
    rungs_bpm: Vec<f64>,
}

/// Exit code 0 when the file was written.
pub(super) fn assign(args: &Assign, out: &mut dyn Write) -> Result<u8, Fault> {
    let source = Source::from_argument(&args.lesson);
    let bytes = source.text().map_err(|unreadable| Fault::error(unreadable.message).hint(unreadable.hint))?;
    let read = read(&bytes).map_err(|findings| not_playable(&args.lesson, &findings))?;
    let task = task(args, &read.lesson)?;
    let assignment = Assignment::new(&bytes, task).map_err(|not_made| match not_made {
        NotMade::Lesson(findings) => not_playable(&args.lesson, &findings),
        NotMade::Task(Wrong { message, hint, .. }) => Fault::usage(message).hint(hint),
    })?;
    write(&args.out, &assignment.to_text())?;
    let path = args.out.display().to_string();
    let printed = if args.json {
        serde_json::to_writer(&mut *out, &json(path, &assignment))
            .map_err(std::io::Error::from)
            .and_then(|()| writeln!(out))
    } else {
        writeln!(out, "{path}: {}", text::assigned(&assignment))
    };
    printed.map_err(|error| unprinted(&error))?;
    Ok(0)
}

/// Writes a text whole or not at all.
pub(super) fn write(path: &Path, text: &str) -> Result<(), Fault> {
    write_whole(path, |file| file.write_all(text.as_bytes())).map_err(|error: std::io::Error| {
        Fault::error(format!("{}: {error}", path.display())).hint("name a file in a folder that can be written")
    })
}

fn not_playable(argument: &str, findings: &[lesson::Diagnostic]) -> Fault {
    let shown: Vec<_> = findings.iter().map(|finding| format!("{argument}:{finding}")).collect();
    Fault::error(format!("{argument} can't be played\n{}", shown.join("\n")))
        .hint(format!("mend these, then try `sixrung check {argument}`"))
}

fn task(args: &Assign, lesson: &Lesson) -> Result<Task, Fault> {
    let usual = Policy::of(&lesson.ladder);
    let policy = Policy {
        up_after: args.up_after.unwrap_or(usual.up_after),
        down_after: args.down_after.unwrap_or(usual.down_after),
        ..usual
    };
    // As the other commands do, whether letters are capitals is not asked.
    let section = |name: &String| {
        let found = lesson.sections.iter().find(|section| section.name.eq_ignore_ascii_case(name));
        found.map_or_else(|| name.clone(), |section| section.name.clone())
    };
    Ok(Task {
        learner: line("--for", args.learner.as_deref())?,
        arrangement: args.arrangement.clone(),
        sections: args.sections.iter().map(section).collect(),
        start: tempo("--start", args.start.as_deref(), lesson)?,
        goal: tempo("--goal", args.goal.as_deref(), lesson)?,
        level: args.level.map(Into::into),
        faults: args.faults,
        policy: Some(policy),
        days: args.days,
        minutes: args.minutes,
        from: Some(date("--from", args.from.as_deref())?.unwrap_or_else(|| Date::of(moment().day(zone())))),
        due: date("--due", args.due.as_deref())?,
        focus: line("--focus", args.focus.as_deref())?,
        stop_on: line("--stop-on", args.stop_on.as_deref())?,
    })
}

/// A line of a learner's or a teacher's.
pub(super) fn line(option: &str, text: Option<&str>) -> Result<Option<Line>, Fault> {
    let refused = |error| Fault::usage(format!("{option} {error}")).hint("one short sentence will do, or leave it out");
    text.map(|text| Line::new(text).map_err(refused)).transpose()
}

fn date(option: &str, text: Option<&str>) -> Result<Option<Date>, Fault> {
    let refused = |text: &str| {
        Fault::usage(format!("{option}: {text:?} is no date")).hint("write it year-month-day, as in 2031-01-28")
    };
    text.map(|text| text.parse().map_err(|_| refused(text))).transpose()
}

/// Beats a minute, or a share of the original tempo in whole beats a minute as rungs are.
fn tempo(option: &str, text: Option<&str>, lesson: &Lesson) -> Result<Option<Tempo>, Fault> {
    let Some(text) = text else { return Ok(None) };
    let read = match text.trim().strip_suffix('%') {
        Some(percent) => percent.trim().parse::<f64>().ok().and_then(|percent| share_of(lesson.tempo, percent / 100.0)),
        None => text.trim().parse::<f64>().ok().and_then(Tempo::from_bpm),
    };
    let refused = || {
        Fault::usage(format!("{option}: {text:?} is no tempo to practise at"))
            .hint("give 10 to 400 beats a minute, as in 76, or percent of the original tempo, as in 60%")
    };
    read.map(Some).ok_or_else(refused)
}

fn json(out: String, assignment: &Assignment) -> AssignedJson {
    let sections = assignment.original().sections.iter().map(|section| section.name.clone());
    AssignedJson {
        out,
        assignment: format!("{:016x}", assignment.id()),
        lesson: assignment.original().title.clone(),
        lesson_hash: format!("{:016x}", assignment.lesson_hash()),
        arrangement: assignment.arrangement().to_owned(),
        sections: sections.filter(|name| assignment.asks_for(name)).collect(),
        rungs_bpm: assignment.ladder().rungs().iter().map(|rung| rung.bpm()).collect(),
    }
}
