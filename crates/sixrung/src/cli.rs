//! The command line: what `sixrung` does without a window.

mod args;
mod assign;
mod calibrate;
mod changes;
mod check;
mod devices;
mod fault;
mod guide;
mod judge;
mod judge_json;
mod learn;
mod render;
mod report;
mod stretch;
mod what;

use std::ffi::OsString;
use std::io::Write;

use clap::Parser as _;
use clap::error::ErrorKind;

use args::{Cli, Command};
use fault::Fault;

/// What a command came to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// It ran, or failed, and the process ends with this code.
    Done(u8),
    /// No command was named: the window is to open.
    Window(WindowArgs),
}

/// What the window was asked to open on.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct WindowArgs {
    /// A lesson's file or a demo's name.
    pub lesson: Option<String>,
    /// Where the journal is kept.
    pub data: Option<std::path::PathBuf>,
}

/// Runs the command line. `args` begins with the program's name; data goes to `out`, findings and errors to `err`.
pub fn run(args: impl IntoIterator<Item = OsString>, out: &mut dyn Write, err: &mut dyn Write) -> Outcome {
    let cli = match Cli::try_parse_from(args) {
        Ok(cli) => cli,
        Err(told) => return Outcome::Done(tell_usage(&told, out, err)),
    };
    let Some(command) = cli.command else {
        return Outcome::Window(WindowArgs { lesson: cli.window.lesson, data: cli.window.data });
    };
    let result = match command {
        Command::Check(args) => check::check(&args, out, err),
        Command::Render(args) => render::render(&args, out),
        Command::Judge(args) => judge::judge(&args, out),
        Command::Learn(args) => learn::learn(&args, out),
        Command::Changes(args) => changes::changes(&args, out),
        Command::Calibrate(args) => calibrate::calibrate(&args, out, err),
        Command::Assign(args) => assign::assign(&args, out),
        Command::Report(args) => report::report(&args, out),
        Command::Guide(args) => guide::guide(&args, out, err),
        Command::Stretch(args) => stretch::stretch(&args, out),
        Command::Devices(args) => devices::devices(&args, out),
    };
    Outcome::Done(result.unwrap_or_else(|fault| {
        // A closed stderr leaves nobody to tell.
        if !fault.is_silent() {
            drop(writeln!(err, "{fault}"));
        }
        fault.code()
    }))
}

fn tell_usage(told: &clap::Error, out: &mut dyn Write, err: &mut dyn Write) -> u8 {
    let asked = matches!(told.kind(), ErrorKind::DisplayHelp | ErrorKind::DisplayVersion);
    let to: &mut dyn Write = if asked { out } else { err };
    drop(write!(to, "{}", told.render()));
    if asked { 0 } else { 2 }
}

/// A full disk under stdout. A reader that has seen enough and left is no trouble.
fn unprinted(error: &std::io::Error) -> Fault {
    if error.kind() == std::io::ErrorKind::BrokenPipe {
        return Fault::nobody_reads();
    }
    Fault::error(format!("could not print: {error}"))
}
