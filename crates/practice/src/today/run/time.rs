//! Time that one item leaves over, or takes too much of, is the next one's.

use super::{Timed, TodayRun};
use crate::today::item::What;

/// No item that lies ahead is made shorter than this, in seconds: a design choice of ours.
const SHORTEST_S: i64 = 60;

impl TodayRun {
    /// Hands on what an item left over: to the next work before a break, so that no stretch of playing grows past
    /// its break. What nobody can use is not played. What an item took too much is taken from the work that follows.
    pub(super) fn hand_on(&mut self, mut spare_s: i64) {
        let ahead = self.items.get_mut(self.at..).unwrap_or_default();
        if spare_s >= 0 {
            let stretch = ahead.iter_mut().take_while(|timed| timed.item.what != What::Break);
            if let Some(next) = stretch.into_iter().find(|timed| is_work(timed)) {
                next.left_s += spare_s;
            }
            return;
        }
        for timed in ahead.iter_mut().filter(|timed| is_work(timed)) {
            let can_give = (timed.left_s - SHORTEST_S).max(0);
            let gives = can_give.min(-spare_s);
            timed.left_s -= gives;
            spare_s += gives;
        }
    }
}

/// What can be made longer and shorter.
fn is_work(timed: &Timed) -> bool {
    matches!(
        timed.item.what,
        What::Climb { .. } | What::Step { .. } | What::Song(_) | What::Change { .. } | What::Rotate { .. }
    )
}
