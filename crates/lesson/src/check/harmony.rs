//! Harmony: what a shape sounds against what it is called. The teacher's name always wins, so these are warnings.

use crate::build::Draft;
use crate::chord::{ChordSymbol, Tone};
use crate::diagnostic::Severity;
use crate::file::v1::{LessonForm, PlayForm, ShapeForm};
use crate::findings::{Findings, TextProblem};
use crate::pattern::Action;
use crate::section::{ChordRef, Entry, Play, Section};
use crate::shape::Shape;
use crate::text::frets::pieces;
use crate::tuning::Tuning;

pub(super) fn check(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    if let Some(tuning) = &draft.tuning {
        for (form, shape) in form.shapes.iter().zip(&draft.shapes) {
            let Some(shape) = shape else { continue };
            // What follows a blank is the teacher's remark, as in "D high"; what is no chord symbol is not judged.
            let named = shape.name.split(' ').next().and_then(ChordSymbol::parse);
            if let Some(symbol) = named {
                Sounding::of(shape, tuning).check(form, &symbol, findings);
            }
        }
    }
    silent_strums(form, draft, findings);
}

/// One string that sounds.
#[derive(Clone, Copy)]
struct Sound {
    /// Index in written order.
    string: usize,
    key: u8,
    class: u8,
}

struct Sounding<'s> {
    shape: &'s Shape,
    tuning: &'s Tuning,
    /// By pitch, lowest first.
    sounds: Vec<Sound>,
}

impl<'s> Sounding<'s> {
    /// What the shape sounds without its capo, as its name means it.
    fn of(shape: &'s Shape, tuning: &'s Tuning) -> Self {
        let pitches = shape.pitches(tuning, 0).into_iter().enumerate();
        let mut sounds: Vec<Sound> = pitches
            .filter_map(|(string, pitch)| Some(Sound { string, key: pitch?.0, class: pitch?.class() }))
            .collect();
        sounds.sort_by_key(|sound| sound.key);
        Self { shape, tuning, sounds }
    }

    fn check(&self, form: &ShapeForm, symbol: &ChordSymbol, findings: &mut Findings<'_>) {
        let Some(lowest) = self.sounds.first() else { return };
        let bass_matters = self.tuning.open().is_sorted();
        let wrong_bass = bass_matters && lowest.class != symbol.lowest_class();
        if wrong_bass {
            self.warn_at(*lowest, self.bass_problem(*lowest, symbol), form, findings);
        }
        let classes = symbol.classes();
        for sound in self.sounds.iter().skip(usize::from(wrong_bass)) {
            if !classes.contains(&sound.class) {
                let note = symbol.spell(sound.class);
                let message =
                    format!("string {} sounds {note}, which is not in {}", self.number(*sound), self.shape.name);
                let hint = format!("{}; the teacher's name stands", spelled(symbol));
                self.warn_at(*sound, ("foreign-note", message, hint), form, findings);
            }
        }
        let Some(name) = &form.name else { return };
        let missing: Vec<Tone> = symbol
            .tones()
            .into_iter()
            .filter(|tone| tone.needed && self.sounds.iter().all(|sound| sound.class != symbol.class_of(*tone)))
            .collect();
        for tone in missing {
            let note = symbol.spell(symbol.class_of(tone));
            let message = format!("no string sounds {note}, the {} of {}", ordinal(tone.degree), self.shape.name);
            let hint = format!("{}; the teacher's name stands", spelled(symbol));
            findings.warn(name.span, "missing-tone", message, hint);
        }
    }

    fn bass_problem(&self, lowest: Sound, symbol: &ChordSymbol) -> (&'static str, String, String) {
        let note = symbol.spell(lowest.class);
        let wanted = symbol.bass.unwrap_or(symbol.root);
        let number = self.number(lowest);
        let message = format!("the lowest string that sounds, string {number}, is {note}, not {wanted}");
        let below: Vec<String> = self
            .sounds
            .iter()
            .take_while(|sound| sound.class != symbol.lowest_class())
            .map(|sound| self.number(*sound).to_string())
            .collect();
        let plain = self.shape.name.split([' ', '/']).next().unwrap_or_default();
        // With no string to rest on, muting would silence them all.
        let mute = if below.len() < self.sounds.len() {
            format!("mute string{} {} or ", if below.len() > 1 { "s" } else { "" }, below.join(" and "))
        } else {
            String::new()
        };
        let name = if lowest.class == symbol.root.class() { plain.to_owned() } else { format!("{plain}/{note}") };
        ("bass-note", message, format!("{mute}name it {name}; the teacher's name stands"))
    }

    fn warn_at(
        &self,
        sound: Sound,
        (code, message, hint): (&'static str, String, String),
        form: &ShapeForm,
        findings: &mut Findings<'_>,
    ) {
        let Some(frets) = &form.frets else { return };
        let (from, piece) = pieces(&frets.value)[sound.string];
        let to = from + piece.chars().count();
        findings.in_text(Severity::Warning, frets, TextProblem { code, message, hint, from, to });
    }

    fn number(&self, sound: Sound) -> usize {
        self.tuning.number(sound.string)
    }
}

/// `its notes are D F# A`
fn spelled(symbol: &ChordSymbol) -> String {
    let notes = symbol.tones().into_iter().map(|tone| symbol.spell(symbol.class_of(tone)).to_string());
    format!("its notes are {}", notes.collect::<Vec<_>>().join(" "))
}

fn ordinal(degree: u8) -> String {
    match degree {
        1 => "root".to_owned(),
        2 => "2nd".to_owned(),
        3 => "3rd".to_owned(),
        other => format!("{other}th"),
    }
}

/// Strums where there is no chord to strum; chucks are fine there.
fn silent_strums(form: &LessonForm, draft: &Draft, findings: &mut Findings<'_>) {
    for (section_form, section) in form.sections.iter().zip(&draft.sections) {
        let mut plays = Vec::new();
        section_plays(section, &mut plays);
        let forms = section_form.all_played();
        for (play_form, play) in forms.iter().flat_map(|form| form.plays()).zip(plays) {
            silent_strum(play_form, play, draft, findings);
        }
    }
}

fn silent_strum(form: &PlayForm, play: &Play, draft: &Draft, findings: &mut Findings<'_>) {
    let Some(pattern) = draft.pattern(&play.pattern) else { return };
    let mut chords = play.chords.iter();
    let mut chord = chords.next();
    for stroke in &pattern.strokes {
        if stroke.changes {
            chord = chords.next();
        }
        if chord == Some(&ChordRef::None) && matches!(stroke.action, Action::Strum | Action::Bass) {
            let span = form.chords.as_ref().map_or(form.span, |chords| chords.span);
            let message = format!("\"{}\" strums where there is no chord", pattern.name);
            findings.warn(span, "strum-without-chord", message, "take a pattern of - . X or S for N.C.");
            return;
        }
    }
}

/// Every play of a section in the order its forms give them.
fn section_plays<'s>(section: &'s Section, plays: &mut Vec<&'s Play>) {
    entry_plays(&section.entries, plays);
    section.endings.iter().for_each(|ending| entry_plays(ending, plays));
}

fn entry_plays<'s>(entries: &'s [Entry], plays: &mut Vec<&'s Play>) {
    for entry in entries {
        match entry {
            Entry::Played { play, exceptions, .. } => {
                plays.push(play);
                plays.extend(exceptions.iter().map(|exception| &exception.play));
            }
            Entry::Optional(optional) => {
                entry_plays(&optional.fuller, plays);
                entry_plays(&optional.instead, plays);
            }
        }
    }
}
