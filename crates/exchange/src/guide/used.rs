//! Which sections, shapes and patterns an arrangement plays.

use sixrung_lesson::{Arrangement, ChordRef, Entry, Lesson, Meter, Pattern, Play, Section, Shape};

/// An entry that is played, options decided.
pub(super) struct Played<'a> {
    pub(super) entry: &'a Entry,
    pub(super) play: &'a Play,
    /// Its ending, from 1; 0 before any.
    pub(super) ending: usize,
    /// The options that decided on it, the outermost first, and whether each is taken in.
    pub(super) options: Vec<(&'a str, bool)>,
}

/// The sections of the form, each once, in the order they come.
pub(super) fn sections(lesson: &Lesson) -> Vec<&Section> {
    let mut found: Vec<&Section> = Vec::new();
    for section in lesson.form.iter().filter_map(|name| lesson.section(name)) {
        if !found.iter().any(|known| known.name == section.name) {
            found.push(section);
        }
    }
    found
}

/// A section's entries as the arrangement plays them.
pub(super) fn entries<'a>(section: &'a Section, arrangement: &Arrangement) -> Vec<Played<'a>> {
    let mut found = Vec::new();
    collect(&section.entries, arrangement, (0, &[]), &mut found);
    for (ending, entries) in (1..).zip(&section.endings) {
        collect(entries, arrangement, (ending, &[]), &mut found);
    }
    found
}

fn collect<'a>(
    entries: &'a [Entry],
    arrangement: &Arrangement,
    (ending, options): (usize, &[(&'a str, bool)]),
    found: &mut Vec<Played<'a>>,
) {
    for entry in entries {
        match entry {
            Entry::Played { play, .. } => found.push(Played { entry, play, ending, options: options.to_vec() }),
            Entry::Optional(optional) => {
                let is_taken = arrangement.options.contains(&optional.name);
                let inside = [options, &[(optional.name.as_str(), is_taken)]].concat();
                let entries = if is_taken { &optional.fuller } else { &optional.instead };
                collect(entries, arrangement, (ending, &inside), found);
            }
        }
    }
}

/// Everything played anywhere in the form: what an entry usually plays, then its exceptions, and in which meter.
fn plays<'a>(lesson: &'a Lesson, arrangement: &Arrangement) -> Vec<(&'a Play, Meter)> {
    let mut found = Vec::new();
    for played in sections(lesson).into_iter().flat_map(|section| entries(section, arrangement)) {
        if let Entry::Played { play, exceptions, meter, .. } = played.entry {
            let meter = meter.unwrap_or(lesson.meter);
            found.push((play, meter));
            found.extend(exceptions.iter().map(|exception| (&exception.play, meter)));
        }
    }
    found
}

/// The patterns played, each once, in the order they come, with the meter of their bars.
pub(super) fn patterns<'a>(lesson: &'a Lesson, arrangement: &Arrangement) -> Vec<(&'a Pattern, Meter)> {
    let mut found: Vec<(&Pattern, Meter)> = Vec::new();
    for (play, meter) in plays(lesson, arrangement) {
        let Some(pattern) = lesson.pattern(&play.pattern) else { continue };
        if !found.iter().any(|(known, _)| known.name == pattern.name) {
            found.push((pattern, meter));
        }
    }
    found
}

/// The shapes asked for, each once, in the order they come.
pub(super) fn shapes<'a>(lesson: &'a Lesson, arrangement: &Arrangement) -> Vec<&'a Shape> {
    let mut found: Vec<&Shape> = Vec::new();
    for chord in plays(lesson, arrangement).into_iter().flat_map(|(play, _)| &play.chords) {
        let ChordRef::Shape(name) = chord else { continue };
        let Some(shape) = lesson.shape(name) else { continue };
        if !found.iter().any(|known| known.name == shape.name) {
            found.push(shape);
        }
    }
    found
}

/// What a chord is called where it is played: its stand-in's name where the arrangement takes stand-ins.
pub(super) fn played_name(lesson: &Lesson, chord: &ChordRef, arrangement: &Arrangement) -> String {
    let ChordRef::Shape(name) = chord else { return sixrung_drawing::NO_CHORD.to_owned() };
    let stand_in = lesson.shape(name).and_then(|shape| shape.stand_in.as_ref()).filter(|_| arrangement.stand_ins);
    sixrung_drawing::chord_name(stand_in.unwrap_or(name))
}
