//! One learner's month with one policy: passes played, judged by the ear's judge, and taken to the real climb.

use sixrung_lesson::{Criterion, Tempo};
use sixrung_listen::{PassPlan, Verdict};
use sixrung_practice::{Climb, Effect, Input, Marked, Moment, Pass, Policy, Proposal, RestReason, UtcOffset};

use crate::chance::Chance;
use crate::contenders::Contender;
use crate::learner::Learner;
use crate::part::Part;
use crate::played::judged;
use crate::traits::Traits;

/// Days of a month.
pub const DAYS: u32 = 30;
/// A climb is called false where the true chance of a clean pass was below this. Design choices of ours, as is all
/// about the days that follows.
pub const SURELY_CLEAN: f64 = 0.7;
/// Practice is hard where that chance is below this: where the default policy lets the section rest.
const HARD_BELOW: f64 = 0.6;
/// Seconds a day for this section, rests between passes and models heard included, time away from it not.
const A_DAY_S: f64 = 600.0;
/// Seconds spent on something else when the section is to rest.
const AWAY_S: f64 = 180.0;
/// Practice begins at six in the evening.
const BEGINS_S: i64 = 18 * 3600;
const DAY_S: i64 = 86_400;
const NIGHT_H: f64 = 8.0;
const PIECE: &str = "section";

/// When something was reached.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reached {
    /// The day, from 1.
    pub day: u32,
    /// Passes played so far, runs at tempo included.
    pub passes: u32,
    /// Seconds played so far.
    pub played_s: f64,
}

/// What became of one learner's month. It ends where they both are said to stand at the original tempo and truly do.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Month {
    /// When the policy first said that the section stands at the original tempo.
    pub arrived: Option<Reached>,
    /// Whether a clean pass there was then less likely than .7.
    pub arrived_falsely: bool,
    /// When a clean pass at the original tempo had truly become as likely as .7.
    pub able: Option<Reached>,
    /// Passes played, runs included.
    pub passes: u32,
    /// Passes judged.
    pub judged: u32,
    /// Judged passes that were not clean.
    pub not_clean: u32,
    /// Seconds played.
    pub played_s: f64,
    /// Seconds played in judged passes whose true chance was below .6.
    pub hard_s: f64,
    /// Rungs climbed, and the first arrival at the top.
    pub climbs: u32,
    /// Those made although the learner's true chance of a clean pass on the rung that was left was below .7 when the
    /// pass that led to it was played.
    pub false_climbs: u32,
    /// The slowest and the fastest rung stood on.
    pub between: Option<(Tempo, Tempo)>,
}

/// Lets a learner practise `part` with `contender` for a month of days.
#[must_use]
pub fn month(learner: Learner, contender: &Contender, part: &Part, chance: Chance) -> Month {
    let climb = Climb::new(contender.ladder(part.original), contender.policy, UtcOffset::default());
    let mut practice = Practice {
        learner,
        chance,
        part,
        criterion: Criterion::default(),
        plans: Vec::new(),
        judged_since_run: 0,
        climb,
        now_s: 0.0,
        used_s: 0.0,
        month: Month::default(),
    };
    for day in 1..=DAYS {
        practice.day(day);
        if practice.is_over() {
            break;
        }
    }
    practice.month
}

/// The months of `count` learners drawn from `seed`, the same ones for every contender; `adjust` may change them.
#[must_use]
pub fn months(
    contender: &Contender,
    part: &Part,
    count: u32,
    seed: u64,
    adjust: impl Fn(Traits) -> Traits,
) -> Vec<Month> {
    let one = |index: u32| {
        let stream = u64::from(index) * 2;
        let traits = adjust(Traits::draw(&mut Chance::new(seed, stream)));
        month(Learner::new(traits), contender, part, Chance::new(seed, stream + 1))
    };
    (0..count).map(one).collect()
}

struct Practice<'a> {
    learner: Learner,
    chance: Chance,
    part: &'a Part,
    criterion: Criterion,
    plans: Vec<(Tempo, PassPlan)>,
    judged_since_run: u32,
    climb: Climb,
    now_s: f64,
    used_s: f64,
    month: Month,
}

