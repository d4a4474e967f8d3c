//! From the forms of the file to the domain: compact texts read, numbers held to their ranges, names left as written.
//!
//! Whatever can't be read becomes a finding and a gap, and the rest is built all the same, so that the checks can go
//! over all of it. A draft's lists keep the order and number of the forms they come from.

mod head;
mod ladder;
mod pattern;
mod section;
mod shape;

use crate::file::v1::LessonForm;
use crate::findings::{At, Findings};
use crate::lesson::{Arrangement, Lesson};
use crate::meter::{BeatUnit, Meter};
use crate::pattern::Pattern;
use crate::rules::{Criterion, LadderRules};
use crate::section::Section;
use crate::shape::Shape;
use crate::tuning::Tuning;
use crate::units::Tempo;

pub(crate) use head::MAX_CAPO;
pub(crate) use pattern::DraftPattern;
pub(crate) use section::NO_CHORD;

/// The longest name taken, in characters.
const MAX_NAME: usize = 48;

/// A lesson as far as it could be read.
#[derive(Debug)]
pub(crate) struct Draft {
    pub(crate) title: String,
    pub(crate) credit: String,
    pub(crate) key: String,
    pub(crate) tempo: Option<Tempo>,
    pub(crate) beat: Option<BeatUnit>,
    /// `None` when there is a meter that can't be read; what hangs on it is not checked then.
    pub(crate) meter: Option<Meter>,
    /// `None` when there is a tuning that can't be read.
    pub(crate) tuning: Option<Tuning>,
    pub(crate) capo: u8,
    pub(crate) count_in_bars: Option<u8>,
    pub(crate) shapes: Vec<Option<Shape>>,
    pub(crate) patterns: Vec<Option<DraftPattern>>,
    pub(crate) sections: Vec<Section>,
    pub(crate) form: Vec<String>,
    pub(crate) arrangements: Vec<Arrangement>,
    pub(crate) ladder: LadderRules,
    pub(crate) criterion: Criterion,
}

/// Builds what can be built.
pub(crate) fn build(form: &LessonForm, findings: &mut Findings<'_>) -> Draft {
    let meter = head::meter(form, findings);
    let tempo = head::tempo(form, findings);
    let tuning = head::tuning(form, findings);
    let sections: Vec<Section> = form.sections.iter().map(|section| section::section(section, findings)).collect();
    let patterns = form
        .patterns
        .iter()
        .map(|form| pattern::pattern(form, pattern::first_meter(form, &sections).or(meter), findings))
        .collect();
    let written_form = form.form.as_ref().map(|form| form.value.iter().map(|name| name.value.clone()).collect());
    Draft {
        title: head::title(form, findings),
        credit: text(form.credit.as_ref()),
        key: text(form.key.as_ref()),
        tempo,
        beat: head::beat(form, meter, findings),
        meter,
        capo: head::capo(form, findings),
        count_in_bars: head::count_in(form, findings),
        shapes: form.shapes.iter().map(|form| shape::shape(form, tuning.as_ref(), findings)).collect(),
        patterns,
        form: written_form.unwrap_or_else(|| sections.iter().map(|section| section.name.clone()).collect()),
        sections,
        tuning,
        arrangements: head::arrangements(form, findings),
        ladder: ladder::ladder(form.ladder.as_ref(), tempo, findings),
        criterion: ladder::criterion(form.clean.as_ref(), findings),
    }
}

impl Draft {
    /// The number of the pattern of this name, the first where several have it.
    pub(crate) fn pattern_index(&self, name: &str) -> Option<usize> {
        self.patterns.iter().position(|draft| draft.as_ref().is_some_and(|draft| draft.pattern.name == name))
    }

    /// The pattern of this name, if it could be read.
    pub(crate) fn pattern(&self, name: &str) -> Option<&Pattern> {
        self.patterns.iter().flatten().map(|draft| &draft.pattern).find(|pattern| pattern.name == name)
    }

    /// The lesson, when nothing is missing from it: a gap always comes with an error.
    pub(crate) fn into_lesson(self) -> Option<Lesson> {
        Some(Lesson {
            title: self.title,
            credit: self.credit,
            tempo: self.tempo?,
            beat: self.beat?,
            meter: self.meter?,
            key: self.key,
            tuning: self.tuning?,
            capo: self.capo,
            count_in_bars: self.count_in_bars,
            shapes: self.shapes.into_iter().collect::<Option<_>>()?,
            patterns: self.patterns.into_iter().map(|draft| Some(draft?.pattern)).collect::<Option<_>>()?,
            sections: self.sections,
            form: self.form,
            arrangements: self.arrangements,
            ladder: self.ladder,
            criterion: self.criterion,
        })
    }
}

fn text(written: Option<&At<String>>) -> String {
    written.map(|text| text.value.trim().to_owned()).unwrap_or_default()
}

/// A name as written; one that is empty, too long or padded is an error.
fn name(written: Option<&At<String>>, findings: &mut Findings<'_>) -> String {
    let Some(written) = written else { return String::new() };
    let name = &written.value;
    if name.trim().is_empty() {
        findings.error(written.span, "bad-name", "this name is empty", "give it a short name of its own");
    } else if name.trim() != name || name.chars().any(char::is_control) {
        findings.error(written.span, "bad-name", "this name has blanks around it or hidden characters", "remove them");
    } else if name.chars().count() > MAX_NAME {
        let message = format!("this name is longer than {MAX_NAME} characters");
        findings.error(written.span, "bad-name", message, "give it a short name that fits on the sheet");
    }
    name.clone()
}

/// A whole number in its range; out of it an error, and `None`.
fn ranged<T: TryFrom<i64>>(
    written: Option<&At<i64>>,
    what: &str,
    range: std::ops::RangeInclusive<i64>,
    findings: &mut Findings<'_>,
) -> Option<T> {
    let written = written?;
    if range.contains(&written.value) {
        return T::try_from(written.value).ok();
    }
    let message = format!("{what} is {} to {}; found {}", range.start(), range.end(), written.value);
    let nearest = written.value.clamp(*range.start(), *range.end());
    findings.error(written.span, "out-of-range", message, format!("write {nearest}, or another in the range"));
    None
}
