//! What the months of many learners come to, with intervals.

use std::fmt::Write as _;

use crate::chance::Chance;
use crate::month::{Month, Reached};

/// Samples of the bootstrap (Efron 1979): learners drawn with replacement, and the middle 95 of 100 results taken.
const RESAMPLES: usize = 2000;
const TAIL: f64 = 0.025;

/// A figure and its 95 % bootstrap interval; infinite where half the learners never got there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Interval {
    /// Of the learners as they are.
    pub value: f64,
    /// 2.5 of 100 resamples lie below.
    pub low: f64,
    /// 2.5 of 100 lie above.
    pub high: f64,
}

/// The figures of one policy.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Figures {
    /// Share of learners who arrive at the original tempo within the month.
    pub arrive: Interval,
    /// Median passes to there.
    pub passes: Interval,
    /// Median minutes of playing to there.
    pub minutes: Interval,
    /// Share of those arrivals that are false.
    pub false_arrivals: Interval,
    /// Share of learners who are truly able to play it within the month.
    pub able: Interval,
    /// Median minutes of playing until they are.
    pub minutes_to_able: Interval,
    /// Share of all climbs that are false.
    pub false_climbs: Interval,
    /// Share of judged passes that are not clean.
    pub not_clean: Interval,
    /// Share of playing time spent where the true chance of a clean pass is below .6.
    pub hard: Interval,
}

impl Figures {
    /// Reckons them; `seed` is the bootstrap's.
    #[must_use]
    pub fn of(months: &[Month], seed: u64) -> Self {
        let bootstrap = |statistic: &dyn Fn(&[&Month]) -> f64| interval(months, seed, statistic);
        Self {
            arrive: bootstrap(&|months| share(months, |month| month.arrived.is_some())),
            passes: bootstrap(&|months| median(months, |month| month.arrived.map(|at| f64::from(at.passes)))),
            minutes: bootstrap(&|months| median(months, |month| month.arrived.map(minutes))),
            false_arrivals: bootstrap(&|months| {
                ratio(months, |month| {
                    (f64::from(u8::from(month.arrived_falsely)), f64::from(u8::from(month.arrived.is_some())))
                })
            }),
            able: bootstrap(&|months| share(months, |month| month.able.is_some())),
            minutes_to_able: bootstrap(&|months| median(months, |month| month.able.map(minutes))),
            false_climbs: bootstrap(&|months| {
                ratio(months, |month| (f64::from(month.false_climbs), f64::from(month.climbs)))
            }),
            not_clean: bootstrap(&|months| {
                ratio(months, |month| (f64::from(month.not_clean), f64::from(month.judged)))
            }),
            hard: bootstrap(&|months| ratio(months, |month| (month.hard_s, month.played_s))),
        }
    }
}

/// A table in Markdown, one row a policy.
#[must_use]
pub fn table(rows: &[(String, Figures)]) -> String {
    let mut table = String::from(
        "| policy | arrive | passes | minutes | falsely | able | minutes | false climbs | not clean | hard |\n\
         |---|---|---|---|---|---|---|---|---|---|\n",
    );
    for (name, figures) in rows {
        let cells = [
            percent(figures.arrive),
            number(figures.passes),
            number(figures.minutes),
            percent(figures.false_arrivals),
            percent(figures.able),
            number(figures.minutes_to_able),
            percent(figures.false_climbs),
            percent(figures.not_clean),
            percent(figures.hard),
        ];
        // Writing to a string can't fail.
        let _ = writeln!(table, "| {name} | {} |", cells.join(" | "));
    }
    table
}

fn percent(Interval { value, low, high }: Interval) -> String {
    format!("{:.0} % ({:.0}–{:.0})", 100.0 * value, 100.0 * low, 100.0 * high)
}

fn number(Interval { value, low, high }: Interval) -> String {
    let text = |number: f64| if number.is_finite() { format!("{number:.0}") } else { "never".to_owned() };
    format!("{} ({}–{})", text(value), text(low), text(high))
}

fn interval(months: &[Month], seed: u64, statistic: &dyn Fn(&[&Month]) -> f64) -> Interval {
    let all: Vec<&Month> = months.iter().collect();
    let mut chance = Chance::new(seed, u64::MAX);
    let mut drawn: Vec<&Month> = Vec::with_capacity(all.len());
    let mut results: Vec<f64> = (0..RESAMPLES)
        .map(|_| {
            drawn.clear();
            drawn.extend((0..all.len()).map(|_| all[chance.below(all.len())]));
            statistic(&drawn)
        })
        .collect();
    results.sort_unstable_by(f64::total_cmp);
    #[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "2000")]
    let tail = (TAIL * RESAMPLES as f64) as usize;
    Interval { value: statistic(&all), low: results[tail], high: results[RESAMPLES - 1 - tail] }
}

#[expect(clippy::cast_precision_loss, reason = "counts of learners")]
fn share(months: &[&Month], is: impl Fn(&Month) -> bool) -> f64 {
    months.iter().filter(|month| is(month)).count() as f64 / months.len().max(1) as f64
}

fn ratio(months: &[&Month], parts: impl Fn(&Month) -> (f64, f64)) -> f64 {
    let sum =
        months.iter().map(|month| parts(month)).fold((0.0, 0.0), |sum, (part, whole)| (sum.0 + part, sum.1 + whole));
    if sum.1 > 0.0 { sum.0 / sum.1 } else { 0.0 }
}

/// Those who never get there count as infinitely late.
fn median(months: &[&Month], value: impl Fn(&Month) -> Option<f64>) -> f64 {
    let mut values: Vec<f64> = months.iter().map(|month| value(month).unwrap_or(f64::INFINITY)).collect();
    let middle = values.len() / 2;
    if values.is_empty() { f64::INFINITY } else { *values.select_nth_unstable_by(middle, f64::total_cmp).1 }
}

fn minutes(reached: Reached) -> f64 {
    reached.played_s / 60.0
}
