//! Minutes that are left once each part of a plan has its most: the steps go on, and sections take turns.

use super::changes::holding_back;
use super::item::{Item, What, Why};
use super::planner::{Planner, Slot};
use super::standing::Standing;

/// Less than this is no item of its own, in minutes; a step on the path of a beginner may be shorter. Design choices of
/// ours.
const LEAST: u16 = 3;
const STEP_LEAST: u16 = 2;
/// The most of a change drill in between, in minutes.
const CHANGE_MOST: u16 = 4;

impl Planner<'_> {
    /// Spends `left` minutes on more work.
    pub(super) fn spend(&self, mut left: u16, work: &mut Vec<Item>) {
        while left > 0 {
            let Some(slot) = self.next(work).filter(|slot| slot.least <= left) else {
                // Too few for anything new, or nothing but the same again: a drill can take them, else the last work.
                let drill = work.iter().rposition(|item| matches!(item.what, What::Change { .. }));
                let last = work.len().saturating_sub(1);
                if let Some(item) = work.get_mut(drill.unwrap_or(last)) {
                    item.minutes += left;
                }
                return;
            };
            let minutes = slot.most.max(1).min(left);
            left -= minutes;
            work.push(Item { what: slot.what, minutes, why: slot.why });
        }
    }

    /// The next turn. A section never follows itself, but for the steps of a path.
    fn next(&self, work: &[Item]) -> Option<Slot> {
        let first = self.pool.first()?;
        // The path of the first section, up to its ladder.
        let nth = turns(work, first.section());
        let on_path = matches!(work.first(), Some(Item { what: What::Step { .. }, .. }));
        if on_path && nth < first.ahead.len() {
            return Some(self.turn(first, work));
        }
        let last = work.iter().rev().find_map(|item| section_of(&item.what));
        let straight_after = work.last().and_then(|item| section_of(&item.what));
        // A drill each time all have had their turn, and a run after it where it is time for one.
        if let Some(Item { what: What::Change { .. }, .. }) = work.last()
            && let Some(run) = self.run(self.passes_since_run(work))
        {
            return Some(run);
        }
        let since_drill = work.iter().rev().take_while(|item| section_of(&item.what).is_some()).count();
        if since_drill > self.pool.len()
            && let Some(drill) = self.drill(first)
        {
            return Some(drill);
        }
        // Whose turn is longest ago; of equals the one with most to gain.
        let since = |standing: &&Standing<'_>| {
            work.iter().rposition(|item| section_of(&item.what) == Some(standing.section())).map_or(0, |at| at + 1)
        };
        let others = self.pool.iter().filter(|standing| Some(standing.section()) != last);
        match others.min_by_key(since) {
            Some(other) => Some(self.turn(other, work)),
            None if straight_after.is_none() => Some(self.turn(first, work)),
            // One section only: something else in between.
            None => self.in_between(first, work),
        }
    }

    fn turn(&self, standing: &Standing<'_>, work: &[Item]) -> Slot {
        let section = standing.section();
        let nth = turns(work, section);
        let is_main = self.pool.first().is_some_and(|first| first.section() == section);
        let (what, why) = self.work(standing, nth, is_main);
        let most = self.most(standing, &what);
        let again = nth >= standing.ahead.len() && nth > 0;
        let of_it = work.iter().filter(|item| section_of(&item.what) == Some(section));
        let why = if again { Why::Again { minutes: of_it.map(|item| item.minutes).sum() } } else { why };
        let least = if matches!(what, What::Step { .. }) { STEP_LEAST } else { LEAST };
        Slot { what, why, least, most }
    }

    fn drill(&self, standing: &Standing<'_>) -> Option<Slot> {
        let (what, why) = holding_back(self.request, standing)?;
        Some(Slot { what, why, least: LEAST, most: CHANGE_MOST })
    }

    fn in_between(&self, standing: &Standing<'_>, work: &[Item]) -> Option<Slot> {
        self.drill(standing).or_else(|| self.run(self.passes_since_run(work)))
    }
}

fn turns(work: &[Item], section: usize) -> usize {
    work.iter().filter(|item| section_of(&item.what) == Some(section)).count()
}

/// The section that an item works on.
pub(super) fn section_of(what: &What) -> Option<usize> {
    match what {
        What::Climb { section } | What::Step { section, .. } | What::Rotate { section, .. } => Some(*section),
        _ => None,
    }
}
