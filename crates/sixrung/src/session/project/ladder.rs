//! The ladder with its rungs and pegs.

use sixrung_lesson::Tempo;
use sixrung_practice::{Climb, Step};

use crate::say;
use crate::stand::{LadderView, RungState, RungView};
use crate::text::path;

/// The climb as the ladder shows it.
///
/// Only the step of climbing collects pegs; elsewhere the rungs are there to choose from.
pub(crate) fn ladder(climb: &Climb, step: Step) -> LadderView {
    let rungs = climb.ladder().rungs();
    let current = rungs.iter().position(|rung| *rung == climb.at()).unwrap_or(0);
    let is_climb = step == Step::Climb;
    let pegs_total = if is_climb { u32::from(climb.pegs_needed()) } else { 0 };
    let pegs_filled = u32::from(climb.state().pegs).min(pegs_total);
    let above = climb.ladder().above(climb.at());
    let sentence = if is_climb {
        say::to_climb(pegs_total - pegs_filled, above.map(bpm))
    } else {
        path::tempo(step, climb.at() == climb.ladder().last()).to_owned()
    };
    LadderView {
        rungs: rungs.iter().map(|rung| rung_view(climb, *rung)).collect(),
        current,
        pegs_filled,
        pegs_total,
        sentence,
    }
}

fn rung_view(climb: &Climb, rung: Tempo) -> RungView {
    let state = match climb.state().held(rung) {
        Some(_) => RungState::Held,
        None if climb.state().is_known(rung) => RungState::Known,
        None => RungState::Ahead,
    };
    RungView { bpm: bpm(rung), percent: climb.ladder().percent(rung), state }
}

/// A tempo as printed: whole where it is whole.
pub(crate) fn bpm(tempo: Tempo) -> String {
    let milli = tempo.milli_bpm();
    if milli.is_multiple_of(1000) { format!("{}", milli / 1000) } else { format!("{:.1}", tempo.bpm()) }
}
