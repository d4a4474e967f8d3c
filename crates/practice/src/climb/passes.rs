//! What a pass changes.

use sixrung_lesson::Tempo;
use sixrung_listen::Verdict;

use super::Climb;
use super::effect::{Effect, Proposal, RestReason};
use super::input::{Marked, Pass};
use super::state::{Held, Mode, RungRecord, Tally};
use crate::moment::Moment;
use crate::policy::Offers;

impl Climb {
    /// A pass that was not judged moves nothing, not even a count: it is never the player's fault.
    pub(super) fn pass(&mut self, pass: Pass, now: Moment, effects: &mut Vec<Effect>) {
        let clean = match pass.verdict {
            Verdict::Clean => true,
            Verdict::NotClean => false,
            Verdict::NotJudged(_) => return,
        };
        self.turn_page(now);
        self.state.last_pass = Some(now);
        self.state.stepped_back = false;
        self.state.tally.passes = self.state.tally.passes.saturating_add(1);
        if pass.tempo == self.state.at {
            self.note_recent(clean);
            if clean { self.clean(pass.marked, now, effects) } else { self.not_clean(now, effects) }
        } else if self.ladder.has(pass.tempo) {
            self.note_played(pass.tempo, now);
        }
        self.rest_if_due(pass, effects);
    }

    fn clean(&mut self, marked: Marked, now: Moment, effects: &mut Vec<Effect>) {
        let rung = self.state.at;
        let needed = self.pegs_needed();
        self.state.not_clean = 0;
        self.state.pegs = self.state.pegs.saturating_add(1).min(needed);
        effects.push(Effect::PegAdded { pegs: self.state.pegs, needed });
        self.hold_if_first_try(marked, now, effects);
        self.note_played(rung, now);
        if rung == self.ladder.last() {
            self.state.top.clean = self.state.top.clean.saturating_add(1);
        }
        if self.state.pegs < needed {
            return;
        }
        let record = self.note_played(rung, now);
        record.known = true;
        record.falls = 0;
        match self.ladder.above(rung) {
            Some(above) => {
                self.state.stand_on(above);
                // The first rung that was never climbed ends the re-check.
                if self.state.mode == Mode::Rechecking && !self.state.is_known(above) {
                    self.state.mode = Mode::Climbing;
                }
                effects.push(Effect::Climbed { from: rung, to: above });
            }
            None => self.arrive(effects),
        }
    }

    fn arrive(&mut self, effects: &mut Vec<Effect>) {
        self.state.mode = Mode::Climbing;
        if self.state.top.arrived_after.is_none() {
            self.state.top.arrived_after = Some(self.state.top.clean);
            effects.push(Effect::Arrived);
        }
    }

    fn not_clean(&mut self, now: Moment, effects: &mut Vec<Effect>) {
        let rung = self.state.at;
        self.note_played(rung, now);
        if self.state.pegs > 0 {
            self.state.pegs = 0;
            effects.push(Effect::PegsCleared);
        }
        if self.state.mode == Mode::Probing {
            return self.end_probe(effects);
        }
        self.state.not_clean = self.state.not_clean.saturating_add(1);
        if self.state.not_clean >= self.policy.down_after.max(1) {
            self.fall(now, effects);
        }
    }

    /// The probe has found its rung: the last one that was clean.
    fn end_probe(&mut self, effects: &mut Vec<Effect>) {
        self.state.mode = Mode::Climbing;
        let from = self.state.at;
        if let Some(to) = self.ladder.below(from) {
            self.state.stand_on(to);
            effects.push(Effect::Fell { from, to });
        }
    }

