//! Reading: from the bytes of a file to a checked lesson, or to everything that is wrong with it.

use crate::build::build;
use crate::check::{check, limits};
use crate::diagnostic::Diagnostic;
use crate::file::{guard, syntax, v1};
use crate::findings::Findings;
use crate::hash::content_hash;
use crate::lesson::Lesson;

/// A lesson that can be played, and what a teacher may still want to look at.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// The lesson.
    pub lesson: Lesson,
    /// Warnings, in the order of the text.
    pub warnings: Vec<Diagnostic>,
    /// The fingerprint of its text, see [`content_hash`].
    pub hash: u64,
}

/// Reads lesson text, version 1, from the bytes of a `*.lesson.ron` file.
///
/// # Errors
/// A text that is not RON gives its first syntax error and nothing else. A well-formed one gives all its findings at
/// once, warnings among them, in the order of the text.
pub fn read(bytes: &[u8]) -> Result<Read, Vec<Diagnostic>> {
    let text = guard::text_of(bytes).map_err(Findings::finish)?;
    let tree = syntax::tree_of(text).map_err(Findings::finish)?;
    let mut findings = Findings::new(text);
    let Some(form) = v1::lesson(&tree, &mut findings) else { return Err(findings.finish()) };
    limits::check(&form, &mut findings);
    if findings.any_of("too-many") {
        return Err(findings.finish());
    }
    let draft = build(&form, &mut findings);
    check(&form, &draft, &mut findings);
    if findings.any_errors() {
        return Err(findings.finish());
    }
    let lesson = draft.into_lesson().expect("whatever is missing was reported as an error");
    Ok(Read { lesson, warnings: findings.finish(), hash: content_hash(bytes) })
}
