//! Onsets and their log-odds to strums: at most one an expected stroke, and more evidence for one nobody asked for.

use std::ops::Range;
use std::sync::LazyLock;

use sixrung_lesson::{Action, Criterion};

use super::extras::{EXTRA_FEATURES, extra_features};
use super::features::{FEATURES, strum_features};
use super::slots::{NO_ODDS, SLOT_FEATURES, slot_features};
use crate::judge::offsets_s;
use crate::median::median;
use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::strums::{LARGEST_BIAS_S, Strum, cells, longest_sweep_s, strums as rises_alone};
use crate::trees::Trees;
use crate::window::{bias_limit_s, window_s};

static STROKE: LazyLock<Trees> = LazyLock::new(|| Trees::read(include_str!("stroke.txt"), FEATURES));
static FIRST: LazyLock<Trees> = LazyLock::new(|| Trees::read(include_str!("first.txt"), FEATURES));
static PLAYED: LazyLock<Trees> = LazyLock::new(|| Trees::read(include_str!("played.txt"), SLOT_FEATURES));
static FAULT: LazyLock<Trees> = LazyLock::new(|| Trees::read(include_str!("fault.txt"), SLOT_FEATURES));
static EXTRA: LazyLock<Trees> = LazyLock::new(|| Trees::read(include_str!("extra.txt"), EXTRA_FEATURES));

/// Log-odds of an onset by itself from which on it is surely a stroke, wherever it lies; and from which on one that lies
/// between the expected strokes is looked at. Chosen on the even takes of seeds 31000 to 34000.
const SURE_ODDS: f32 = 2.0;
pub(super) const LOOKED_AT_ODDS: f32 = -2.0;
/// Log-odds from which on an expected stroke was played, and a strum nobody asked for was. A stroke must be far likelier
/// than not: misses are rare, and most odds lie far from here. Chosen on takes the trees never saw: of seed 57000, of 20
/// players (seed 39000), and of seed 38000, in which all mistakes are misses: at 2, 2.5 and 3 of 1,290 misses 57, 43 and
/// 28 are heard, and of 24,180 strokes 91, 135 and 186 are not.
const PLAYED_ODDS: f32 = 2.75;
const EXTRA_ODDS: f32 = 0.0;
/// Where fewer than one stroke in so many was played, something else was: then all that is surely a stroke is one.
const SOMETHING_ELSE_SHARE: usize = 8;
/// Of two onsets that are both so likely the nearer one is the stroke: the other may be one nobody asked for.
const CLEAR_ODDS: f32 = 5.0;
/// Spread of a player's strokes around their time, in seconds, and the share of strokes that may lie anywhere: what
/// the nearness is worth.
const SPREAD_S: f64 = 0.035;
const ANYWHERE_SHARE: f64 = 0.05;

/// A first string is looked for before the likeliest one by at most a sweep, and this share of a slot: what lies
/// further back belongs to the stroke before.
const BACK_OF_SLOT: f64 = 0.25;
/// What is touched just before a strum can look likelier than its first string: so far after it is looked, in seconds.
const JUST_AFTER_S: f64 = 0.020;
/// Onsets so near to each other are one, in seconds.
const SAME_S: f64 = 0.0155;

/// The strums of a pass, and how sure that is.
#[derive(Clone, Debug, Default)]
pub(crate) struct Chosen {
    /// By time.
    pub(crate) strums: Vec<Strum>,
    /// Log-odds that each expected stroke was missed, early or late; `None` where another ear had to hear it.
    pub(crate) faults: Vec<Option<f32>>,
    /// Log-odds that a strum nobody asked for was played, wherever one may have been.
    pub(crate) extras: Vec<f32>,
}

/// What was found of a pass before anything is decided.
pub(super) struct Found<'a> {
    pub(super) plan: &'a PassPlan,
    pub(super) onsets: &'a [Onset],
    pub(super) described: Vec<[f32; FEATURES]>,
    /// Of each onset, that it is a stroke, and that it is a stroke's first string.
    pub(super) odds: Vec<f32>,
    pub(super) first_odds: Vec<f32>,
    /// The likeliest onset in the place of each expected stroke, its first string, its log-odds with its nearness, and
    /// those of the next likeliest.
    pub(super) best: Vec<Option<usize>>,
    pub(super) first: Vec<Option<usize>>,
    pub(super) worth: Vec<f32>,
    pub(super) second: Vec<f32>,
    /// How long a strum may last, and how far before its likeliest onset it may begin, in seconds.
    pub(super) longest_s: f64,
    back_s: f64,
}

