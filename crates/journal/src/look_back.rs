//! Looking back: what a journal says of weeks and months, day by day.

mod bars;
mod changes;
mod days;
mod list;

pub use bars::{BarTrouble, LAST_PASSES};
pub use changes::{ChangeDay, ChangeHistory};
pub use days::{HeldRung, PlayingDay, PracticeDay};
pub use list::{KeptPass, PassPlace};

use sixrung_practice::{Day, UtcOffset};

use crate::changes::ChangePair;
use crate::error::JournalError;
use crate::open::Journal;
use crate::stretches::StretchKey;

/// What a look back asks for.
#[derive(Clone, Debug, PartialEq)]
pub struct Wanted {
    /// The sections, in any order; that of an earlier text of the same lesson counts as the same.
    pub sections: Vec<StretchKey>,
    /// The changes of chord.
    pub changes: Vec<ChangePair>,
    /// From which day on; `None` for all that is kept.
    pub since: Option<Day>,
    /// Where days end.
    pub zone: UtcOffset,
}

/// What a look back found, in the order asked for.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LookBack {
    /// Of each section.
    pub sections: Vec<SectionHistory>,
    /// Of each change of chord.
    pub changes: Vec<ChangeHistory>,
    /// How long was played each day, whatever it was: days in order, those without playing left out.
    pub playing: Vec<PlayingDay>,
}

/// One section over time.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SectionHistory {
    /// Day by day, those without a pass left out.
    pub days: Vec<PracticeDay>,
    /// The rungs held, by the moment they first were: since whenever.
    pub held: Vec<HeldRung>,
    /// Its bars in the last passes, in order.
    pub bars: Vec<BarTrouble>,
}

impl Journal {
    /// Everything a page of plots shows, at once.
    ///
    /// # Errors
    /// When the file cannot be read, or holds what it should not.
    pub fn look_back(&self, wanted: &Wanted) -> Result<LookBack, JournalError> {
        let section = |key: &StretchKey| {
            Ok(SectionHistory {
                days: self.practice_days(key, wanted.since, wanted.zone)?,
                held: self.held_rungs(key)?,
                bars: self.bar_troubles(key, LAST_PASSES)?,
            })
        };
        let change = |pair: &ChangePair| self.change_history(pair, wanted.since, wanted.zone);
        Ok(LookBack {
            sections: wanted.sections.iter().map(section).collect::<Result<_, JournalError>>()?,
            changes: wanted.changes.iter().map(change).collect::<Result<_, _>>()?,
            playing: self.playing_days(wanted.since, wanted.zone)?,
        })
    }
}

/// The first moment that counts.
fn begins(since: Option<Day>, zone: UtcOffset) -> i64 {
    since.map_or(i64::MIN, |day| day.begins(zone).0)
}

/// The middle value; of two in the middle, the mean.
fn median(values: &mut [f64]) -> Option<f64> {
    let middle = values.len() / 2;
    if values.is_empty() {
        return None;
    }
    let is_odd = values.len() % 2 == 1;
    let (below, above, _) = values.select_nth_unstable_by(middle, f64::total_cmp);
    let below = below.iter().copied().max_by(f64::total_cmp).filter(|_| !is_odd);
    Some(below.map_or(*above, |below| f64::midpoint(below, *above)))
}
