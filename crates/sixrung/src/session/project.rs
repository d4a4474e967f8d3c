//! From the session's state to what the sheet shows: pure functions of a stage and a place in it.

mod bars;
mod chords;
mod ladder;
mod result;
mod words;

pub(crate) use bars::{map, strips};
pub(crate) use chords::{chord, chords};
pub(crate) use ladder::{bpm, ladder};
pub(crate) use result::{begins_s, result};
pub(crate) use words::words;
