//! `sixrung check`: reads lessons and says what is wrong with them.

use std::io::Write;

use serde::Serialize;
use sixrung_lesson::{Diagnostic, Severity, read};

use super::args::Check;
use super::fault::Fault;
use super::unprinted;
use crate::library::Source;

#[derive(Serialize)]
struct Checked {
    lesson: String,
    title: Option<String>,
    findings: Vec<Finding>,
}

#[derive(Serialize)]
struct Finding {
    severity: &'static str,
    code: &'static str,
    line: u32,
    column: u32,
    message: String,
    hint: Option<String>,
}

/// Exit code 0 when no lesson has an error (warnings are allowed), else 1.
pub(super) fn check(args: &Check, out: &mut dyn Write, err: &mut dyn Write) -> Result<u8, Fault> {
    let mut all_fine = true;
    let mut checked = Vec::new();
    for lesson in &args.lessons {
        let text = match Source::from_argument(lesson).text() {
            Ok(text) => text,
            Err(unreadable) => {
                all_fine = false;
                let fault = Fault::error(unreadable.message).hint(unreadable.hint);
                writeln!(err, "{fault}").map_err(|error| unprinted(&error))?;
                continue;
            }
        };
        let (title, findings) = match read(&text) {
            Ok(read) => (Some(read.lesson.title), read.warnings),
            Err(findings) => (None, findings),
        };
        all_fine &= findings.iter().all(|finding| finding.severity == Severity::Warning);
        for finding in &findings {
            writeln!(err, "{lesson}:{finding}").map_err(|error| unprinted(&error))?;
        }
        if !args.json
            && let Some(title) = &title
        {
            let warned = if findings.is_empty() { "no findings".to_owned() } else { count(findings.len()) };
            writeln!(out, "{lesson}: {title}: {warned}").map_err(|error| unprinted(&error))?;
        }
        checked.push(Checked { lesson: lesson.clone(), title, findings: findings.iter().map(finding).collect() });
    }
    if args.json {
        serde_json::to_writer_pretty(&mut *out, &checked).map_err(|error| unprinted(&error.into()))?;
        writeln!(out).map_err(|error| unprinted(&error))?;
    }
    Ok(u8::from(!all_fine))
}

fn count(findings: usize) -> String {
    if findings == 1 { "1 warning".to_owned() } else { format!("{findings} warnings") }
}

fn finding(diagnostic: &Diagnostic) -> Finding {
    Finding {
        severity: match diagnostic.severity {
            Severity::Warning => "warning",
            Severity::Error => "error",
        },
        code: diagnostic.code,
        line: diagnostic.place.line,
        column: diagnostic.place.column,
        message: diagnostic.message.clone(),
        hint: diagnostic.hint.clone(),
    }
}
