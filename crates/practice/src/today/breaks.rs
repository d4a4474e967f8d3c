//! Where the breaks go: no stretch of playing longer than the rules have it.

use super::item::{Item, What, Why};
use crate::policy::BreakRules;

/// The shape of a plan in time: minutes of playing between the breaks.
pub(super) struct Stretches {
    /// The most each may have.
    most: Vec<u16>,
    /// Minutes of playing in all.
    pub(super) playing: u16,
    break_min: u16,
    played_before: u16,
}

impl Stretches {
    /// As few breaks as keep every stretch within the rules. A time too short for a break and as much playing again
    /// has none: the break comes after it.
    pub(super) fn of(minutes: u16, rules: &BreakRules, since_break_s: u32) -> Self {
        let stretch = rules.suggest_after_min.max(1);
        let played_before = u16::try_from(since_break_s / 60).unwrap_or(u16::MAX);
        let mut most = vec![stretch.saturating_sub(played_before)];
        let mut playing = minutes;
        while most.iter().sum::<u16>() < playing && playing >= rules.break_min.saturating_mul(2).max(2) {
            playing -= rules.break_min;
            most.push(stretch);
        }
        Self { most, playing, break_min: rules.break_min, played_before }
    }

    /// Puts the breaks between items where that can be, through an item where it cannot.
    pub(super) fn put_into(&self, items: Vec<Item>) -> Vec<Item> {
        let mut cuts = self.cuts(&items).into_iter().peekable();
        let mut out = Vec::new();
        let (mut at, mut since) = (0, self.played_before);
        // A break may come before all playing.
        while cuts.next_if(|cut| *cut == 0).is_some() {
            out.push(self.pause(since));
            since = 0;
        }
        for mut item in items {
            let end = at + item.minutes;
            while let Some(cut) = cuts.next_if(|cut| *cut <= end) {
                let before = cut - at;
                if before > 0 {
                    out.push(Item { minutes: before, ..item.clone() });
                }
                out.push(self.pause(since + before));
                item.minutes -= before;
                (at, since) = (cut, 0);
            }
            if item.minutes > 0 {
                at += item.minutes;
                since += item.minutes;
                out.push(item);
            }
        }
        out
    }

    fn pause(&self, minutes: u16) -> Item {
        Item { what: What::Break, minutes: self.break_min, why: Why::PlayedLong { minutes } }
    }

    /// The minutes of playing after which a break comes: even shares, moved to the nearest end of an item within
    /// [`NEAR_MIN`] if every stretch keeps to the rules.
    fn cuts(&self, items: &[Item]) -> Vec<u16> {
        let planned: u16 = items.iter().map(|item| item.minutes).sum();
        let ends: Vec<u16> = items
            .iter()
            .scan(0, |at, item| {
                *at += item.minutes;
                Some(*at)
            })
            .collect();
        // Where less was planned than there was time for, fewer stretches may do.
        let less = planned < self.playing;
        let enough = (1..self.most.len()).find(|count| less && self.most[..*count].iter().sum::<u16>() >= planned);
        let stretches = &self.most[..enough.unwrap_or(self.most.len())];
        let all: u16 = stretches.iter().sum();
        let mut cuts: Vec<u16> = Vec::new();
        for index in 0..stretches.len() - 1 {
            let from = cuts.last().copied().unwrap_or(0);
            let after: u16 = stretches[index + 1..].iter().sum();
            let least = planned.saturating_sub(after).max(from + u16::from(stretches[index] > 0));
            // At least a minute is left for each stretch after it.
            let later = u16::try_from(stretches.len() - 1 - index).unwrap_or(u16::MAX);
            let most = (from + stretches[index]).min(planned.saturating_sub(later)).max(from);
            let till_here = u32::from(stretches[..=index].iter().sum::<u16>());
            let even = u32::from(planned) * till_here / u32::from(all.max(1));
            let even = u16::try_from(even).unwrap_or(planned).clamp(least.min(most), most);
            let near = |end: &u16| (least..=most).contains(end) && *end > from && end.abs_diff(even) <= NEAR_MIN;
            // Of two as near, the later.
            let end = ends.iter().rev().copied().filter(near).min_by_key(|end| end.abs_diff(even));
            cuts.push(end.unwrap_or(even));
        }
        // No break after all is played.
        cuts.retain(|cut| *cut < planned);
        cuts
    }
}

/// Minutes a break is moved so as not to cut an item: a design choice of ours.
const NEAR_MIN: u16 = 4;
