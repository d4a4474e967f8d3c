//! `sixrung report`: how the practice with an assignment went, as a file for the teacher; and such a file printed.

use std::io::Write;
use std::path::Path;

use sixrung_exchange::assignment::Assignment;
use sixrung_exchange::paper::Refusal;
use sixrung_exchange::report::{Answers, Report};
use sixrung_journal::Journal;

use super::args;
use super::assign::{line, write};
use super::fault::Fault;
use super::unprinted;
use crate::app::{data_folder, moment, zone};
use crate::files::{MOST_PAPER, Unread, read_at_most};
use crate::hand_back::practised;
use crate::text::report as text;

/// Exit code 0 when it was printed, and written where that was asked for.
pub(super) fn report(args: &args::Report, out: &mut dyn Write) -> Result<u8, Fault> {
    let assignment = args.assignment.as_deref().map(assignment).transpose()?;
    let report = match (&args.report, &assignment) {
        (Some(file), assignment) => read(file, assignment.as_ref())?,
        (None, Some(assignment)) => made(args, assignment)?,
        (None, None) => return Err(Fault::usage("there is nothing to report").hint("name a report, or --assignment")),
    };
    // What is in it is shown before it is written.
    let printed = if args.json {
        serde_json::to_writer(&mut *out, &report).map_err(std::io::Error::from).and_then(|()| writeln!(out))
    } else {
        text::lines(&report).iter().try_for_each(|line| writeln!(out, "{line}"))
    };
    printed.map_err(|error| unprinted(&error))?;
    if let Some(file) = &args.out {
        write(file, &report.to_text())?;
        if !args.json {
            writeln!(out, "\n{}: {}", file.display(), text::WRITTEN).map_err(|error| unprinted(&error))?;
        }
    }
    Ok(0)
}

fn assignment(file: &Path) -> Result<Assignment, Fault> {
    let bytes = bytes(file, "give an assignment that `sixrung assign` wrote")?;
    Assignment::read(&bytes).map_err(|refusal| refused(file, &refusal))
}

fn read(file: &Path, assignment: Option<&Assignment>) -> Result<Report, Fault> {
    let bytes = bytes(file, "give a report that `sixrung report` wrote")?;
    let report = Report::read(&bytes).map_err(|refusal| refused(file, &refusal))?;
    let Some(assignment) = assignment else { return Ok(report) };
    let told = |what| Fault::error(format!("{}: {what}", file.display()));
    match report.answers(assignment) {
        Answers::This => Ok(report),
        Answers::AnotherAssignment => {
            Err(told("it answers another assignment of the same lesson").hint("give the assignment it was made from"))
        }
        Answers::AnotherLesson => Err(told("it is of another lesson, or of another version of its text")
            .hint("give the assignment it was made from, or print it without --assignment")),
    }
}

fn made(args: &args::Report, assignment: &Assignment) -> Result<Report, Fault> {
    let note = line("--note", args.note.as_deref())?;
    let folder = args.data.clone().or_else(data_folder).ok_or_else(|| {
        Fault::error("there is no home folder to look for the journal in").hint("name one with --data DIR")
    })?;
    let file = folder.join("journal.sqlite");
    if !file.exists() {
        let message = format!("{}: there is no journal", file.display());
        return Err(Fault::error(message).hint("practise first, or name its folder with --data DIR"));
    }
    let unread = |error: sixrung_journal::JournalError| Fault::error(error.to_string()).hint(error.hint().to_string());
    let journal = Journal::open(&file, moment().day(zone())).map_err(unread)?.journal;
    let practised = practised(&journal, assignment, zone(), note).map_err(unread)?;
    Ok(Report::of(assignment, &practised))
}

fn bytes(file: &Path, hint: &str) -> Result<Vec<u8>, Fault> {
    read_at_most(file, MOST_PAPER).map_err(|unread| {
        let message = match unread {
            Unread::Disk(error) => format!("{}: {error}", file.display()),
            Unread::TooLong(size) => format!("{}: {size} bytes are more than such a file has", file.display()),
        };
        Fault::error(message).hint(hint)
    })
}

fn refused(file: &Path, refusal: &Refusal) -> Fault {
    let space = if refusal.place.is_some() { "" } else { " " };
    Fault::error(format!("{}:{space}{}", file.display(), refusal.told())).hint(refusal.hint.clone())
}