    /// One rung down; on the first rung there is none, but the row counts as a fall all the same.
    fn fall(&mut self, now: Moment, effects: &mut Vec<Effect>) {
        let from = self.state.at;
        let record = self.note_played(from, now);
        record.falls = record.falls.saturating_add(1);
        let falls = record.falls;
        self.state.tally.falls = self.state.tally.falls.saturating_add(1);
        self.state.mode = Mode::Climbing;
        self.state.offered = None;
        let below = self.ladder.below(from);
        self.state.stand_on(below.unwrap_or(from));
        if let Some(to) = below {
            effects.push(Effect::Fell { from, to });
        }
        if falls >= self.policy.propose_after_falls {
            self.propose(from, effects);
        }
    }

    /// What the policy offers and the ladder has room for, best first.
    fn propose(&mut self, from: Tempo, effects: &mut Vec<Effect>) {
        let Offers { worst_bars, half_rung, stand_in } = self.policy.offers;
        self.state.offered = self.ladder.half_rung_below(from).filter(|_| half_rung);
        let half = self.state.offered.map(Proposal::HalfRung);
        let proposals = [worst_bars.then_some(Proposal::LoopWorstBars), half, stand_in.then_some(Proposal::StandIn)];
        let proposals: Vec<Proposal> = proposals.into_iter().flatten().collect();
        if !proposals.is_empty() {
            effects.push(Effect::Propose(proposals));
        }
    }

    /// A rung is held when it was clean at the first pass after being left alone long enough.
    fn hold_if_first_try(&mut self, marked: Marked, now: Moment, effects: &mut Vec<Effect>) {
        let rung = self.state.at;
        let Some(record) = self.state.rungs.get_mut(&rung) else { return };
        if now.since(record.last_played) < self.policy.hold_after_s {
            return;
        }
        match &mut record.held {
            None => record.held = Some(Held { at: now, marked }),
            Some(held) if marked == Marked::Heard => held.marked = Marked::Heard,
            Some(_) => {}
        }
        effects.push(Effect::Held { rung, marked });
    }

    pub(super) fn note_played(&mut self, rung: Tempo, now: Moment) -> &mut RungRecord {
        let fresh = RungRecord { last_played: now, known: false, falls: 0, held: None };
        let record = self.state.rungs.entry(rung).or_insert(fresh);
        record.last_played = now;
        record
    }

    fn note_recent(&mut self, clean: bool) {
        let recent = &mut self.state.tally.recent;
        recent.push(clean);
        let surplus = recent.len().saturating_sub(usize::from(self.policy.success_window));
        recent.drain(..surplus);
    }

    fn rest_if_due(&mut self, pass: Pass, effects: &mut Vec<Effect>) {
        let Some(reason) = self.enough(pass).or_else(|| self.rest_reason()) else { return };
        self.state.tally = Tally::default();
        effects.push(Effect::RestSection(reason));
    }

    /// Said once, at the clean pass that makes it enough.
    fn enough(&self, pass: Pass) -> Option<RestReason> {
        let top = self.state.top;
        let again = f64::from(top.arrived_after?) * self.policy.overlearn;
        let at_top = pass.tempo == self.ladder.last() && self.state.at == pass.tempo && pass.verdict == Verdict::Clean;
        let surplus = top.clean.saturating_sub(top.arrived_after?);
        (at_top && f64::from(surplus) == again.floor()).then_some(RestReason::Enough { clean: top.clean })
    }

    fn rest_reason(&self) -> Option<RestReason> {
        let Tally { passes, falls, recent } = &self.state.tally;
        if *falls >= self.policy.rest_after_falls {
            return Some(RestReason::Falls(*falls));
        }
        let window = usize::from(self.policy.success_window);
        let clean = recent.iter().filter(|clean| **clean).count();
        #[expect(clippy::cast_precision_loss, reason = "a window is at most 255 passes")]
        if window > 0 && recent.len() >= window && (clean as f64) < self.policy.least_success * recent.len() as f64 {
            let small = |count: usize| u8::try_from(count).unwrap_or(u8::MAX);
            return Some(RestReason::LittleSuccess { clean: small(clean), of: small(recent.len()) });
        }
        (*passes >= self.policy.rest_after_passes).then_some(RestReason::Passes(*passes))
    }
}
