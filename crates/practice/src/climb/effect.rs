//! What a climb answers.

use sixrung_lesson::Tempo;

use super::input::Marked;

/// What follows from an input. Texts are made by whoever shows it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Effect {
    /// One more clean pass in a row.
    PegAdded {
        /// Clean passes in a row now.
        pegs: u8,
        /// How many climb.
        needed: u8,
    },
    /// The clean row is broken.
    PegsCleared,
    /// One rung up.
    Climbed {
        /// From this rung.
        from: Tempo,
        /// To this one.
        to: Tempo,
    },
    /// One rung down.
    Fell {
        /// From this rung.
        from: Tempo,
        /// To this one.
        to: Tempo,
    },
    /// The rung was clean at first try, long enough after it was last played.
    Held {
        /// The rung.
        rung: Tempo,
        /// Who says so.
        marked: Marked,
    },
    /// The original tempo is clean: the section stands. At most once a day.
    Arrived,
    /// A new day begins at a lower rung, to be checked again.
    SteppedBack {
        /// The rung of the day before.
        from: Tempo,
        /// The rung of today.
        to: Tempo,
    },
    /// The player chose another rung.
    Moved {
        /// From this rung.
        from: Tempo,
        /// To this one.
        to: Tempo,
    },
    /// More of the same will not help: offer these, best first. Nothing is done unless the player takes one.
    Propose(Vec<Proposal>),
    /// Enough of this section for now: go on with another. Playing on is allowed, and counted afresh.
    RestSection(RestReason),
    /// A half-rung was put in.
    HalfRungAdded(Tempo),
}

/// Something else to try.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Proposal {
    /// Loop the worst one or two bars; [`crate::worst_bars`] names them.
    LoopWorstBars,
    /// Put in a rung at this tempo, between the one that is too fast and the one below.
    HalfRung(Tempo),
    /// Take the easier shapes, if the lesson has any.
    StandIn,
}

/// Why a section should rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestReason {
    /// So many passes were played.
    Passes(u8),
    /// So many falls happened.
    Falls(u8),
    /// Too few of the last passes were clean.
    LittleSuccess {
        /// Clean ones.
        clean: u8,
        /// Of so many.
        of: u8,
    },
    /// The original tempo is clean and has been played enough today.
    Enough {
        /// Clean passes at the original tempo today.
        clean: u16,
    },
}
