//! Words of today's plan: what is done, and why, one sentence each.

use sixrung_lesson::{Lesson, Tempo};
use sixrung_practice::today::{Run, What, Why};

use super::path;
use crate::say::chord_name;

/// Heading.
pub const TITLE: &str = "Today";
/// Under it.
pub const LEAD: &str = "How long do you have?";
/// Above the plan.
pub const PLAN: &str = "the plan; press an item to do it sooner";
/// The button that begins.
pub const START: &str = "Begin";
/// Drops the plan.
pub const END: &str = "Play without a plan";
/// On to the next item.
pub const SKIP: &str = "On to the next";
/// Takes an item out.
pub const REMOVE: &str = "leave out";
/// Moves it up.
pub const EARLIER: &str = "earlier";
/// Nothing to plan.
pub const NOTHING: &str = "Everything rests for now. Come back later, or play the song for the joy of it.";
/// With no lesson open.
pub const EMPTY: &str = "Open a lesson, and I plan your minutes with it.";
/// The break's second line.
pub const BREAK_HINT: &str = "put the guitar down, move your shoulders and hands; Space goes on";
/// A break on the sheet.
pub const BREAK_TITLE: &str = "A break";
/// With it.
pub const BREAK_WORDS: &str = "Put the guitar down. Walk, drink, let the arms hang. Space goes on when you are ready.";
/// The plan is done.
pub const DONE: &str = "That was today’s plan. Well used.";
/// Its second line.
pub const DONE_HINT: &str = "sleep does some of the rest; tomorrow it is checked";
/// After a run at the original tempo.
pub const RUN_HEADLINE: &str = "That was the song at its own tempo.";
/// With it.
pub const RUN_DETAIL: &str = "I did not judge it: this one is for the feel of where you are going.";

/// A break of so many minutes.
#[must_use]
pub fn break_now(minutes: u16) -> String {
    format!("Break: {minutes} minutes.")
}

/// Minutes to choose.
#[must_use]
pub fn minutes(minutes: u16) -> String {
    format!("{minutes} min")
}

/// An item's minutes.
#[must_use]
pub fn item(minutes: u16, what: &str) -> String {
    format!("{minutes} min · {what}")
}

/// Where in the plan one is.
#[must_use]
pub fn place(number: usize, of: usize, left: u32) -> String {
    format!("{number} of {of} · {left} min left")
}

fn bpm(tempo: Tempo) -> String {
    crate::session::bpm_text(tempo)
}

fn section(index: usize, lesson: &Lesson) -> String {
    lesson.sections.get(index).map(|section| section.name.clone()).unwrap_or_default()
}

fn days(days: i64) -> String {
    match days {
        0 => "earlier today".to_owned(),
        1 => "yesterday".to_owned(),
        days => format!("{days} days ago"),
    }
}

fn times(times: u16) -> String {
    match times {
        1 => "once".to_owned(),
        2 => "twice".to_owned(),
        times => format!("{times} times"),
    }
}

/// What is done.
#[must_use]
pub fn what(what: &What, lesson: &Lesson) -> String {
    use sixrung_practice::today::WarmUp;
    match what {
        What::WarmUp { section: index, how: WarmUp::OneStroke } => {
            format!("Warm up: {}, one stroke where each chord starts", section(*index, lesson))
        }
        What::WarmUp { section: index, how: WarmUp::Slow(rung) } => {
            format!("Warm up: {} at {}", section(*index, lesson), bpm(*rung))
        }
        What::Recheck { section: index, rung } => format!("Check again: {} at {}", section(*index, lesson), bpm(*rung)),
        What::Climb { section: index } => format!("{}: Climb", section(*index, lesson)),
        What::Step { step, .. } | What::Rotate { step, .. } if step.is_whole() => {
            format!("The whole song: {}", path::name(*step))
        }
        What::Step { section: index, step } => format!("{}: {}", section(*index, lesson), path::name(*step)),
        What::Song(step) => format!("The whole song: {}", path::name(*step)),
        What::Change { from, into } => format!("The change {} – {}", chord_name(from), chord_name(into)),
        What::Rotate { section: index, step } => format!("{}: {}", section(*index, lesson), path::name(*step)),
        What::RunAtTempo(Run::Whole) => "The song at its own tempo, not judged".to_owned(),
        What::RunAtTempo(Run::Section(index)) => {
            format!("{} once at the song’s own tempo, not judged", section(*index, lesson))
        }
        What::ReplayFirst { section: index, rung } => {
            format!("At the end: {} at {}", section(*index, lesson), bpm(*rung))
        }
        What::Break => "Break: put the guitar down".to_owned(),
    }
}

/// Why it is there.
#[must_use]
pub fn why(why: &Why, lesson: &Lesson) -> String {
    match why {
        Why::EasyAndKnown { .. } => "You know it, and it is easy: the hands come first.".to_owned(),
        Why::WaitsToBeHeld { rung, days: since } => {
            format!("It was clean at {} {}. Clean at first try today, and it is held.", bpm(*rung), days(*since))
        }
        Why::MostToGain { known: Some(known), original, times: often, .. } => format!(
            "You know it up to {} of {}, and the song plays it {}: here is most to gain.",
            bpm(*known),
            bpm(*original),
            times(*often)
        ),
        Why::MostToGain { known: None, times: often, .. } => {
            format!("It is begun, and the song plays it {}: here is most to gain.", times(*often))
        }
        Why::FirstOfAll { times: often } => format!("The song plays it {}: a good place to begin.", times(*often)),
        Why::NextStep { after } => format!("Next step after {}.", path::name(*after)),
        Why::SectionsStand { sections } => match sections {
            1 => "The section stands: now the song.".to_owned(),
            _ => "All sections stand: now the song.".to_owned(),
        },
        Why::ChangeTooSlow { median_s, fits, needs, .. } => {
            format!("It takes you {median_s:.1} s. That fits up to {}; you are at {}.", bpm(*fits), bpm(*needs))
        }
        Why::ChangeNotMeasured { section: index, times: often } => {
            let often = times(*often);
            format!(
                "The hardest change of {}, {often} in each pass. I have not heard it alone yet.",
                section(*index, lesson)
            )
        }
        Why::SectionsRest => "The sections rest, but a change can be practised now.".to_owned(),
        Why::Rotation { .. } => "Another section in between keeps the hands awake.".to_owned(),
        Why::NewSection { times: often } => {
            format!("There is time for a new part. The song plays it {}.", times(*often))
        }
        Why::KeepUp { days: Some(since) } => format!("It stands. You last played it {}: keep it so.", days(*since)),
        Why::KeepUp { days: None } => "It stands: keep it so.".to_owned(),
        Why::Again { .. } => "Once more, now that something else came between.".to_owned(),
        Why::NowAndThen { .. } => "Now and then, hear and feel where you are going.".to_owned(),
        Why::LearnedFirst => {
            "What you learned first is played last, so that what came after does not cover it.".to_owned()
        }
        Why::PlayedLong { minutes } => format!("After {minutes} minutes the hands want a rest."),
    }
}