/// Chooses the strums of a pass, by all that was kept of it.
pub(crate) fn choose(onsets: &[Onset], sound: &PassSound, plan: &PassPlan, criterion: &Criterion) -> Chosen {
    if plan.strokes.is_empty() {
        return Chosen::default();
    }
    let (found, sure, bias_s) = Found::new(onsets, Likely::by_trees(strum_features(onsets, sound, plan)), plan);
    let windows_s: Vec<f64> = plan.strokes.iter().map(|stroke| window_s(criterion.level, stroke.slot_s)).collect();
    let slots = slot_features(&found, &windows_s, bias_limit_s(criterion.level));
    let is_played: Vec<bool> = slots.iter().map(|slot| PLAYED.log_odds(slot) >= PLAYED_ODDS).collect();
    let mut faults: Vec<Option<f32>> = slots.iter().map(|slot| Some(FAULT.log_odds(slot))).collect();
    let played = found.first.iter().zip(&found.best).zip(&is_played).filter(|(_, played)| **played);
    let mut strums: Vec<Strum> = played
        .filter_map(|((first, best), _)| Some(found.strum((*first)?, found.odds[(*best)?] >= SURE_ODDS)))
        .collect();
    let mut extras = Vec::new();
    for (first, described) in extra_features(&found, &is_played) {
        let odds = EXTRA.log_odds(&described);
        extras.push(odds);
        if odds >= EXTRA_ODDS {
            strums.push(found.strum(first, true));
        }
    }
    for (index, chuck) in chucks_by_rises(onsets, plan, bias_s, &strums) {
        faults[index] = None;
        strums.push(chuck);
    }
    if strums.len() * SOMETHING_ELSE_SHARE < plan.strokes.len() {
        strums = sure;
    }
    strums.sort_unstable_by(|one, other| one.at_s.total_cmp(&other.at_s));
    Chosen { strums, faults, extras }
}

/// Onsets described, and how likely each is a stroke and a stroke's first string, as log-odds.
pub(super) struct Likely {
    pub(super) described: Vec<[f32; FEATURES]>,
    pub(super) odds: Vec<f32>,
    pub(super) first_odds: Vec<f32>,
}

impl Likely {
    pub(super) fn by_trees(described: Vec<[f32; FEATURES]>) -> Self {
        Self {
            odds: described.iter().map(|described| STROKE.log_odds(described)).collect(),
            first_odds: described.iter().map(|described| FIRST.log_odds(described)).collect(),
            described,
        }
    }
}

impl<'a> Found<'a> {
    /// Also gives what is surely a stroke, and the player's bias, in seconds.
    pub(super) fn new(onsets: &'a [Onset], likely: Likely, plan: &'a PassPlan) -> (Self, Vec<Strum>, f64) {
        let Likely { described, odds, first_odds } = likely;
        let slot_s = plan.strokes.iter().map(|stroke| stroke.slot_s).fold(f64::INFINITY, f64::min);
        let longest_s = longest_sweep_s(plan);
        let mut found = Self {
            odds,
            first_odds,
            described,
            plan,
            onsets,
            best: Vec::new(),
            first: Vec::new(),
            worth: Vec::new(),
            second: Vec::new(),
            longest_s,
            back_s: longest_s.min(BACK_OF_SLOT * slot_s),
        };
        let sure: Vec<Strum> = found
            .likely(SURE_ODDS, longest_s, Vec::new())
            .iter()
            .map(|index| found.strum(found.first_string(*index), true))
            .collect();
        let bias_s = median(&mut offsets_s(plan, &sure)).unwrap_or(0.0).clamp(-LARGEST_BIAS_S, LARGEST_BIAS_S);
        for (cell, at_s) in cells(plan, bias_s).iter().zip(plan.times_s()) {
            found.look_into(cell, at_s + bias_s);
        }
        (found, sure, bias_s)
    }

