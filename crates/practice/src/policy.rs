//! Every number the practice rules turn on, each one a setting.
//!
//! All defaults are design choices of ours. No study found shows one tempo plan ahead of another (Henley 2001, JRME:
//! no significant difference between steady increase, at-speed and alternating tempi), so none is claimed.

mod checked;

pub use checked::OutOfRange;

use sixrung_lesson::LadderRules;

/// When the part is played to the learner before their own pass. Hearing a model first helped (Henley 2001, JRME,
/// abstract read); how often is a design choice of ours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum HearFirst {
    /// Only when asked for.
    Never,
    /// At a rung that was never played before.
    #[default]
    NewRung,
    /// At every rung once in each sitting.
    EverySitting,
}

/// What may be offered after a second fall at one rung, in this order.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Offers {
    /// A loop of the worst one or two bars.
    pub worst_bars: bool,
    /// A rung half-way to the one below.
    pub half_rung: bool,
    /// The lesson's easier shapes.
    pub stand_in: bool,
}

impl Default for Offers {
    /// All of them.
    fn default() -> Self {
        Self { worst_bars: true, half_rung: true, stand_in: true }
    }
}

/// What is said after a pass. Sparing feedback serves learners better than a stream of it (Wulf & Mornell 2008,
/// abstract read).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Feedback {
    /// The one worst spot, and the share that was clean.
    #[default]
    WorstSpot,
    /// The share that was clean, and nothing else unless it is asked for.
    ShareOnly,
}

/// How a session ends. Replaying what was learned first restored the overnight gain that learning something similar
/// right after had cancelled (Allen 2013, abstract read); doing so at the end of each session is a design choice of ours.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum SessionEnd {
    /// With the section that was learned first that day.
    #[default]
    FirstLearned,
    /// With whatever came last.
    Anywhere,
}

/// Where a climb begins.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Start {
    /// At the first rung; an able player goes up by hand.
    #[default]
    First,
    /// One clean pass climbs until the first that is not clean: the highest rung whose probe was clean is the start.
    Probe,
}

/// How a section is practised and climbed: plain numbers, each of which a teacher may change; [`Policy::checked`] says
/// which of them is out of range.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Policy {
    /// When the part is played to the learner first; [`crate::Climb::hear_first`] says whether it is time.
    pub hear_first: HearFirst,
    /// Where a new climb begins.
    pub start: Start,
    /// Clean passes in a row that climb.
    pub up_after: u8,
    /// Clean passes in a row that climb a known rung when it is checked again.
    pub recheck_up_after: u8,
    /// Passes not clean in a row that fall.
    pub down_after: u8,
    /// Falls at one rung, without climbing it in between, from which on something else is proposed.
    pub propose_after_falls: u8,
    /// What is proposed then; nothing is, where all are left out.
    pub offers: Offers,
    /// Passes in a sitting after which the section rests.
    pub rest_after_passes: u8,
    /// Falls in a sitting after which the section rests.
    pub rest_after_falls: u8,
    /// The section rests when fewer than this share of the last [`Self::success_window`] passes were clean. Trial
    /// counts with errors go with poorer playing a day later (Duke, Simmons & Cash 2009, JRME).
    pub least_success: f64,
    /// Passes the share of success is taken over; fewer are not judged.
    pub success_window: u8,
    /// Once the original tempo is clean, at most this share of the clean passes it took is played again that day.
    pub overlearn: f64,
    /// Seconds from the end of a pass to the first beat of the next; the result and the count-in fill them. Read by
    /// whoever plays. Rests of about 10 s did no harm and may do good (Bönstrup 2020, abstract read; disputed).
    pub rest_between_passes_s: u8,
    /// After so many judged passes comes one at the original tempo that is not judged; 0 is never.
    /// [`crate::Climb::is_run_due`] says whether it is time. Alternating tempi did as well as others (Henley 2001,
    /// JRME); that it keeps the goal in the ear is a design choice of ours.
    pub run_every_passes: u8,
    /// What is said after a pass. Read by whoever says it.
    pub feedback: Feedback,
    /// How a session ends. Read by whoever plans it.
    pub session_end: SessionEnd,
    /// Rungs below where the player stood at which the next day begins. After a fall the player already stands one
    /// below the day's top rung, and so begins two below it.
    pub next_day_steps_back: u8,
    /// Seconds a rung must have been left alone before being clean at first try holds it: 12 h. Gains show at 6 to
    /// 24 h (Simmons 2012, JRME); after 0 to 15 min there are none (Wiseheart 2017).
    pub hold_after_s: i64,
    /// Seconds without a pass after which the next belongs to a new sitting: 30 min.
    pub new_sitting_after_s: i64,
}

impl Default for Policy {
    fn default() -> Self {
        Self {
            hear_first: HearFirst::NewRung,
            start: Start::First,
            up_after: 3,
            recheck_up_after: 1,
            down_after: 2,
            propose_after_falls: 2,
            offers: Offers::default(),
            rest_after_passes: 10,
            rest_after_falls: 3,
            least_success: 0.6,
            success_window: 5,
            overlearn: 0.5,
            rest_between_passes_s: 10,
            run_every_passes: 7,
            feedback: Feedback::WorstSpot,
            session_end: SessionEnd::FirstLearned,
            next_day_steps_back: 1,
            hold_after_s: 12 * 3600,
            new_sitting_after_s: 30 * 60,
        }
    }
}

impl Policy {
    /// The default policy with what a lesson's rules set.
    #[must_use]
    pub fn of(rules: &LadderRules) -> Self {
        Self { up_after: rules.up_after.max(1), down_after: rules.down_after.max(1), ..Self::default() }
    }
}

/// When to take a break from playing. A design choice of ours, a little more careful than the ten minutes an hour
/// often advised to musicians.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BreakRules {
    /// Minutes of playing after which a break is suggested.
    pub suggest_after_min: u16,
    /// Minutes of playing after which it is asked for firmly.
    pub firm_after_min: u16,
    /// Minutes without playing that make a break.
    pub break_min: u16,
}

impl Default for BreakRules {
    fn default() -> Self {
        Self { suggest_after_min: 25, firm_after_min: 50, break_min: 5 }
    }
}
