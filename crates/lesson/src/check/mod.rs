//! What is wrong with a lesson that reads: each module looks at one side of it.

mod harmony;
pub(crate) mod limits;
mod playability;
mod rhythm;
mod run;
mod structure;
mod words;

use crate::build::Draft;
use crate::file::v1::LessonForm;
use crate::findings::Findings;

/// Reports everything found.
pub(crate) fn check(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    structure::check(form, draft, findings);
    rhythm::check(form, draft, findings);
    harmony::check(form, draft, findings);
    playability::check(form, draft, findings);
    // Last, because words are only counted in sections where nothing else is wrong.
    words::check(form, draft, findings);
}
