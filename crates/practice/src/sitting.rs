//! Minutes played, and when a break is due.

use crate::moment::Moment;
use crate::policy::BreakRules;

/// A break that is due.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BreakDue {
    /// A good moment to put the guitar down for a while.
    Suggested {
        /// Minutes played since the last break.
        played_min: u16,
    },
    /// Time to stop.
    Firm {
        /// Minutes played since the last break.
        played_min: u16,
    },
}

/// Counts playing, over all sections, not the time the window is open.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Sitting {
    played_s: u32,
    since_break_s: u32,
    said: Said,
    last: Option<Moment>,
}

/// What has been said since the last break: each is said once.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
enum Said {
    #[default]
    Nothing,
    Suggested,
    Firm,
}

impl Sitting {
    /// Takes in `seconds` of playing that ended `now`, and says whether a break has just become due.
    ///
    /// A pause of at least [`BreakRules::break_min`] before it is a break and starts the count afresh.
    pub fn played(&mut self, seconds: u32, rules: &BreakRules, now: Moment) -> Option<BreakDue> {
        let pause = self.last.map_or(0, |last| now.since(last) - i64::from(seconds));
        if pause >= i64::from(rules.break_min) * 60 {
            self.since_break_s = 0;
            self.said = Said::Nothing;
        }
        self.last = Some(now);
        self.played_s = self.played_s.saturating_add(seconds);
        self.since_break_s = self.since_break_s.saturating_add(seconds);
        let played_min = u16::try_from(self.since_break_s / 60).unwrap_or(u16::MAX);
        if played_min >= rules.firm_after_min && self.said < Said::Firm {
            self.said = Said::Firm;
            return Some(BreakDue::Firm { played_min });
        }
        if played_min >= rules.suggest_after_min && self.said < Said::Suggested {
            self.said = Said::Suggested;
            return Some(BreakDue::Suggested { played_min });
        }
        None
    }

    /// When playing last ended.
    #[must_use]
    pub const fn last(&self) -> Option<Moment> {
        self.last
    }

    /// Seconds played in all.
    #[must_use]
    pub const fn played_s(&self) -> u32 {
        self.played_s
    }

    /// Seconds played since the last break.
    #[must_use]
    pub const fn since_break_s(&self) -> u32 {
        self.since_break_s
    }
}
