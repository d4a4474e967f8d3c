//! The program: the command line, or the window.

use std::io::{stderr, stdout};
use std::process::ExitCode;

use sixrung::cli::{Outcome, run};

fn main() -> ExitCode {
    match run(std::env::args_os(), &mut stdout().lock(), &mut stderr().lock()) {
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
