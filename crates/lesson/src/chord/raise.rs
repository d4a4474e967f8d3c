//! Names of chords as a capo makes them sound.

use super::{ChordSymbol, Note};
use crate::pitch::Pitch;

/// The name `semitones` higher, as the capo makes it sound; `None` when the name is no chord symbol.
#[must_use]
pub fn raised_name(written: &str, semitones: u8) -> Option<String> {
    let symbol = ChordSymbol::parse(written)?;
    let raised = |note: Note| Pitch(note.class() + semitones).class_name();
    let plain = written.replace('♭', "b").replace('♯', "#");
    let rest = plain.strip_prefix(&symbol.root.to_string())?;
    let Some(bass) = symbol.bass else { return Some(format!("{}{rest}", raised(symbol.root))) };
    let kind = rest.strip_suffix(&format!("/{bass}"))?;
    Some(format!("{}{kind}/{}", raised(symbol.root), raised(bass)))
}
