//! The run over a plan: which item is on, when it is over, and what comes next.

mod edits;
mod time;

use super::TodayPlan;
use super::item::{Item, What};
use crate::climb::RestReason;
use crate::moment::Moment;
use sixrung_listen::Verdict;

/// Something that happened.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TodayInput {
    /// Practice begins.
    Start,
    /// So many seconds were played that make no pass: a drill, a shape, a part of a pass.
    Played {
        /// Seconds.
        seconds: u32,
    },
    /// A pass ended.
    Pass {
        /// How it came out.
        outcome: Outcome,
        /// Seconds it took; not to be told as [`Self::Played`] as well.
        seconds: u32,
    },
    /// The step that is worked on is done.
    StepDone,
    /// The climb says that its section should rest.
    SectionRests {
        /// The section.
        section: usize,
        /// Why.
        reason: RestReason,
    },
    /// The learner goes on to the next item.
    Skip,
    /// Time goes by: ends a break.
    Tick,
    /// Two items that lie ahead change places.
    Swap(usize, usize),
    /// An item that lies ahead goes to another place ahead.
    Move {
        /// From here.
        from: usize,
        /// To here.
        to: usize,
    },
    /// An item that lies ahead is taken out.
    Remove(usize),
}

/// How a pass came out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// Clean.
    Clean,
    /// Not clean.
    NotClean,
    /// Not judged, or not meant to be.
    Unjudged,
}

impl From<Verdict> for Outcome {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Clean => Self::Clean,
            Verdict::NotClean => Self::NotClean,
            Verdict::NotJudged(_) => Self::Unjudged,
        }
    }
}

/// What follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TodayEvent {
    /// An item is over.
    ItemOver {
        /// Its index.
        index: usize,
        /// How it ended.
        end: ItemEnd,
    },
    /// An item that lay ahead fell out of the plan, as its section rests.
    Dropped {
        /// The section.
        section: usize,
    },
    /// This item is on now.
    Next {
        /// Its index.
        index: usize,
    },
    /// A break is on now.
    BreakDue {
        /// Its index.
        index: usize,
        /// Minutes of it.
        minutes: u16,
    },
    /// The plan is done.
    Done,
}

/// How an item ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ItemEnd {
    /// Its time is used up.
    TimeUsed,
    /// Its aim is reached: the rung is held, the run is played, the step is done.
    AimReached,
    /// The rung was not clean at first try: it waits for another day.
    NotToday,
    /// Its section rests.
    Rests(RestReason),
    /// The learner went on.
    Skipped,
}

/// An item with the time it still has.
#[derive(Clone, Debug, PartialEq)]
struct Timed {
    item: Item,
    left_s: i64,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum State {
    Before,
    On { since: Moment },
    Done,
}

/// The item that is on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Current<'a> {
    /// Its index.
    pub index: usize,
    /// The item.
    pub item: &'a Item,
    /// Seconds it still has.
    pub left_s: u32,
}

/// A plan being carried out. What was planned for in minutes is never exceeded by more than the pass that was on.
#[derive(Clone, Debug, PartialEq)]
pub struct TodayRun {
    items: Vec<Timed>,
    at: usize,
    state: State,
    /// Whether anything was played since the last break.
    played: bool,
}

impl TodayRun {
    /// A run over a plan, not begun.
    #[must_use]
    pub fn new(plan: TodayPlan) -> Self {
        let timed = |item: Item| Timed { left_s: i64::from(item.minutes) * 60, item };
        let items = plan.items.into_iter().map(timed).collect();
        Self { items, at: 0, state: State::Before, played: true }
    }

    /// Takes in what happened and says what follows, in the order in which it should be told.
    pub fn update(&mut self, input: TodayInput, now: Moment) -> Vec<TodayEvent> {
        let mut events = Vec::new();
        match (input, self.state) {
            (TodayInput::Swap(one, other), _) => self.swap(one, other),
            (TodayInput::Move { from, to }, _) => self.reorder(from, to),
            (TodayInput::Remove(index), _) => self.remove(index),
            (TodayInput::Start, State::Before) => self.enter(now, &mut events),
            (TodayInput::Start, _) | (_, State::Before | State::Done) => {}
            (TodayInput::Played { seconds }, State::On { .. }) => self.played(seconds, None, now, &mut events),
            (TodayInput::Pass { outcome, seconds }, State::On { .. }) => {
                self.played(seconds, Some(outcome), now, &mut events);
            }
            (TodayInput::StepDone, State::On { .. }) => {
                if matches!(self.what(), What::Step { .. } | What::Rotate { .. } | What::Climb { .. } | What::Song(_)) {
                    self.over(ItemEnd::AimReached, now, &mut events);
                }
            }
            (TodayInput::SectionRests { section, reason }, State::On { .. }) => {
                self.rest(section, reason, now, &mut events);
            }
            (TodayInput::Skip, State::On { .. }) => self.over(ItemEnd::Skipped, now, &mut events),
            (TodayInput::Tick, State::On { since }) => {
                let minutes = i64::from(self.items[self.at].item.minutes);
                if *self.what() == What::Break && now.since(since) >= minutes * 60 {
                    self.over(ItemEnd::TimeUsed, now, &mut events);
                }
            }
        }
        events
    }

