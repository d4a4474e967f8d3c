//! Words of the line at the bottom: what can be done, and by which key.

use crate::stand::{HearingState, Note, Pause, Phase, StandView};

/// Words of the forward control.
#[must_use]
pub const fn forward_label(view: &StandView) -> &'static str {
    match view.phase {
        Phase::Idle | Phase::ListenFirst => "Start",
        // Between passes the next one begins by itself.
        // Who has heard enough goes on to play.
        Phase::CountIn { .. } if view.listens => "Start",
        Phase::CountIn { .. } | Phase::Playing | Phase::Between => "Pause",
        Phase::SelfMark => "Again",
        Phase::AskHands => "Fine",
        Phase::Paused(Pause::Hurts | Pause::HurtBefore) => "Stopped",
        Phase::Paused(_) if view.proposal.is_some() => "As proposed",
        Phase::Paused(Pause::Asked | Pause::Rest | Pause::Break) => "Go on",
        Phase::Paused(Pause::OutputLost | Pause::InputLost) => "Try again",
    }
}

/// While they would.
const STROKES_START: &str = "four muted strokes start";

/// The keys beside the forward control.
#[must_use]
pub fn hint(view: &StandView) -> String {
    let first = "hear it first L";
    match view.phase {
        Phase::CountIn { .. } | Phase::ListenFirst if view.listens => "Space · listen, then play".to_owned(),
        Phase::CountIn { beat, of } => format!("Space · counting in, {beat} of {of}"),
        Phase::Playing => "Space · slower − faster +".to_owned(),
        Phase::ListenFirst => "Space · listen, then play".to_owned(),
        Phase::SelfMark => "Space · clean M · not clean N".to_owned(),
        Phase::AskHands => "Space".to_owned(),
        Phase::Paused(Pause::Hurts | Pause::HurtBefore) => "all you played is kept".to_owned(),
        Phase::Between => "Space · goes on by itself".to_owned(),
        Phase::Idle | Phase::Paused(_) if view.strokes_start => format!("Space · {STROKES_START} · {first}"),
        Phase::Idle | Phase::Paused(_) if view.proposal.is_some() => format!("Space · {first}"),
        Phase::Idle if view.is_new => "Space · I play these bars, then you do".to_owned(),
        Phase::Idle => format!("Space · {first} · what the signs mean I"),
        Phase::Paused(_) => format!("Space · {first}"),
    }
}

/// A word above the chord, where it is not simply the chord now.
#[must_use]
pub const fn phase_label(view: &StandView) -> &'static str {
    match &view.phase {
        Phase::CountIn { .. } if view.listens => "listen first",
        Phase::Playing => super::NOW,
        Phase::ListenFirst => "now, just listen",
        Phase::Idle | Phase::Between | Phase::CountIn { .. } | Phase::SelfMark | Phase::AskHands | Phase::Paused(_) => {
            super::FIRST
        }
    }
}

/// The title as a control.
#[must_use]
pub fn title_name(title: &str) -> String {
    format!("{title}, choose a lesson")
}

/// The line under it as a control.
#[must_use]
pub fn where_name(words: &str) -> String {
    format!("{words}, choose section and arrangement")
}

/// A note as a control.
#[must_use]
pub fn note_name(note: &Note) -> String {
    format!("{} {} Press to put it away.", note.text, note.hint)
}

/// The word beside the meter as a control.
#[must_use]
pub fn hearing_name(state: HearingState) -> String {
    format!("{}, sound settings", super::hearing(state))
}
