//! Names: each unique, each leading somewhere.

use crate::build::{Draft, MAX_CAPO, NO_CHORD};
use crate::file::v1::{EntryForm, LessonForm, PlayForm, PlayedForm};
use crate::findings::{At, Findings};
use crate::nearest::did_you_mean;

pub(super) fn check(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    let shapes = names(form.shapes.iter().map(|shape| shape.name.as_ref()), "shape", findings);
    let patterns = names(form.patterns.iter().map(|pattern| pattern.name.as_ref()), "pattern", findings);
    let sections = names(form.sections.iter().map(|section| section.name.as_ref()), "section", findings);
    nothing_to_play(form, findings);
    names(form.arrangements.iter().map(|arrangement| arrangement.name.as_ref()), "arrangement", findings);
    for name in form.shapes.iter().filter_map(|shape| shape.name.as_ref()).filter(|name| name.value == NO_CHORD) {
        findings.error(
            name.span,
            "bad-name",
            "N.C. means no chord and can't name a shape",
            "give the shape a name of its own",
        );
    }
    let mut references = References { shapes: &shapes, patterns: &patterns, options: Vec::new(), findings };
    for section in &form.sections {
        references.entries(&section.entries);
        section.endings.iter().for_each(|ending| references.entries(&ending.value));
    }
    let options = references.options;
    stand_ins(form, &shapes, findings);
    playing_order(form, &sections, findings);
    arrangements(form, draft, &options, findings);
}

fn nothing_to_play(form: &LessonForm, findings: &mut Findings<'_>) {
    if form.sections.is_empty() {
        let hint = "add sections: [(name: …, entries: […])]";
        findings.error(form.span, "nothing-to-play", "the lesson has no section", hint);
    }
    for section in form.sections.iter().filter(|section| section.entries.is_empty()) {
        if section.endings.is_empty() || section.endings.iter().any(|ending| ending.value.is_empty()) {
            let hint = "add an entry, as in (chord: \"D\", pattern: \"plain\")";
            findings.error(section.span, "nothing-to-play", "the section has no entry to play", hint);
        }
    }
}

/// The names given, each once; reports those given again.
fn names<'f>(
    given: impl Iterator<Item = Option<&'f At<String>>>,
    what: &str,
    findings: &mut Findings<'_>,
) -> Vec<&'f str> {
    let mut names: Vec<&str> = Vec::new();
    for name in given.flatten() {
        if names.contains(&name.value.as_str()) {
            let message = format!("\"{}\" already names another {what}", name.value);
            findings.error(name.span, "duplicate-name", message, "give each its own name");
        } else {
            names.push(&name.value);
        }
    }
    names
}

struct References<'f, 'r, 't> {
    shapes: &'r [&'f str],
    patterns: &'r [&'f str],
    /// Names of the optional stretches met.
    options: Vec<&'f At<String>>,
    findings: &'r mut Findings<'t>,
}

impl<'f> References<'f, '_, '_> {
    fn entries(&mut self, entries: &'f [EntryForm]) {
        for entry in entries {
            match entry {
                EntryForm::Played(played) => self.played(played),
                EntryForm::Optional(optional) => {
                    self.options.push(&optional.name);
                    self.entries(&optional.fuller);
                    self.entries(&optional.instead);
                }
            }
        }
    }

    fn played(&mut self, played: &PlayedForm) {
        self.play(&played.play);
        played.nth.iter().map(|(_, play)| play).chain(&played.last).for_each(|play| self.play(play));
        for (key, _) in &played.nth {
            if played.last.is_some() && key.value == played.times.as_ref().map_or(1, |times| times.value) {
                let message = format!("time {} is the last time, for which there is a last as well", key.value);
                self.findings.error(key.span, "two-exceptions", message, "keep one of the two");
            }
        }
    }

    fn play(&mut self, play: &PlayForm) {
        if self.findings.is_full() {
            return;
        }
        if let Some(pattern) = &play.pattern
            && !self.patterns.contains(&pattern.value.as_str())
        {
            let hint = did_you_mean(&pattern.value, self.patterns, "add it to patterns");
            self.findings.error(
                pattern.span,
                "unknown-pattern",
                format!("there is no pattern \"{}\"", pattern.value),
                hint,
            );
        }
        let Some(chords) = &play.chords else { return };
        for chord in &chords.value {
            if chord.value != NO_CHORD && !self.shapes.contains(&chord.value.as_str()) {
                let message = format!("there is no shape \"{}\"", chord.value);
                let known: Vec<&str> = self.shapes.iter().copied().chain([NO_CHORD]).collect();
                let hint = did_you_mean(&chord.value, &known, "add it to shapes");
                self.findings.error(chord.span, "unknown-chord", message, hint);
            }
        }
    }
}

