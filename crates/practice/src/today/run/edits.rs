//! Changes to a plan: by the learner, to what lies ahead, and by a section that is to rest.

use super::{ItemEnd, State, TodayEvent, TodayRun};
use crate::climb::RestReason;
use crate::moment::Moment;
use crate::today::item::{Run, What};

impl TodayRun {
    /// The first item that may still be changed. What is not ahead stays as it is, and so does an index past the end.
    fn first_ahead(&self) -> usize {
        match self.state {
            State::Before => 0,
            State::On { .. } => self.at + 1,
            State::Done => self.items.len(),
        }
    }

    fn is_ahead(&self, index: usize) -> bool {
        (self.first_ahead()..self.items.len()).contains(&index)
    }

    pub(super) fn swap(&mut self, one: usize, other: usize) {
        if self.is_ahead(one) && self.is_ahead(other) {
            self.items.swap(one, other);
        }
    }

    pub(super) fn reorder(&mut self, from: usize, to: usize) {
        if self.is_ahead(from) && self.is_ahead(to) {
            let item = self.items.remove(from);
            self.items.insert(to, item);
        }
    }

    pub(super) fn remove(&mut self, index: usize) {
        if self.is_ahead(index) {
            self.items.remove(index);
        }
    }

    /// A section that is to rest is not played before the next break, and not at all where it was enough for today.
    pub(super) fn rest(&mut self, section: usize, reason: RestReason, now: Moment, events: &mut Vec<TodayEvent>) {
        let enough = matches!(reason, RestReason::Enough { .. });
        let mut freed_s = 0;
        let mut index = self.at + 1;
        while let Some(timed) = self.items.get(index) {
            if timed.item.what == What::Break && !enough {
                break;
            }
            if section_of(&timed.item.what) == Some(section) {
                freed_s += self.items.remove(index).left_s;
                events.push(TodayEvent::Dropped { section });
            } else {
                index += 1;
            }
        }
        if section_of(self.what()) == Some(section) {
            self.items[self.at].left_s += freed_s;
            self.over(ItemEnd::Rests(reason), now, events);
        } else {
            self.hand_on(freed_s);
        }
    }
}

/// The one section an item is about.
fn section_of(what: &What) -> Option<usize> {
    match what {
        What::WarmUp { section, .. }
        | What::Recheck { section, .. }
        | What::Climb { section }
        | What::Step { section, .. }
        | What::Rotate { section, .. }
        | What::RunAtTempo(Run::Section(section))
        | What::ReplayFirst { section, .. } => Some(*section),
        What::Song(_) | What::Change { .. } | What::RunAtTempo(Run::Whole) | What::Break => None,
    }
}
