//! What lies around an onset, in numbers.

use sixrung_lesson::{Action, Direction};

use super::bands::{BANDS, GROUPS, LOOK_S, Look, Looker, SHORT_S};
use crate::median::median_f32;
use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::strums::LEAST_USUAL_RISE_DB;

/// How many numbers describe an onset.
pub const FEATURES: usize = 3 + 3 * BANDS + 5 + 6 + NOVEL + SHORT + SCORE;
const NOVEL: usize = 3 + BANDS / 2;
const SHORT: usize = 2 * GROUPS;
const SCORE: usize = 7;

/// The look after an onset begins so much before it (a Hann window rises slowly), the one before ends so much before
/// it, and the late look begins so much after it; in seconds.
const AFTER_S: f64 = -0.003;
const BEFORE_S: f64 = -0.0005;
const LATE_S: f64 = 0.048;
/// A bin that rises by this, and by this, has risen (natural logarithm of power: 3 and 7 dB).
const RISEN: [f32; 2] = [0.7, 1.6];
/// Bins' rises count within these limits.
const LIMITS: (f32, f32) = (-1.0, 3.0);
/// Rises, gains and leads in decibels, and differences of bands in natural logarithms, count up to these: beyond them
/// a rise out of silence is like any other.
const MOST_DB: f32 = 24.0;
const MOST_LN: f32 = 6.0;
/// Neighbouring onsets are looked at from here to here, in seconds: nearer ones are the same string.
const NEIGHBOURS_S: (f64, f64) = (0.006, 0.085);
/// What stands for the lead over a neighbour that is not there, in decibels.
const NO_NEIGHBOUR_DB: f32 = 10.0;
/// The pass's usual stroke is seen in onsets this near to an expected time, in seconds; at least so many.
const NEAR_S: f64 = 0.060;
const LEAST_USUAL: usize = 5;

/// Describes each onset of a pass: its own rise, gain and strength (beside the pass's usual), how each band rose, how
/// each goes on, how many bins rose, its neighbours, and how its colour differs from the pass's usual stroke. All but
/// the first are differences, so that a microphone's colour and level drop out.
#[must_use]
pub fn strum_features(onsets: &[Onset], sound: &PassSound, plan: &PassPlan) -> Vec<[f32; FEATURES]> {
    let mut looker = Looker::new(sound, LOOK_S);
    let mut short = Looker::new(sound, SHORT_S);
    let (low, high) = (looker.bins_below(1_030.0), looker.bins_below(1_970.0));
    let mut colours = Vec::with_capacity(onsets.len());
    let mut described: Vec<[f32; FEATURES]> = Vec::with_capacity(onsets.len());
    for index in 0..onsets.len() {
        let at_s = onsets[index].at_s;
        let before = looker.look(at_s + BEFORE_S - LOOK_S);
        let after = looker.look(at_s + AFTER_S);
        let late = looker.look(at_s + LATE_S);
        let mut row = Row::default();
        row.decibels(onsets[index].rise_db);
        row.decibels(onsets[index].gain_db);
        row.push(onsets[index].strength_db);
        (0..BANDS).for_each(|band| row.logarithm(after.bands[band] - before.bands[band]));
        (0..BANDS).for_each(|band| row.logarithm(late.bands[band] - after.bands[band]));
        bins(&mut row, &before, &after, low, high);
        neighbours(&mut row, onsets, index);
        row.next += BANDS;
        let novel = novelty(&before, &after);
        novel_bands(&mut row, &looker, &novel);
        let befores = short.look(at_s + SHORT_BEFORE_S - SHORT_S);
        let afters = short.look(at_s + SHORT_AFTER_S);
        let lates = short.look(at_s + SHORT_AFTER_S + SHORT_S);
        let [befores, afters, lates] = [befores, afters, lates].map(|look| short.groups(&look));
        (0..GROUPS).for_each(|group| row.logarithm(afters[group] - befores[group]));
        (0..GROUPS).for_each(|group| row.logarithm(lates[group] - afters[group]));
        score(&mut row, &looker, at_s, plan, &novel);
        colours.push(after.bands.map(|band| band - after.whole));
        described.push(row.filled);
    }
    beside_the_usual(&mut described, &colours, onsets, plan);
    described
}

