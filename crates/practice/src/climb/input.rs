//! What can happen to a climb.

use sixrung_lesson::Tempo;
use sixrung_listen::Verdict;

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Input {
    /// The section was put on the stand. On a new day this steps back and starts re-checking.
    Open,
    /// A pass ended.
    Pass(Pass),
    /// A run at the original tempo that nobody judged has ended. It counts as played there, so that the next clean pass
    /// at that rung is no first try, and moves nothing.
    Run,
    /// The player chose a rung by hand.
    Move(Move),
    /// The player took the half-rung that was proposed.
    TakeHalfRung,
}

/// A pass as the ladder sees it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pass {
    /// The tempo it was played at. At any other than the present rung it counts as played, but moves nothing.
    pub tempo: Tempo,
    /// Its outcome.
    pub verdict: Verdict,
    /// Who says so.
    pub marked: Marked,
}

/// Who judged a pass.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Marked {
    /// The program heard it.
    Heard,
    /// The player marked it. It counts all the same, but is told apart wherever it is shown.
    ByPlayer,
}

/// A choice of rung by hand. What leads past either end of the ladder stays at its end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Move {
    /// One rung down.
    Slower,
    /// One rung up, its clean passes skipped.
    Faster,
    /// The rung at this tempo, or the nearest slower one.
    To(Tempo),
}