    /// The likeliest onset of a cell.
    fn look_into(&mut self, cell: &Range<f64>, at_s: f64) {
        let first = self.onsets.partition_point(|onset| onset.at_s < cell.start);
        let end = self.onsets.partition_point(|onset| onset.at_s < cell.end).max(first);
        let worth = |index: usize| self.odds[index] + nearness(self.onsets[index].at_s - at_s);
        let chosen = |index: usize| worth(index) - (self.odds[index] - CLEAR_ODDS).max(0.0);
        let best = (first..end).max_by(|one, other| chosen(*one).total_cmp(&chosen(*other)));
        let is_other =
            |index: &usize| best.is_some_and(|best| (self.onsets[*index].at_s - self.onsets[best].at_s).abs() > SAME_S);
        let second = (first..end).filter(is_other).map(worth).reduce(f32::max);
        let (worth, second) = (best.map_or(NO_ODDS, worth), second.unwrap_or(NO_ODDS));
        self.first.push(best.map(|best| self.first_string(best)));
        self.best.push(best);
        self.worth.push(worth);
        self.second.push(second);
    }

    /// Onsets at least so likely that lie so far from all `taken` times, the likeliest first, each taking its
    /// surroundings; by time.
    pub(super) fn likely(&self, least: f32, apart_s: f64, mut taken: Vec<f64>) -> Vec<usize> {
        let mut likely: Vec<usize> = (0..self.onsets.len()).filter(|index| self.odds[*index] >= least).collect();
        likely.sort_by(|one, other| self.odds[*other].total_cmp(&self.odds[*one]));
        likely.retain(|index| {
            let at_s = self.onsets[*index].at_s;
            let free = taken.iter().all(|other| (at_s - other).abs() > apart_s);
            if free {
                taken.push(at_s);
            }
            free
        });
        likely.sort_unstable();
        likely
    }

    /// The likeliest first string of the strum an onset is part of: a little before it, or just after.
    pub(super) fn first_string(&self, index: usize) -> usize {
        let at_s = self.onsets[index].at_s;
        let from = self.onsets.partition_point(|onset| onset.at_s < at_s - self.back_s);
        let end = self.onsets.partition_point(|onset| onset.at_s <= at_s + JUST_AFTER_S);
        let better = |one: &usize, other: &usize| self.first_odds[*one].total_cmp(&self.first_odds[*other]);
        (from..end).max_by(better).unwrap_or(index)
    }

    /// An onset and the strings that follow it.
    fn strum(&self, first: usize, certain: bool) -> Strum {
        let at_s = self.onsets[first].at_s;
        let strings = || self.onsets[first..].iter().take_while(|onset| onset.at_s - at_s <= self.longest_s);
        let most = |of: fn(&Onset) -> f32| strings().map(of).fold(f32::MIN, f32::max);
        Strum {
            at_s,
            strength_db: most(|onset| onset.strength_db),
            rise_db: most(|onset| onset.rise_db),
            gain_db: most(|onset| onset.gain_db),
            certain,
        }
    }
}

/// What rises alone make a strum where a chuck is expected and none was found: it has nothing that lasts to be known by.
fn chucks_by_rises(onsets: &[Onset], plan: &PassPlan, bias_s: f64, found: &[Strum]) -> Vec<(usize, Strum)> {
    if plan.strokes.iter().all(|stroke| stroke.action != Action::Chuck) {
        return Vec::new();
    }
    let others = rises_alone(onsets, plan);
    let cells = cells(plan, bias_s);
    let is_in = |strum: &&Strum, cell: &Range<f64>| cell.contains(&strum.at_s);
    let chucks = cells.iter().enumerate().filter(|(index, _)| plan.strokes[*index].action == Action::Chuck);
    let missing = chucks.filter(|(_, cell)| !found.iter().any(|strum| is_in(&strum, cell)));
    let steepest = |cell: &Range<f64>| {
        let inside = others.iter().filter(|strum| is_in(strum, cell));
        inside.max_by(|one, other| one.rise_db.total_cmp(&other.rise_db)).copied()
    };
    missing.filter_map(|(index, cell)| Some((index, steepest(cell)?))).collect()
}

#[expect(clippy::cast_possible_truncation, reason = "a logarithm")]
fn nearness(off_s: f64) -> f32 {
    let near = (-(off_s / SPREAD_S).powi(2) / 2.0).exp();
    (ANYWHERE_SHARE + (1.0 - ANYWHERE_SHARE) * near).ln() as f32
}
