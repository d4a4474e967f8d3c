//! Every word the player reads, in one place: plain, warm, short, ready for translation.
//!
//! No exclamation marks; the player is never blamed: "not judged" is not "wrong".

pub mod again;
pub mod calibrate;
pub mod care;
pub mod changes;
pub mod chords;
pub mod controls;
pub mod elsewhere;
pub mod guide;
pub mod guide_page;
pub mod hand_over;
pub mod journal;
pub mod mix;
pub mod pages;
pub mod path;
pub mod report;
pub mod shapes;
pub mod signs;
pub mod song;
pub mod spoken;

pub mod today;

pub use sixrung_drawing::stroke_letter;

pub use controls::{forward_label, hint, phase_label};
pub use spoken::{ladder_name, map_name, plot_name, rung_name};

use sixrung_listen::StringFault;

use crate::stand::{HearingState, PlaceView};

/// Name of the stretch that is everything.
pub const WHOLE_PIECE: &str = "Whole piece";
/// Above the ladder.
pub const TEMPO: &str = "tempo";
/// Above the plot's line.
pub const LATE: &str = "late";
/// Below the plot's line.
pub const EARLY: &str = "early";
/// Above the chord that sounds.
pub const NOW: &str = "now";
/// Above the chord that comes first, while nothing sounds yet.
pub const FIRST: &str = "first";
/// Above the coming chord.
pub const NEXT: &str = "next";
/// Above the chord after it.
pub const THEN: &str = "then";
/// Before the seconds until the part is played first.
pub const PLAYED_IN: &str = "I play it first, in";
/// Before the seconds until the next pass comes by itself.
pub const GOES_ON_IN: &str = "goes on in";
/// After a few bars of a section were climbed.
pub const BARS_CLIMBED: &str = "These bars go. Now with all the others.";
/// Where a title stands when nothing is open.
pub const PROGRAM: &str = "Sixrung";
/// The stand with no lesson on it.
pub const EMPTY_TITLE: &str = "Nothing on the stand yet";
/// What the stand will show.
pub const EMPTY_WORDS: &str =
    "A lesson will lie here: its chords, its strokes, its words, and beside it a ladder of tempi to climb.";
/// The one thing that starts it.
pub const EMPTY_BUTTON: &str = "Choose a lesson";
/// Asks the player about the pass.
pub const MARK_TITLE: &str = "How was it?";
/// Why the player is asked.
pub const MARK_WORDS: &str = "There is no microphone, so you say. Clean means in time and sounding, start to end.";
/// The pass was clean.
pub const MARK_CLEAN: &str = "Clean";
/// It was not.
pub const MARK_NOT_CLEAN: &str = "Not clean yet";
/// The fader of the click.
pub const CLICK: &str = "click";
/// The fader of the guitar.
pub const GUITAR: &str = "guitar";
/// At the very first start, once. No program can know how loud a room is.
pub const CAUTION: &str = "Start low: I can’t know how loud it is.";
/// With it: the usual caution.
pub const CAUTION_HINT: &str = "Stop at pain, numbness or tingling.";
/// The fader of everything.
pub const MASTER: &str = "master";

/// The line under the title: `Verse · bars 1–8 · plain, Bm7 for Bm`.
#[must_use]
pub fn where_line(place: &PlaceView) -> String {
    let bars = place.bars.map(|(first, last)| match first == last {
        true => format!("bar {first}"),
        false => format!("bars {first}–{last}"),
    });
    let parts = [Some(place.section.clone()), bars, Some(place.arrangement.clone())];
    parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" · ")
}

/// How long it still is until the next chord.
#[must_use]
pub fn in_beats(beats: u32) -> String {
    match beats {
        0 => "now".to_owned(),
        1 => "in 1 beat".to_owned(),
        _ => format!("in {beats} beats"),
    }
}

/// The same from afar, in one line with its label.
#[must_use]
pub fn next_in(beats: u32) -> String {
    format!("next, {beats} beats")
}

/// A bar of the map.
#[must_use]
pub fn bar(number: u32) -> String {
    format!("bar {number}")
}

/// Per cent of the original tempo.
#[must_use]
pub fn percent(percent: u32) -> String {
    format!("{percent} %")
}

/// Beside a diagram that does not begin at the nut.
#[must_use]
pub fn fret(fret: u8) -> String {
    format!("fr {fret}")
}

/// Beside a diagram's nut.
#[must_use]
pub fn capo(fret: u8) -> String {
    format!("capo {fret}")
}

/// What a shape sounds with the capo.
#[must_use]
pub fn sounds(name: &str) -> String {
    format!("sounds {name}")
}

/// Which harder chord a shape stands in for.
#[must_use]
pub fn stands_in(name: &str) -> String {
    format!("for {name}")
}

/// Under a span of the plot where another chord was heard.
#[must_use]
pub fn heard_instead(name: &str) -> String {
    format!("heard {name}")
}

/// What is wrong with a string, in a word or two.
#[must_use]
pub const fn string_fault(fault: StringFault) -> &'static str {
    match fault {
        StringFault::Dead => "dead",
        StringFault::WrongFret => "another note",
        StringFault::ShouldBeMuted => "not silent",
    }
}

/// What the microphone gives, in a word or three.
#[must_use]
pub const fn hearing(state: HearingState) -> &'static str {
    match state {
        HearingState::NoMicrophone => "no microphone",
        HearingState::Listening => "listening",
        HearingState::HearsYou => "hears you",
        HearingState::CannotHear => "I can’t hear you",
        HearingState::TooLoud => "too loud",
    }
}

/// Minutes played today.
#[must_use]
pub fn minutes(minutes: u32) -> String {
    format!("{minutes} min playing")
}

/// How many more notes there are than the one shown.
#[must_use]
pub fn more_notes(more: usize) -> String {
    format!("and {more} more")
}
