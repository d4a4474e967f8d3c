//! Sections: entries, exceptions, endings, words.

use super::{name, ranged};
use crate::file::v1::{EntryForm, OptionalForm, PlayForm, PlayedForm, SectionForm};
use crate::findings::{At, Findings};
use crate::section::{ChordRef, Entry, Exception, Occasion, Optional, Play, Section, WordLine};
use crate::text::meter::parse_meter;
use crate::text::words::parse_words;

/// How a lesson writes that there is no chord.
pub(crate) const NO_CHORD: &str = "N.C.";
/// Times an entry may be played.
const MAX_TIMES: i64 = 256;

pub(super) fn section(form: &SectionForm, findings: &mut Findings<'_>) -> Section {
    Section {
        name: name(form.name.as_ref(), findings),
        entries: entries(&form.entries, findings),
        endings: form.endings.iter().map(|ending| entries(&ending.value, findings)).collect(),
        words: form.words.iter().map(|line| words(line, findings)).collect(),
    }
}

fn words(line: &At<String>, findings: &mut Findings<'_>) -> WordLine {
    // Once nothing more would be told, reading on is of no use to anyone.
    if findings.is_full() {
        return WordLine { syllables: Vec::new() };
    }
    parse_words(&line.value).unwrap_or_else(|problems| {
        findings.all_in_text(line, problems);
        WordLine { syllables: Vec::new() }
    })
}

fn entries(forms: &[EntryForm], findings: &mut Findings<'_>) -> Vec<Entry> {
    forms
        .iter()
        .map(|form| match form {
            EntryForm::Played(played) => entry(played, findings),
            EntryForm::Optional(optional) => Entry::Optional(alternative(optional, findings)),
        })
        .collect()
}

fn alternative(form: &OptionalForm, findings: &mut Findings<'_>) -> Optional {
    Optional {
        name: name(Some(&form.name), findings),
        fuller: entries(&form.fuller, findings),
        instead: entries(&form.instead, findings),
    }
}

fn entry(form: &PlayedForm, findings: &mut Findings<'_>) -> Entry {
    let usual = play(&form.play, None);
    let times: Option<u16> = ranged(form.times.as_ref(), "times", 1..=MAX_TIMES, findings);
    let times = times.unwrap_or(1);
    let mut exceptions: Vec<Exception> = Vec::new();
    for (key, nth) in &form.nth {
        let what = format!("an nth of {times} times");
        // A number that was out of range still gets its place, so that the forms and the exceptions stay in step.
        let on = ranged(Some(key), &what, 1..=i64::from(times), findings).unwrap_or(u16::MAX);
        exceptions.push(Exception { on: Occasion::Nth(on), play: play(nth, Some(&usual)) });
    }
    if let Some(last) = &form.last {
        exceptions.push(Exception { on: Occasion::Last, play: play(last, Some(&usual)) });
    }
    let meter = form.meter.as_ref().and_then(|written| {
        parse_meter(&written.value).map_err(|problems| findings.all_in_text(written, problems)).ok()
    });
    Entry::Played { play: usual, times, exceptions, meter }
}

/// What is played; what an exception leaves out is the usual.
fn play(form: &PlayForm, usual: Option<&Play>) -> Play {
    let pattern = form.pattern.as_ref().map(|pattern| pattern.value.clone());
    let chords = form.chords.as_ref().map(|chords| chords.value.iter().map(|name| chord(&name.value)).collect());
    Play {
        pattern: pattern.or_else(|| usual.map(|usual| usual.pattern.clone())).unwrap_or_default(),
        chords: chords.or_else(|| usual.map(|usual| usual.chords.clone())).unwrap_or_default(),
    }
}

fn chord(name: &str) -> ChordRef {
    if name == NO_CHORD { ChordRef::None } else { ChordRef::Shape(name.to_owned()) }
}
