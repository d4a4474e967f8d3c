//! What to do in the next minutes: one request in, one plan out, and the run over the plan.
//!
//! The order of a plan, each part where there is one: a warm-up with something known; rungs that wait to be held;
//! the section with most to gain; the change that holds it back; other sections; once through at the original tempo,
//! unjudged; the section that was learned first. Breaks come in between. A section that rests is not in it.
//!
//! What a short time keeps, the most needed first: the section with most to gain; the rung of it that waits to be
//! held; the warm-up; the change; the replay of the first section; other rungs that wait; the run at tempo; rotation.
//!
//! On what it rests: rungs are checked again a day later, as gains show at 6 to 24 h (Simmons 2012, JRME); the first
//! section is replayed, as a second melody learned right after it cancelled the gain of the night and replaying the
//! first brought it back (Allen 2013); other sections come in between, though the gain of mixing is small (Stambaugh
//! 2011; Czyż et al. 2024). The order, the shares and the minutes are design choices of ours.

mod breaks;
mod changes;
mod extras;
mod item;
mod planner;
mod request;
mod run;
mod standing;

pub use item::{Item, Run, WarmUp, What, Why};
pub use request::{ChangeToday, MeasuredChange, Rest, SectionToday, SongToday, TodayRequest};
pub use run::{Current, ItemEnd, Outcome, TodayEvent, TodayInput, TodayRun};

use breaks::Stretches;
use planner::Planner;

/// What to do today, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct TodayPlan {
    /// The items.
    pub items: Vec<Item>,
    /// Minutes that were asked for and for which nothing makes sense: everything rests.
    pub spare_min: u16,
}

impl TodayPlan {
    /// Minutes planned, breaks included.
    #[must_use]
    pub fn minutes(&self) -> u16 {
        self.items.iter().map(|item| item.minutes).sum()
    }
}

/// Plans the minutes asked for. The same request always gives the same plan.
#[must_use]
pub fn plan(request: &TodayRequest) -> TodayPlan {
    let minutes = request.minutes.clamp(*TodayRequest::MINUTES.start(), *TodayRequest::MINUTES.end());
    let stretches = Stretches::of(minutes, &request.breaks, request.since_break_s);
    let items = stretches.put_into(Planner::new(request, stretches.playing).items());
    let planned: u16 = items.iter().map(|item| item.minutes).sum();
    TodayPlan { items, spare_min: minutes.saturating_sub(planned) }
}