/// Where the shares of new bins, what is asked for, and the novelty of the shape's partials stand.
pub(super) const SHARES_NEW: usize = COLOUR + BANDS;
pub(super) const SCORE_FROM: usize = FEATURES - SCORE;
pub(super) const PARTIALS_NEW: usize = FEATURES - 2;
/// Where the colour beside the usual one stands.
const COLOUR: usize = 3 + 2 * BANDS + 5 + 6;
/// A bin is new by what it rises above the loudest before within so much of its frequency, and two bins at least: a
/// voice's partials wander by up to 100 cents within a look (vibrato: Sundberg 1987), strings do not (vibrato
/// suppression by a maximum filter: Böck & Widmer, DAFx 2013).
const WANDER: f64 = 0.03;
const LEAST_WANDER_BINS: usize = 1;
/// Short looks begin and end so near an onset, in seconds.
const SHORT_BEFORE_S: f64 = -0.0005;
const SHORT_AFTER_S: f64 = -0.002;
/// Partials of the shape's strings that are looked at.
const PARTIALS: u8 = 6;

fn novelty(before: &Look, after: &Look) -> Vec<f32> {
    let bins = &before.bins;
    let new = |(bin, after): (usize, &f32)| {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            clippy::cast_precision_loss,
            reason = "a few bins"
        )]
        let reach = ((bin as f64 * WANDER) as usize).max(LEAST_WANDER_BINS);
        let around = &bins[bin.saturating_sub(reach)..(bin + reach + 1).min(bins.len())];
        after - around.iter().copied().fold(f32::MIN, f32::max)
    };
    after.bins.iter().enumerate().map(new).collect()
}

/// Shares of bins that are new, and how new each pair of bands is.
#[expect(clippy::cast_precision_loss, reason = "a few hundred bins")]
fn novel_bands(row: &mut Row, looker: &Looker<'_>, novel: &[f32]) {
    for risen in [0.0, 0.7, 1.6] {
        row.push(novel.iter().filter(|rise| **rise > risen).count() as f32 / novel.len().max(1) as f32);
    }
    let mut sums = [(0.0, 1e-6); BANDS / 2];
    for (bin, rise) in novel.iter().enumerate() {
        let (sum, count) = &mut sums[looker.band_of(bin) / 2];
        *sum += rise.clamp(LIMITS.0, LIMITS.1);
        *count += 1.0;
    }
    sums.iter().for_each(|(sum, count)| row.push(sum / count));
}

/// What is asked for where the onset is, and how new the partials of its shape are, beside the rest.
fn score(row: &mut Row, looker: &Looker<'_>, at_s: f64, plan: &PassPlan, novel: &[f32]) {
    let off = |index: &usize| (plan.starts_s + plan.strokes[*index].at_s - at_s).abs();
    let next = plan.strokes.partition_point(|stroke| plan.starts_s + stroke.at_s < at_s);
    let near = [next.checked_sub(1), Some(next)].into_iter().flatten().filter(|index| *index < plan.strokes.len());
    let Some(here) = near.min_by(|one, other| off(one).total_cmp(&off(other))) else {
        (0..SCORE).for_each(|_| row.push(0.0));
        return;
    };
    let stroke = &plan.strokes[here];
    #[expect(clippy::cast_possible_truncation, reason = "seconds")]
    let narrow = |seconds: f64| seconds.min(1.0) as f32;
    let before_s = here.checked_sub(1).map_or(1.0, |before| stroke.at_s - plan.strokes[before].at_s);
    row.push(narrow(stroke.slot_s));
    row.push(narrow(before_s));
    row.push(match stroke.action {
        Action::Bass => 0.0,
        Action::Chuck => 1.0,
        _ => 2.0,
    });
    row.push(if stroke.direction == Direction::Down { 0.0 } else { 1.0 });
    let changes = here.checked_sub(1).is_none_or(|before| plan.strokes[before].shape != stroke.shape);
    row.push(if changes { 1.0 } else { 0.0 });
    let shape = stroke.shape.and_then(|shape| plan.shapes.get(shape));
    let keys = shape.map_or(&[][..], |shape| &shape.strings[..]);
    let (mut on, mut off) = ((0.0, 1e-6_f32), (0.0, 1e-6_f32));
    for (bin, rise) in novel.iter().enumerate() {
        let hertz = looker.hertz(bin);
        let is_partial = keys.iter().flatten().any(|key| {
            let first = 440.0 * ((f64::from(key.0) - 69.0) / 12.0).exp2();
            let number = (hertz / first).round();
            (1.0..=f64::from(PARTIALS)).contains(&number)
                && (hertz - number * first).abs() < looker.hertz(1) - looker.hertz(0)
        });
        let (sum, count) = if is_partial { &mut on } else { &mut off };
        *sum += rise.clamp(LIMITS.0, LIMITS.1);
        *count += 1.0;
    }
    row.push(on.0 / on.1);
    row.push(on.0 / on.1 - off.0 / off.1);
}

