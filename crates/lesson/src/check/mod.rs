//! What is wrong with a lesson that reads: each module looks at one side of it.

mod structure;

use crate::build::Draft;
use crate::file::v1::LessonForm;
use crate::findings::Findings;

/// Reports everything found.
pub(crate) fn check(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    structure::check(form, draft, findings);
}
