//! The program: the command line, or the window.

use std::io::{stderr, stdout};
use std::process::ExitCode;

use sixrung::cli::{Outcome, run};

fn main() -> ExitCode {
    // Not locked for longer than a line: the window's other threads must be able to say something, if only a panic.
    match run(std::env::args_os(), &mut stdout(), &mut stderr()) {
        Outcome::Done(code) => ExitCode::from(code),
        Outcome::Window(args) => match sixrung::app::open(&args) {
            Ok(()) => ExitCode::SUCCESS,
            Err(message) => {
                eprintln!("{message}");
                ExitCode::FAILURE
            }
        },
    }
}