/// Fills a description from the left.
struct Row {
    filled: [f32; FEATURES],
    next: usize,
}

impl Default for Row {
    fn default() -> Self {
        Self { filled: [0.0; FEATURES], next: 0 }
    }
}

impl Row {
    fn decibels(&mut self, number: f32) {
        self.push(number.clamp(-MOST_DB, MOST_DB));
    }

    fn logarithm(&mut self, number: f32) {
        self.push(number.clamp(-MOST_LN, MOST_LN));
    }

    fn push(&mut self, number: f32) {
        self.filled[self.next] = number;
        self.next += 1;
    }
}

#[expect(clippy::cast_precision_loss, reason = "a few hundred bins")]
fn bins(row: &mut Row, before: &Look, after: &Look, low: usize, high: usize) {
    let rises: Vec<f32> = after.bins.iter().zip(&before.bins).map(|(after, before)| after - before).collect();
    for risen in RISEN {
        row.push(rises.iter().filter(|rise| **rise > risen).count() as f32 / rises.len().max(1) as f32);
    }
    for part in [&rises[..], &rises[high..], &rises[..low]] {
        let sum: f32 = part.iter().map(|rise| rise.clamp(LIMITS.0, LIMITS.1)).sum();
        row.push(sum / part.len().max(1) as f32);
    }
}

/// How many onsets come shortly before and after, and the lead over the strongest of them.
#[expect(clippy::cast_precision_loss, reason = "a few dozen onsets")]
fn neighbours(row: &mut Row, onsets: &[Onset], index: usize) {
    let here = onsets[index];
    let (near, far) = NEIGHBOURS_S;
    let is_earlier = |onset: &&Onset| (near..=far).contains(&(here.at_s - onset.at_s));
    let is_later = |onset: &&Onset| (near..=far).contains(&(onset.at_s - here.at_s));
    let earlier: Vec<_> =
        onsets[..index].iter().rev().take_while(|o| here.at_s - o.at_s <= far).filter(is_earlier).collect();
    let later: Vec<_> = onsets[index..].iter().take_while(|o| o.at_s - here.at_s <= far).filter(is_later).collect();
    for side in [earlier, later] {
        let most = |of: fn(&Onset) -> f32| side.iter().map(|onset| of(onset)).reduce(f32::max);
        row.push(side.len() as f32);
        row.decibels(most(|onset| onset.rise_db).map_or(NO_NEIGHBOUR_DB, |rise| here.rise_db - rise));
        row.decibels(most(|onset| onset.strength_db).map_or(NO_NEIGHBOUR_DB, |strength| here.strength_db - strength));
    }
}

/// Takes the pass's usual strength off the strengths, and appends each onset's colour beside the usual colour.
fn beside_the_usual(described: &mut [[f32; FEATURES]], colours: &[[f32; BANDS]], onsets: &[Onset], plan: &PassPlan) {
    let expected: Vec<f64> = plan.times_s().collect();
    let is_strong = |index: &usize| onsets[*index].rise_db > LEAST_USUAL_RISE_DB;
    let is_near = |index: &usize| {
        let next = expected.partition_point(|at| *at < onsets[*index].at_s);
        let near = |at: Option<&f64>| at.is_some_and(|at| (at - onsets[*index].at_s).abs() < NEAR_S);
        near(expected.get(next)) || near(next.checked_sub(1).and_then(|before| expected.get(before)))
    };
    let all: Vec<usize> = (0..onsets.len()).collect();
    let strong: Vec<usize> = all.iter().copied().filter(is_strong).collect();
    let usual = if strong.is_empty() { &all } else { &strong };
    let mut strengths: Vec<f32> = usual.iter().map(|index| onsets[*index].strength_db).collect();
    let strength_db = median_f32(&mut strengths).unwrap_or(0.0);
    let near: Vec<usize> = all.iter().copied().filter(is_near).collect();
    let both: Vec<usize> = near.iter().copied().filter(is_strong).collect();
    let usual = [&both, &near].into_iter().find(|some| some.len() >= LEAST_USUAL).unwrap_or(&all);
    let colour: [f32; BANDS] = std::array::from_fn(|band| {
        let mut of_band: Vec<f32> = usual.iter().map(|index| colours[*index][band]).collect();
        median_f32(&mut of_band).unwrap_or(0.0)
    });
    for (row, own) in described.iter_mut().zip(colours) {
        row[2] = (row[2] - strength_db).clamp(-MOST_DB, MOST_DB);
        for band in 0..BANDS {
            row[COLOUR + band] = (own[band] - colour[band]).clamp(-MOST_LN, MOST_LN);
        }
    }
}
