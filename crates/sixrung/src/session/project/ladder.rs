//! The ladder with its rungs and pegs.

use sixrung_lesson::Tempo;
use sixrung_practice::Climb;

use crate::say;
use crate::stand::{LadderView, RungState, RungView};

/// The climb as the ladder shows it.
pub(crate) fn ladder(climb: &Climb) -> LadderView {
    let rungs = climb.ladder().rungs();
    let current = rungs.iter().position(|rung| *rung == climb.at()).unwrap_or(0);
    let pegs_total = u32::from(climb.pegs_needed());
    let pegs_filled = u32::from(climb.state().pegs).min(pegs_total);
    let above = climb.ladder().above(climb.at());
    LadderView {
        rungs: rungs.iter().map(|rung| rung_view(climb, *rung)).collect(),
        current,
        pegs_filled,
        pegs_total,
        sentence: say::to_climb(pegs_total - pegs_filled, above.map(bpm)),
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