impl Practice<'_> {
    fn day(&mut self, day: u32) {
        #[expect(clippy::cast_precision_loss, reason = "seconds of a month")]
        let begins_s = (i64::from(day) * DAY_S + BEGINS_S) as f64;
        self.now_s = begins_s;
        self.used_s = 0.0;
        self.climb.update(Input::Open, self.now());
        self.judged_since_run = 0;
        while !self.is_over() {
            let run = self.climb.is_run_due(self.judged_since_run);
            let tempo = if run { self.climb.ladder().last() } else { self.climb.at() };
            if self.climb.hear_first(self.now()) && !run {
                let length_s = self.plan(tempo).length_s;
                self.spend(length_s);
            }
            let Policy { rest_between_passes_s, .. } = *self.climb.policy();
            let rest_s = f64::from(rest_between_passes_s);
            if self.used_s + rest_s + self.plan(tempo).length_s > A_DAY_S {
                break;
            }
            self.learner.rest(rest_s);
            self.spend(rest_s);
            if run {
                self.run_at_tempo(day, tempo);
            } else if !self.judged_pass(day, tempo) {
                break;
            }
        }
        self.learner.sleep(NIGHT_H);
    }

    fn run_at_tempo(&mut self, day: u32, tempo: Tempo) {
        let plan = self.plan(tempo);
        self.learner.pass(PIECE, tempo, &plan, &mut self.chance);
        self.played(day, &plan);
        self.judged_since_run = 0;
        self.climb.update(Input::Run, self.now());
    }

    /// Plays a pass and does what the climb answers; false where that is enough for the day.
    fn judged_pass(&mut self, day: u32, tempo: Tempo) -> bool {
        let plan = self.plan(tempo);
        let chance_of_clean = self.learner.chance_of_clean(PIECE, tempo, &plan, &self.criterion);
        let played = self.learner.pass(PIECE, tempo, &plan, &mut self.chance);
        let verdict = judged(&plan, &played, &self.criterion).verdict;
        self.played(day, &plan);
        self.judged_since_run += 1;
        self.month.judged += 1;
        self.month.not_clean += u32::from(verdict == Verdict::NotClean);
        if chance_of_clean < HARD_BELOW {
            self.month.hard_s += plan.length_s;
        }
        let now = self.now();
        let effects = self.climb.update(Input::Pass(Pass { tempo, verdict, marked: Marked::Heard }), now);
        let mut goes_on = true;
        for effect in effects {
            match effect {
                Effect::Climbed { .. } => self.climbed(chance_of_clean),
                Effect::Arrived if self.month.arrived.is_none() => {
                    self.climbed(chance_of_clean);
                    self.month.arrived_falsely = chance_of_clean < SURELY_CLEAN;
                    self.month.arrived = Some(self.reached(day));
                }
                Effect::Propose(offered) if offered.iter().any(|offer| matches!(offer, Proposal::HalfRung(_))) => {
                    self.climb.update(Input::TakeHalfRung, now);
                }
                Effect::RestSection(RestReason::Enough { .. }) => goes_on = false,
                Effect::RestSection(_) => {
                    self.learner.rest(AWAY_S);
                    self.now_s += AWAY_S;
                }
                _ => {}
            }
        }
        let at = self.climb.at();
        let (low, high) = self.month.between.unwrap_or((tempo, tempo));
        self.month.between = Some((low.min(at), high.max(at)));
        goes_on
    }

    fn climbed(&mut self, chance_of_clean: f64) {
        self.month.climbs += 1;
        self.month.false_climbs += u32::from(chance_of_clean < SURELY_CLEAN);
    }

    fn played(&mut self, day: u32, plan: &PassPlan) {
        self.month.passes += 1;
        self.month.played_s += plan.length_s;
        self.spend(plan.length_s);
        let original = self.part.original;
        let plan = self.plan(original);
        let chance_of_clean = self.learner.chance_of_clean(PIECE, original, &plan, &self.criterion);
        if self.month.able.is_none() && chance_of_clean >= SURELY_CLEAN {
            self.month.able = Some(self.reached(day));
        }
    }

    fn is_over(&self) -> bool {
        self.month.arrived.is_some() && self.month.able.is_some()
    }

    fn spend(&mut self, seconds: f64) {
        self.now_s += seconds;
        self.used_s += seconds;
    }

    fn reached(&self, day: u32) -> Reached {
        Reached { day, passes: self.month.passes, played_s: self.month.played_s }
    }

    fn now(&self) -> Moment {
        #[expect(clippy::cast_possible_truncation, reason = "seconds of a month")]
        let now = Moment(self.now_s as i64);
        now
    }

    fn plan(&mut self, tempo: Tempo) -> PassPlan {
        if let Some((_, plan)) = self.plans.iter().find(|(of, _)| *of == tempo) {
            return plan.clone();
        }
        let plan = self.part.plan(tempo);
        self.plans.push((tempo, plan.clone()));
        plan
    }
}
