//! Words: each `^` takes a change, and each change has a syllable, however the options are taken.

use crate::build::Draft;
use crate::diagnostic::Severity;
use crate::file::v1::{LessonForm, SectionForm};
use crate::findings::{Findings, TextProblem};
use crate::lesson::Arrangement;
use crate::section::{ChordRef, Entry, Occasion, Section};
use crate::text::words::change_marks;

/// Chords looked at in a section, beyond which it is too long to be played anyway.
const MAX_CHORDS: usize = 100_000;

pub(super) fn check(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    for (section_form, section) in form.sections.iter().zip(&draft.sections) {
        // An error in the section, a misspelt chord say, would make its changes count wrong.
        if section.words.is_empty() || findings.any_error_in(section_form.span) {
            continue;
        }
        check_section(section_form, section, draft, findings);
    }
}

/// How many changes a section has under one arrangement.
#[derive(Clone, Copy)]
struct Changes<'a> {
    arrangement: &'a Arrangement,
    /// Those from its start to its end.
    inside: usize,
    /// Whether it ends with an early change, in a loop back to another chord: words may mark it or not.
    ends_early: bool,
}

fn check_section(form: &SectionForm, section: &Section, draft: &Draft, findings: &mut Findings<'_>) {
    let counts = draft.arrangements.iter().filter_map(|arrangement| changes(section, draft, arrangement));
    let counts: Vec<Changes<'_>> = counts.collect();
    let marks: Vec<(usize, usize)> = form
        .words
        .iter()
        .enumerate()
        .flat_map(|(line, text)| change_marks(&text.value).into_iter().map(move |at| (line, at)))
        .collect();
    let most = |changes: &Changes<'_>| changes.inside + usize::from(changes.ends_early);
    if let Some(fewest) = counts.iter().min_by_key(|changes| most(changes)).filter(|c| most(c) < marks.len()) {
        let (line, from) = marks[most(fewest)];
        let (found, inside, under) = (marks.len(), fewest.inside, under(fewest.arrangement));
        let message = format!("there are {found} ^ in this section, yet {inside} changes{under}");
        let hint = "take the ^ away, or one before it: a chord that stays the same is no change".to_owned();
        let problem = TextProblem { code: "syllable-beyond", message, hint, from, to: from + 1 };
        findings.in_text(Severity::Error, &form.words[line], problem);
        return;
    }
    if let Some(fullest) = counts.iter().max_by_key(|changes| changes.inside).filter(|c| c.inside > marks.len())
        && let Some(last) = form.words.last()
    {
        let message =
            format!("{} changes{}, yet {} marked with ^", fullest.inside, under(fullest.arrangement), marks.len());
        let hint = "put ^ before the syllable each change falls on, or a lone ^ where nothing is sung";
        findings.warn(last.span, "change-without-syllable", message, hint);
    }
}

fn under(arrangement: &Arrangement) -> String {
    if arrangement.options.is_empty() { String::new() } else { format!(" in arrangement \"{}\"", arrangement.name) }
}

fn changes<'a>(section: &'a Section, draft: &'a Draft, arrangement: &'a Arrangement) -> Option<Changes<'a>> {
    let mut walk = Walk { draft, arrangement, first: None, last: None, changes: 0, chords: 0, ends_early: false };
    if section.endings.is_empty() {
        walk.entries(&section.entries)?;
    }
    for ending in &section.endings {
        walk.entries(&section.entries)?;
        walk.entries(ending)?;
    }
    Some(Changes { arrangement, inside: walk.changes, ends_early: walk.ends_early && walk.last != walk.first })
}

struct Walk<'d> {
    draft: &'d Draft,
    arrangement: &'d Arrangement,
    first: Option<&'d ChordRef>,
    last: Option<&'d ChordRef>,
    changes: usize,
    chords: usize,
    ends_early: bool,
}

impl<'d> Walk<'d> {
    /// Counts where one chord gives way to another; `None` when there are too many to be worth it.
    fn entries(&mut self, entries: &'d [Entry]) -> Option<()> {
        for entry in entries {
            match entry {
                Entry::Played { play, times, exceptions, .. } => {
                    for time in 1..=*times {
                        // The same precedence as in the layout: a numbered exception before the last.
                        let on = |wanted| exceptions.iter().find(|exception| exception.on == wanted);
                        let last = on(Occasion::Last).filter(|_| time == *times);
                        let exception = on(Occasion::Nth(time)).or(last);
                        let play = exception.map_or(play, |exception| &exception.play);
                        play.chords.iter().for_each(|chord| self.chord(chord));
                        let pattern = self.draft.pattern(&play.pattern);
                        self.ends_early = pattern.is_some_and(|pattern| pattern.change_points() == play.chords.len());
                    }
                }
                Entry::Optional(optional) if self.arrangement.options.contains(&optional.name) => {
                    self.entries(&optional.fuller)?;
                }
                Entry::Optional(optional) => self.entries(&optional.instead)?,
            }
            if self.chords > MAX_CHORDS {
                return None;
            }
        }
        Some(())
    }

    fn chord(&mut self, chord: &'d ChordRef) {
        self.chords += 1;
        self.first = self.first.or(Some(chord));
        if self.last != Some(chord) {
            self.changes += 1;
            self.last = Some(chord);
        }
    }
}
