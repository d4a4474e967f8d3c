//! The command line as a user calls it.

use std::ffi::OsString;
use std::path::Path;

use sixrung::cli::{Outcome, run};

/// What a call came to.
pub struct Called {
    /// Its exit code.
    pub code: u8,
    /// What it printed.
    pub out: String,
    /// What it said went wrong.
    pub err: String,
}

/// Calls `sixrung` with these arguments.
///
/// # Panics
/// When they name no command, or what is printed is not UTF-8.
#[must_use]
pub fn call(args: &[&str]) -> Called {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let args = std::iter::once("sixrung").chain(args.iter().copied()).map(OsString::from);
    let Outcome::Done(code) = run(args, &mut out, &mut err) else { panic!("a command was named") };
    let text = |bytes| String::from_utf8(bytes).expect("what is printed is UTF-8");
    Called { code, out: text(out), err: text(err) }
}

/// A file's name in a folder, as an argument.
///
/// # Panics
/// When it is not UTF-8.
#[must_use]
pub fn path(dir: &Path, name: &str) -> String {
    dir.join(name).to_str().expect("a plain path").to_owned()
}
