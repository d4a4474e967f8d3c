//! What is remembered of a climb: plain data, stored by the journal and taken up again.

use std::collections::BTreeMap;

use sixrung_lesson::Tempo;

use super::input::Marked;
use crate::moment::Moment;
use crate::policy::Start;

/// All that is remembered of one climb.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClimbState {
    /// The rung the player stands on.
    pub at: Tempo,
    /// What the player is about.
    pub mode: Mode,
    /// Clean passes in a row on this rung.
    pub pegs: u8,
    /// Passes not clean in a row on this rung.
    pub not_clean: u8,
    /// Rungs put in between, rising.
    pub half_rungs: Vec<Tempo>,
    /// The half-rung proposed and not yet taken.
    pub offered: Option<Tempo>,
    /// What is known of each rung that was ever played.
    pub rungs: BTreeMap<Tempo, RungRecord>,
    /// When the last counted pass ended.
    pub last_pass: Option<Moment>,
    /// Whether the step back of a new day was taken since that pass.
    pub stepped_back: bool,
    /// Counts since the sitting began or the section last rested.
    pub tally: Tally,
    /// Counts at the original tempo today.
    pub top: TopOfDay,
}

/// What the player is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Mode {
    /// Finding the rung to start from.
    Probing,
    /// Checking known rungs again, one clean pass each.
    Rechecking,
    /// Climbing.
    Climbing,
}

/// What is known of one rung.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct RungRecord {
    /// When it was last played.
    pub last_played: Moment,
    /// Whether it was ever climbed.
    pub known: bool,
    /// Falls here since it was last climbed.
    pub falls: u8,
    /// Since when it is held.
    pub held: Option<Held>,
}

/// That a rung is held.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Held {
    /// When it was first held.
    pub at: Moment,
    /// Who says so. Once heard it stays heard.
    pub marked: Marked,
}

/// Counts since the sitting began or the section last rested.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Tally {
    /// Passes that were judged.
    pub passes: u8,
    /// Falls, and rows of passes not clean on the first rung.
    pub falls: u8,
    /// The last few passes, oldest first: whether each was clean.
    pub recent: Vec<bool>,
}

/// Counts at the original tempo on one day.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TopOfDay {
    /// Clean passes.
    pub clean: u16,
    /// How many of them it took to arrive, once arrived.
    pub arrived_after: Option<u16>,
}

impl ClimbState {
    pub(super) fn new(first: Tempo, start: Start) -> Self {
        Self {
            at: first,
            mode: match start {
                Start::First => Mode::Climbing,
                Start::Probe => Mode::Probing,
            },
            pegs: 0,
            not_clean: 0,
            half_rungs: Vec::new(),
            offered: None,
            rungs: BTreeMap::new(),
            last_pass: None,
            stepped_back: false,
            tally: Tally::default(),
            top: TopOfDay::default(),
        }
    }

    /// Whether a rung was ever climbed.
    #[must_use]
    pub fn is_known(&self, rung: Tempo) -> bool {
        self.rungs.get(&rung).is_some_and(|record| record.known)
    }

    /// Since when a rung is held, and by whose word.
    #[must_use]
    pub fn held(&self, rung: Tempo) -> Option<Held> {
        self.rungs.get(&rung).and_then(|record| record.held)
    }

    pub(super) fn stand_on(&mut self, rung: Tempo) {
        self.at = rung;
        self.pegs = 0;
        self.not_clean = 0;
    }
}