    /// All items, those behind included.
    pub fn items(&self) -> impl Iterator<Item = &Item> {
        self.items.iter().map(|timed| &timed.item)
    }

    /// The item that is on.
    #[must_use]
    pub fn current(&self) -> Option<Current<'_>> {
        let timed = self.items.get(self.at).filter(|_| matches!(self.state, State::On { .. }))?;
        let left_s = u32::try_from(timed.left_s.max(0)).unwrap_or(u32::MAX);
        Some(Current { index: self.at, item: &timed.item, left_s })
    }

    /// Seconds that are left, breaks included.
    #[must_use]
    pub fn left_s(&self) -> u32 {
        let left = self.items.iter().skip(self.at).map(|timed| timed.left_s.max(0)).sum::<i64>();
        u32::try_from(left).unwrap_or(u32::MAX)
    }

    /// Whether the plan is done.
    #[must_use]
    pub fn is_done(&self) -> bool {
        self.state == State::Done
    }

    /// What is on. Only called while something is.
    fn what(&self) -> &What {
        &self.items[self.at].item.what
    }

    fn played(&mut self, seconds: u32, pass: Option<Outcome>, now: Moment, events: &mut Vec<TodayEvent>) {
        if *self.what() == What::Break {
            // The learner plays on: the break is over, and the playing belongs to what comes after it.
            self.over(ItemEnd::Skipped, now, events);
            if self.is_done() {
                return;
            }
        }
        self.played |= seconds > 0;
        let planned_s = i64::from(self.items[self.at].item.minutes) * 60;
        let current = &mut self.items[self.at];
        current.left_s -= i64::from(seconds);
        let left_s = current.left_s;
        let end = match (self.what(), pass) {
            (What::Recheck { .. }, Some(Outcome::Clean)) => Some(ItemEnd::AimReached),
            (What::Recheck { .. }, Some(Outcome::NotClean)) => Some(ItemEnd::NotToday),
            (What::RunAtTempo(_) | What::ReplayFirst { .. }, Some(_)) => Some(ItemEnd::AimReached),
            // What is one pass is not cut off for a count-in, but it does not go on for ever either.
            (What::Recheck { .. } | What::RunAtTempo(_) | What::ReplayFirst { .. }, None) => {
                (left_s <= -planned_s).then_some(ItemEnd::TimeUsed)
            }
            _ => (left_s <= 0).then_some(ItemEnd::TimeUsed),
        };
        if let Some(end) = end {
            self.over(end, now, events);
        }
    }

    fn over(&mut self, end: ItemEnd, now: Moment, events: &mut Vec<TodayEvent>) {
        let current = &mut self.items[self.at];
        let spare_s = std::mem::take(&mut current.left_s);
        let was_break = current.item.what == What::Break;
        events.push(TodayEvent::ItemOver { index: self.at, end });
        self.at += 1;
        if was_break {
            self.played = false;
        } else {
            self.hand_on(spare_s);
        }
        self.enter(now, events);
    }

    /// Takes up the item at hand; a break after which nothing is played, or before which nothing was, falls out.
    fn enter(&mut self, now: Moment, events: &mut Vec<TodayEvent>) {
        while self.items.get(self.at).is_some_and(|timed| timed.item.what == What::Break) {
            let something_after = self.items[self.at..].iter().any(|timed| timed.item.what != What::Break);
            if self.played && something_after {
                break;
            }
            self.items.remove(self.at);
        }
        let Some(timed) = self.items.get(self.at) else {
            self.state = State::Done;
            events.push(TodayEvent::Done);
            return;
        };
        self.state = State::On { since: now };
        events.push(match timed.item.what {
            What::Break => TodayEvent::BreakDue { index: self.at, minutes: timed.item.minutes },
            _ => TodayEvent::Next { index: self.at },
        });
    }
}
