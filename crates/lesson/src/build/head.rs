//! The head of a lesson: tempo, beat, meter, tuning, capo, and the arrangements.

use super::{name, ranged, text};
use crate::file::v1::{ArrangementForm, LessonForm};
use crate::findings::Findings;
use crate::lesson::Arrangement;
use crate::meter::{BeatUnit, Meter};
use crate::text::meter::{parse_beat, parse_meter};
use crate::text::tuning::parse_tuning;
use crate::tuning::Tuning;
use crate::units::Tempo;

/// The highest fret a capo is put at.
pub(crate) const MAX_CAPO: i64 = 12;

pub(super) fn title(form: &LessonForm, findings: &mut Findings<'_>) -> String {
    const LONGEST: usize = 200;
    let title = text(form.title.as_ref());
    if let Some(written) = &form.title {
        if title.is_empty() {
            findings.error(written.span, "bad-name", "the title is empty", "name the piece as it should be printed");
        } else if title.chars().count() > LONGEST {
            let message = format!("the title is longer than {LONGEST} characters");
            findings.error(written.span, "bad-name", message, "shorten it; a comment can hold the rest");
        }
    }
    title
}

pub(super) fn tempo(form: &LessonForm, findings: &mut Findings<'_>) -> Option<Tempo> {
    let written = form.tempo.as_ref()?;
    let tempo = Tempo::from_bpm(written.value);
    if tempo.is_none() {
        let message = format!("the tempo is 10 to 400 beats per minute; found {}", written.value);
        findings.error(written.span, "bad-tempo", message, "write the original tempo, as in tempo: 96");
    }
    tempo
}

pub(super) fn meter(form: &LessonForm, findings: &mut Findings<'_>) -> Option<Meter> {
    let written = form.meter.as_ref()?;
    parse_meter(&written.value).map_err(|problems| findings.all_in_text(written, problems)).ok()
}

/// The beat written, or else the meter's felt beat.
pub(super) fn beat(form: &LessonForm, meter: Option<Meter>, findings: &mut Findings<'_>) -> Option<BeatUnit> {
    if let Some(written) = &form.beat {
        return parse_beat(&written.value).map_err(|problems| findings.all_in_text(written, problems)).ok();
    }
    let felt = meter?.beat();
    let units = [BeatUnit::Eighth, BeatUnit::Quarter, BeatUnit::DottedQuarter, BeatUnit::Half];
    let beat = units.into_iter().find(|unit| unit.ticks() == felt);
    if let (None, Some(written)) = (beat, &form.meter) {
        let message = format!("what the tempo counts in {} must be said", written.value);
        findings.error(written.span, "missing-field", message, "add beat: \"eighth\" or another");
    }
    beat
}

pub(super) fn tuning(form: &LessonForm, findings: &mut Findings<'_>) -> Option<Tuning> {
    let Some(written) = &form.tuning else { return Some(Tuning::standard_guitar()) };
    parse_tuning(&written.value).map_err(|problems| findings.all_in_text(written, problems)).ok()
}

pub(super) fn capo(form: &LessonForm, findings: &mut Findings<'_>) -> u8 {
    ranged(form.capo.as_ref(), "the capo's fret", 0..=MAX_CAPO, findings).unwrap_or(0)
}

pub(super) fn count_in(form: &LessonForm, findings: &mut Findings<'_>) -> Option<u8> {
    ranged(form.count_in.as_ref(), "the count-in in bars", 1..=4, findings)
}

/// The arrangements written; `plain` comes first unless it is among them.
pub(super) fn arrangements(form: &LessonForm, findings: &mut Findings<'_>) -> Vec<Arrangement> {
    let mut arrangements: Vec<Arrangement> =
        form.arrangements.iter().map(|arrangement_form| arrangement(arrangement_form, findings)).collect();
    if arrangements.iter().all(|arrangement| arrangement.name != "plain") {
        arrangements.insert(0, Arrangement { name: "plain".to_owned(), ..Arrangement::default() });
    }
    arrangements
}

fn arrangement(form: &ArrangementForm, findings: &mut Findings<'_>) -> Arrangement {
    Arrangement {
        name: name(form.name.as_ref(), findings),
        stand_ins: form.stand_ins,
        options: form.options.iter().map(|option| option.value.clone()).collect(),
        capo_shift: ranged(form.capo_shift.as_ref(), "capo_shift in frets", 0..=MAX_CAPO, findings).unwrap_or(0),
    }
}
