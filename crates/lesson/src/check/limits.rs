//! How much a lesson may hold: far more than any piece needs, and little enough to be checked in a blink.

use crate::file::v1::{LessonForm, PlayForm, SectionForm};
use crate::findings::Findings;

/// Shapes, or patterns, a lesson may have.
const MAX_PARTS: usize = 256;
/// Sections a lesson may have.
const MAX_SECTIONS: usize = 64;
/// Section names a form may have.
const MAX_FORM: usize = 256;
/// Arrangements a lesson may have.
const MAX_ARRANGEMENTS: usize = 32;
/// Options an arrangement may take in.
const MAX_OPTIONS: usize = 64;
/// Entries a lesson may have, those of endings and options included.
const MAX_ENTRIES: usize = 2048;
/// Endings a section may have.
const MAX_ENDINGS: usize = 16;
/// Chords an entry may name, those of its exceptions included.
const MAX_CHORDS: usize = 2048;
/// Lines of words a lesson may have.
const MAX_LINES: usize = 2048;

/// Reports what there is too much of, each with its own message; such a lesson is not looked at further.
pub(crate) fn check(form: &LessonForm, findings: &mut Findings<'_>) {
    let played: Vec<_> = form.sections.iter().flat_map(SectionForm::all_played).collect();
    let mut limit = |span, found: usize, most: usize, what: &str| {
        if found > most {
            let message = format!("there are {found} {what}; at most {most} are read");
            findings.error(
                span,
                "too-many",
                message,
                "split the lesson, or say it shorter with times, sections and form",
            );
        }
    };
    limit(form.span, form.shapes.len(), MAX_PARTS, "shapes");
    limit(form.span, form.patterns.len(), MAX_PARTS, "patterns");
    limit(form.span, form.sections.len(), MAX_SECTIONS, "sections");
    limit(form.span, form.arrangements.len(), MAX_ARRANGEMENTS, "arrangements");
    limit(form.span, played.len(), MAX_ENTRIES, "entries");
    limit(form.span, form.sections.iter().map(|section| section.words.len()).sum(), MAX_LINES, "lines of words");
    if let Some(order) = &form.form {
        limit(order.span, order.value.len(), MAX_FORM, "sections in the form");
    }
    for arrangement in &form.arrangements {
        limit(arrangement.span, arrangement.options.len(), MAX_OPTIONS, "options in the arrangement");
    }
    for section in &form.sections {
        limit(section.span, section.endings.len(), MAX_ENDINGS, "endings in the section");
    }
    for entry in played {
        let chords = |play: &PlayForm| play.chords.as_ref().map_or(0, |chords| chords.value.len());
        limit(entry.play.span, entry.plays().map(chords).sum(), MAX_CHORDS, "chords in the entry");
    }
}
