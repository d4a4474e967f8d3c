//! What a plan is made from.

use sixrung_lesson::Tempo;

use crate::climb::{ClimbState, RestReason};
use crate::ladder::Ladder;
use crate::moment::{Moment, UtcOffset};
use crate::policy::{BreakRules, Policy};
use crate::step::StepsDone;

/// All that a plan for today is made from.
#[derive(Clone, Debug, PartialEq)]
pub struct TodayRequest {
    /// Minutes wanted, breaks included; taken into [`Self::MINUTES`].
    pub minutes: u16,
    /// When the practice begins.
    pub now: Moment,
    /// Where a day ends.
    pub zone: UtcOffset,
    /// The rules of the climb.
    pub policy: Policy,
    /// The rules of breaks and rests.
    pub breaks: BreakRules,
    /// Seconds already played since the last break ([`crate::Sitting::since_break_s`]; 0 after a pause).
    pub since_break_s: u32,
    /// The sections of the lesson, each once, in the lesson's order.
    pub sections: Vec<SectionToday>,
    /// The chord changes of the lesson.
    pub changes: Vec<ChangeToday>,
    /// The section that was learned first; where none is given, the first that the plan works on.
    pub first_learned: Option<usize>,
    /// The song as a whole.
    pub song: SongToday,
    /// Passes since the last unjudged run at the original tempo.
    pub passes_since_run: u16,
}

impl TodayRequest {
    /// The minutes that can be planned.
    pub const MINUTES: std::ops::RangeInclusive<u16> = 5..=120;
}

/// One section, as it stands before practice.
#[derive(Clone, Debug, PartialEq)]
pub struct SectionToday {
    /// Its index in the lesson.
    pub section: usize,
    /// Its ladder, without half-rungs: those are in `climb`.
    pub ladder: Ladder,
    /// Its climb, where it was ever opened.
    pub climb: Option<ClimbState>,
    /// Beats of one pass, in the beats that tempi count.
    pub beats: f64,
    /// How many times the song plays it.
    pub times: u16,
    /// The steps that are behind the learner.
    pub steps: StepsDone,
    /// That it was told to rest, last.
    pub rest: Option<Rest>,
}

/// A section was told to rest.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rest {
    /// When.
    pub since: Moment,
    /// Why.
    pub reason: RestReason,
}

impl Rest {
    /// Whether the section still rests: until the next day where it was played enough, else until a new sitting.
    #[must_use]
    pub fn lasts(self, now: Moment, zone: UtcOffset, policy: &Policy) -> bool {
        let same_day = self.since.day(zone) == now.day(zone);
        match self.reason {
            RestReason::Enough { .. } => same_day,
            RestReason::Passes(_) | RestReason::Falls(_) | RestReason::LittleSuccess { .. } => {
                same_day && now.since(self.since) < policy.new_sitting_after_s
            }
        }
    }
}

/// One chord change of the lesson. Shapes go by their names in the lesson.
#[derive(Clone, Debug, PartialEq)]
pub struct ChangeToday {
    /// The shape that is left.
    pub from: String,
    /// The shape that comes.
    pub into: String,
    /// How hard the hands find it; larger is harder, in whatever unit the caller has, the same for all changes.
    pub difficulty: f64,
    /// The learner's own time, where it was measured.
    pub measured: Option<MeasuredChange>,
    /// The sections it is in, and how often in one pass.
    pub sections: Vec<(usize, u16)>,
}

/// How long a change takes this learner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredChange {
    /// Median in seconds, from the last old stroke to the first clean new one.
    pub median_s: f64,
    /// Changes it was taken over.
    pub count: u32,
    /// The fastest tempo it fits.
    pub fits: Tempo,
}

/// The song as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SongToday {
    /// It is not to be played as a whole yet.
    NotYet,
    /// It may be played.
    MayBePlayed {
        /// Seconds at the original tempo, count-in and repeats included.
        seconds: u32,
    },
}