/// A stand-in replaces a shape outright: it must be there, and not be replaced itself.
fn stand_ins(form: &LessonForm, shapes: &[&str], findings: &mut Findings<'_>) {
    let stand_in_of = |name: &str| {
        let shape = form.shapes.iter().find(|shape| shape.name.as_ref().is_some_and(|own| own.value == name))?;
        shape.stand_in.as_ref().map(|stand_in| stand_in.value.as_str())
    };
    for shape in &form.shapes {
        let (Some(name), Some(stand_in)) = (&shape.name, &shape.stand_in) else { continue };
        if !shapes.contains(&stand_in.value.as_str()) {
            let hint = did_you_mean(&stand_in.value, shapes, "add it to shapes");
            let message = format!("there is no shape \"{}\" to stand in", stand_in.value);
            findings.error(stand_in.span, "unknown-chord", message, hint);
        } else if reaches(&name.value, &stand_in.value, stand_in_of) {
            let message = format!("\"{}\" comes to stand in for itself", name.value);
            findings.error(stand_in.span, "stand-in-cycle", message, "name an easier shape that has no stand-in");
        } else if let Some(further) = stand_in_of(&stand_in.value) {
            let message = format!("\"{}\" has a stand-in of its own", stand_in.value);
            findings.error(
                stand_in.span,
                "stand-in-chain",
                message,
                format!("name the easiest outright: \"{further}\"?"),
            );
        }
    }
}

/// Whether following stand-ins from `start` comes to `name`.
fn reaches<'f>(name: &str, start: &'f str, stand_in_of: impl Fn(&str) -> Option<&'f str>) -> bool {
    let mut seen: Vec<&str> = Vec::new();
    let mut next = Some(start);
    while let Some(at) = next.filter(|at| !seen.contains(at)) {
        if at == name {
            return true;
        }
        seen.push(at);
        next = stand_in_of(at);
    }
    false
}

fn playing_order(form: &LessonForm, sections: &[&str], findings: &mut Findings<'_>) {
    let Some(order) = &form.form else { return };
    if order.value.is_empty() {
        findings.error(
            order.span,
            "nothing-to-play",
            "the form is empty",
            "name sections, or leave form out: each once",
        );
    }
    for name in order.value.iter().filter(|name| !sections.contains(&name.value.as_str())) {
        let hint = did_you_mean(&name.value, sections, "add it to sections");
        findings.error(name.span, "unknown-section", format!("there is no section \"{}\"", name.value), hint);
    }
}

fn arrangements(form: &LessonForm, draft: &Draft, options: &[&At<String>], findings: &mut Findings<'_>) {
    let names: Vec<&str> = options.iter().map(|option| option.value.as_str()).collect();
    for arrangement in &form.arrangements {
        for option in arrangement.options.iter().filter(|option| !names.contains(&option.value.as_str())) {
            let hint = did_you_mean(&option.value, &names, "no section has an (optional: …) entry");
            let message = format!("no entry is optional by the name \"{}\"", option.value);
            findings.error(option.span, "unknown-option", message, hint);
        }
        if arrangement.stand_ins && form.shapes.iter().all(|shape| shape.stand_in.is_none()) {
            let hint = "give a shape a stand_in, or take stand_ins away";
            findings.warn(
                arrangement.span,
                "no-stand-ins",
                "this arrangement uses stand-ins, yet no shape has one",
                hint,
            );
        }
        if let Some(shift) = &arrangement.capo_shift {
            capo_shift(shift, i64::from(draft.capo), findings);
        }
    }
    for option in options {
        if draft.arrangements.iter().all(|arrangement| !arrangement.options.contains(&option.value)) {
            let message = format!("no arrangement takes \"{}\" in", option.value);
            let hint = format!("add (name: \"full\", options: [\"{}\"]) to arrangements", option.value);
            findings.warn(option.span, "unused-option", message, hint);
        }
    }
}

fn capo_shift(shift: &At<i64>, capo: i64, findings: &mut Findings<'_>) {
    if (0..=MAX_CAPO).contains(&shift.value) && shift.value + capo > MAX_CAPO {
        let moved = shift.value + capo;
        let message = format!("this moves the capo from fret {capo} to {moved}; at most {MAX_CAPO}");
        findings.error(shift.span, "out-of-range", message, format!("write {} or less", MAX_CAPO - capo));
    }
}
