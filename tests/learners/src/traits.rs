//! What tells one learner from another.

use crate::chance::Chance;

/// One learner's parameters. All ranges are design choices of ours, chosen such that most learners can play the slowest
/// rung within days and the original tempo within the month.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Traits {
    /// Spread that stays however much is practised, as a share of a slot: 2 to 4 % of the interval are reported for
    /// trained tapping, 4 to 6 % for untrained (from memory).
    pub steady_share: f64,
    /// Spread on top of it before any practice, at four slots a second, in milliseconds.
    pub strain_ms: f64,
    /// The strain grows with this power of the slots a second.
    pub strain_power: f64,
    /// Chance that a change breaks before any practice, with a quarter of a second to make it.
    pub break_chance: f64,
    /// It grows with this power of the shortness of the time.
    pub break_power: f64,
    /// Exponent of the power law by which strain and breaks fall with practice.
    pub learning: f64,
    /// What one faultless pass adds to the practice done.
    pub pace: f64,
    /// How much less a pass full of faults teaches: 0 as much as any other, 1 nothing. Number of incorrect trials went
    /// with poorer playing a day later (Duke, Simmons & Cash 2009, JRME, abstract read); how much of that is cause is
    /// not known, so it is drawn from end to end.
    pub harm: f64,
    /// How far practice reaches up: at a tempo e^this times the practised one it counts 1/e.
    pub reach: f64,
    /// Share of a day's gain that is gone after a night.
    pub forgets: f64,
    /// Share by which errors grow in ten minutes of playing without rest.
    pub tires: f64,
    /// Median offset before any practice, in milliseconds, negative is early: untrained players lead a beat by 20 to
    /// 80 ms (second-hand).
    pub bias_ms: f64,
}

impl Traits {
    /// Draws a learner.
    #[must_use]
    pub fn draw(chance: &mut Chance) -> Self {
        Self {
            steady_share: chance.between(0.03, 0.06),
            strain_ms: (60.0 * (0.35 * chance.normal()).exp()).clamp(20.0, 160.0),
            strain_power: chance.between(1.2, 2.2),
            break_chance: chance.between(0.15, 0.6),
            break_power: chance.between(1.5, 3.0),
            learning: chance.between(0.3, 0.6),
            pace: (0.3 * chance.normal()).exp().clamp(0.4, 2.5),
            harm: chance.unit(),
            reach: chance.between(0.15, 0.35),
            forgets: chance.between(0.2, 0.5),
            tires: chance.between(0.0, 0.15),
            bias_ms: chance.between(-60.0, -10.0),
        }
    }
}
