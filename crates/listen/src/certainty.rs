//! How likely a pass was clean, and whether that is sure enough to say.
//!
//! Each stroke was a fault with some probability, each moment between them an extra one, each chord another one. Taken
//! as independent, the number of faults has a Poisson binomial distribution (Hodges & Le Cam 1960); a pass is clean
//! when it stays within what is allowed.

use crate::evidence::Chosen;
use crate::verdict::{Finding, PassVerdict, Reason, Verdict};
use crate::window::allowed_extras;

/// "Clean" stands when it is at least so likely, "not clean" too; between, it can't be told. Chosen on seed 57000 so that
/// few passes are withheld where nobody sings. To call clean what is not does more harm: the ladder goes on from it.
const SURELY_CLEAN: f64 = 0.70;
const SURELY_NOT_CLEAN: f64 = 0.55;
/// Where a stroke had to be heard by its rise alone, it was what it was judged to be in so many of a hundred.
const BY_RISE: f64 = 0.95;

/// Turns a verdict that is not likely enough into "not judged".
pub(crate) fn withhold(pass: &mut PassVerdict, chosen: &Chosen, chords: &[f32]) {
    let clean = clean_probability(pass, chosen, chords);
    let is_sure = match pass.verdict {
        Verdict::Clean => clean >= SURELY_CLEAN,
        Verdict::NotClean => 1.0 - clean >= SURELY_NOT_CLEAN,
        Verdict::NotJudged(_) => true,
    };
    if !is_sure {
        pass.verdict = Verdict::NotJudged(Reason::Unclear);
    }
}

fn clean_probability(pass: &PassVerdict, chosen: &Chosen, chords: &[f32]) -> f64 {
    let by_rise = |finding: Finding| if finding == Finding::InTime { 1.0 - BY_RISE } else { BY_RISE };
    let strokes = pass.strokes.iter().zip(&chosen.faults);
    let faults = strokes.map(|(stroke, odds)| odds.map_or_else(|| by_rise(stroke.finding), probability));
    let extras = chosen.extras.iter().map(|odds| probability(*odds));
    let right: f64 = chords.iter().map(|odds| 1.0 - probability(*odds)).product();
    at_most(pass.allowed_faults as usize, faults) * at_most(allowed_extras(pass.strokes.len()), extras) * right
}

fn probability(log_odds: f32) -> f64 {
    1.0 / (1.0 + (-f64::from(log_odds)).exp())
}

/// How likely no more than `most` of independent events happen, that have these probabilities.
fn at_most(most: usize, probabilities: impl Iterator<Item = f64>) -> f64 {
    let mut of_count = vec![0.0; most + 1];
    of_count[0] = 1.0;
    for happens in probabilities {
        for count in (0..=most).rev() {
            let one_fewer = if count > 0 { of_count[count - 1] } else { 0.0 };
            of_count[count] = of_count[count] * (1.0 - happens) + one_fewer * happens;
        }
    }
    of_count.iter().sum()
}

#[cfg(test)]
mod tests {
    use super::at_most;

    #[test]
    fn equal_chances_give_the_binomial_distribution() {
        // C(4,0..=2) / 16, from the table of binomial coefficients.
        let chance = |most| at_most(most, [0.5; 4].into_iter());
        assert_eq!([chance(0), chance(1), chance(2), chance(4)], [1.0 / 16.0, 5.0 / 16.0, 11.0 / 16.0, 1.0]);
    }

    #[test]
    fn unequal_chances_are_added_up_over_all_ways() {
        // .2·.3 + (.8·.3 + .2·.7): none and exactly one of two.
        assert!((at_most(1, [0.8, 0.7].into_iter()) - 0.44).abs() < 1e-12);
    }
}
