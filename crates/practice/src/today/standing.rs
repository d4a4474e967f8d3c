//! What a plan needs to know of each section, drawn from what is remembered of it.

use sixrung_lesson::Tempo;

use super::request::{SectionToday, TodayRequest};
use crate::ladder::Ladder;
use crate::step::Step;

/// The steps on a section's own path; what follows is the whole song's.
pub(super) const PATH: [Step; 6] =
    [Step::Shapes, Step::Changes, Step::OneStroke, Step::OneChord, Step::Slow, Step::Climb];

/// One section as the plan sees it.
pub(super) struct Standing<'a> {
    pub(super) today: &'a SectionToday,
    /// With its half-rungs.
    pub(super) ladder: Ladder,
    /// Rungs that are known, slowest first.
    pub(super) known: Vec<Tempo>,
    /// Steps of [`PATH`] that lie ahead, in order.
    pub(super) ahead: Vec<Step>,
    /// Seconds of rest after each pass.
    rest_s: f64,
}

impl<'a> Standing<'a> {
    pub(super) fn new(today: &'a SectionToday, request: &TodayRequest) -> Self {
        let half_rungs = today.climb.iter().flat_map(|climb| &climb.half_rungs);
        let ladder = half_rungs.fold(today.ladder.clone(), |ladder, half| ladder.with(*half));
        let known: Vec<Tempo> = match &today.climb {
            Some(climb) => ladder.rungs().iter().copied().filter(|rung| climb.is_known(*rung)).collect(),
            None => Vec::new(),
        };
        let stands = known.contains(&ladder.last());
        let is_ahead = |step: &Step| match step {
            Step::Climb => !stands && today.steps.of(Step::Climb).is_none(),
            // A rung that was climbed shows all that comes before it.
            _ => known.is_empty() && today.steps.of(*step).is_none(),
        };
        let ahead = PATH.into_iter().filter(is_ahead).collect();
        Self { today, ladder, known, ahead, rest_s: f64::from(request.policy.rest_between_passes_s) }
    }

    pub(super) const fn section(&self) -> usize {
        self.today.section
    }

    pub(super) fn is_begun(&self) -> bool {
        self.ahead.len() < PATH.len()
    }

    /// Whether it was climbed to the original tempo.
    pub(super) const fn stands(&self) -> bool {
        self.ahead.is_empty()
    }

    pub(super) fn rungs_left(&self) -> usize {
        self.ladder.rungs().len().saturating_sub(self.known.len())
    }

    /// Minutes of so many passes at a tempo, the rests between them included, rounded up.
    pub(super) fn minutes(&self, passes: u16, tempo: Tempo) -> u16 {
        whole_minutes(self.pass_s(tempo) * f64::from(passes))
    }

    /// Seconds of one pass at a tempo and the rest after it; at least 1.
    pub(super) fn pass_s(&self, tempo: Tempo) -> f64 {
        (self.today.beats.max(0.0) * 60.0 / tempo.bpm() + self.rest_s).max(1.0)
    }

    /// The rung that is climbed next.
    pub(super) fn wanted(&self) -> Tempo {
        let next = self.known.last().map_or(Some(self.ladder.first()), |known| self.ladder.above(*known));
        next.unwrap_or(self.ladder.last())
    }

    /// What the song would gain, were the section finished: its share of the song times what is left of its path.
    /// Half the path is the steps, half the ladder: a design choice of ours.
    pub(super) fn gain(&self) -> f64 {
        let steps = self.ahead.iter().filter(|step| **step != Step::Climb).count();
        let part = |left: usize, of: usize| left as f64 / of.max(1) as f64;
        let left = if self.stands() {
            0.0
        } else {
            0.5 * part(steps, PATH.len() - 1) + 0.5 * part(self.rungs_left(), self.ladder.rungs().len())
        };
        self.share() * left
    }

    /// Beats the song spends in it.
    pub(super) fn share(&self) -> f64 {
        f64::from(self.today.times.max(1)) * self.today.beats.max(0.0)
    }

    /// The fastest rung that was climbed, if it is not held, nor any above it, and was left alone long enough.
    pub(super) fn waits_to_be_held(&self, request: &TodayRequest) -> Option<Tempo> {
        let climb = self.today.climb.as_ref()?;
        let rung = *self.known.last()?;
        let held = climb.held(rung).is_some();
        let rested = request.now.since(climb.rungs.get(&rung)?.last_played) >= request.policy.hold_after_s;
        (!held && rested).then_some(rung)
    }

    /// Practice days since it was last played.
    pub(super) fn days(&self, request: &TodayRequest) -> Option<i64> {
        let last = self.today.climb.as_ref()?.last_pass?;
        Some((request.now.day(request.zone).0 - last.day(request.zone).0).max(0))
    }

    /// Whether it is not to be played now: told to rest, or played enough at its goal today.
    pub(super) fn rests(&self, request: &TodayRequest) -> bool {
        let told = self.today.rest.is_some_and(|rest| rest.lasts(request.now, request.zone, &request.policy));
        told || self.was_enough(request)
    }

    fn was_enough(&self, request: &TodayRequest) -> bool {
        let Some(climb) = &self.today.climb else { return false };
        let Some(arrived_after) = climb.top.arrived_after else { return false };
        let again = (f64::from(arrived_after) * request.policy.overlearn).floor();
        let surplus = f64::from(climb.top.clean.saturating_sub(arrived_after));
        self.days(request) == Some(0) && surplus >= again
    }
}

/// Seconds in minutes, rounded up, at least one.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a cast of floats saturates")]
pub(super) fn whole_minutes(seconds: f64) -> u16 {
    ((seconds / 60.0).ceil() as u16).max(1)
}
