//! The strokes of one span of a chord to what is wrong with its strings.

use super::form::LearnedShape;
use super::grid::{POINTS, Spectra, WINDOWS};
use super::hypotheses::{self, Deed, FLOOR, Hypothesis, Known};
use super::segments::decibels;
use crate::sound::PassSound;
use crate::verdict::StringFault;

/// Most faults told of one shape: a hand with more than two strings wrong holds another chord.
const MOST_FAULTS: usize = 2;
/// By how much a fault must explain a span better than no fault, as a log-likelihood. Tuned on made takes (seed 33000,
/// 20 players, close and across a room, two makers of strings): over 439 spans without a fault the best that a dead
/// string reached was −0.1, a wrong fret −11 and an open string less; of faults planted, most reach 5 and more.
const NEEDED: [(StringFault, f64); 3] =
    [(StringFault::Dead, 0.3), (StringFault::WrongFret, 3.0), (StringFault::ShouldBeMuted, 2.0)];
/// A change of level that explains more than this is believed before faults are weighed: a design choice of ours.
const LEVEL_NEEDED: f64 = 4.0;
/// What is explained worse than this by everything is another chord, or no guitar: nothing is said of its strings. On
/// the same takes spans without a fault stay below 1.0, with one below 1.9; most wrong chords lie between 2.2 and 3.7.
const WORST_FIT: f64 = 2.1;

/// Mean levels of strokes heard in one window: index of the known window, levels in decibels, share of the strokes.
pub(super) type Pooled = (usize, Vec<f64>, f64);

/// One learned shape, ready to compare strokes with.
pub(super) struct StringEar {
    known: Vec<Known>,
    hypotheses: Vec<Hypothesis>,
}

/// A stroke of a span: when, and how long it was left alone, in seconds.
pub(super) type Stroke = (f64, f64);

impl StringEar {
    pub(super) fn new(shape: &LearnedShape) -> Self {
        let (known, hypotheses) = hypotheses::of(shape);
        Self { known, hypotheses }
    }

    /// What is wrong, by string index, the heaviest first; pooled over the strokes of a span.
    pub(super) fn listen(
        &self,
        spectra: &mut Spectra,
        sound: &PassSound,
        strokes: &[Stroke],
    ) -> Vec<(usize, StringFault)> {
        let pooled = self.pool(spectra, sound, strokes);
        if pooled.is_empty() {
            return Vec::new();
        }
        let mut bands: Vec<Vec<f64>> = self.known.iter().map(|known| known.mean.clone()).collect();
        let mut fit = self.fit(&pooled, &bands, None);
        let mut found: Vec<(usize, StringFault)> = Vec::new();
        let mut settled: Vec<usize> = Vec::new();
        while found.len() <= MOST_FAULTS {
            let open = self.hypotheses.iter().filter(|hypothesis| !settled.contains(&hypothesis.string));
            let tried = open.map(|hypothesis| (self.fit(&pooled, &bands, Some(hypothesis)), hypothesis));
            let tried: Vec<_> = tried.collect();
            let best = |is_fault: bool| {
                let kind = tried.iter().filter(|tried| matches!(tried.1.deed, Deed::Fault(_)) == is_fault);
                kind.max_by(|one, other| one.0.total_cmp(&other.0))
            };
            let level = best(false).map_or(fit, |level| level.0.max(fit));
            let next = match (best(true), best(false)) {
                (Some((with, hypothesis)), _) if with - level > needed(hypothesis.deed) => hypothesis,
                (_, Some((with, hypothesis))) if with - fit > LEVEL_NEEDED => hypothesis,
                _ => break,
            };
            for (bands, change) in bands.iter_mut().zip(&next.changes) {
                bands.iter_mut().zip(change).for_each(|(band, change)| *band += change);
            }
            settled.push(next.string);
            if let Deed::Fault(fault) = next.deed {
                found.push((next.string, fault));
            }
            fit = self.fit(&pooled, &bands, None);
        }
        if found.len() > MOST_FAULTS || -fit / self.weight(&pooled) > WORST_FIT {
            return Vec::new();
        }
        found
    }

    /// The shape's windows.
    pub(super) fn known(&self) -> &[Known] {
        &self.known
    }

    /// Power of another learned shape in each band of each of this one's windows; `None` where it lacks a window.
    pub(super) fn bands_of(&self, other: &LearnedShape) -> Option<Vec<Vec<f64>>> {
        let of_window = |known: &Known| {
            let window = other.windows.iter().find(|window| WINDOWS[known.window].is(window))?;
            Some(window.mean_db.iter().map(|level| 10.0_f64.powf(level / 10.0)).collect())
        };
        self.known.iter().map(of_window).collect()
    }

    /// The best fit of the shape with up to `most` of its strings doing what `allowed` allows, one after the other.
    pub(super) fn tolerant_fit(&self, pooled: &[Pooled], most: usize, allowed: &dyn Fn(Deed) -> bool) -> f64 {
        let mut bands: Vec<Vec<f64>> = self.known.iter().map(|known| known.mean.clone()).collect();
        let mut fit = self.fit(pooled, &bands, None);
        let mut settled: Vec<usize> = Vec::new();
        while settled.len() < most {
            let open = self.hypotheses.iter().filter(|one| allowed(one.deed) && !settled.contains(&one.string));
            let tried = open.map(|one| (self.fit(pooled, &bands, Some(one)), one));
            let Some((with, best)) = tried.max_by(|one, other| one.0.total_cmp(&other.0)) else { break };
            if with <= fit {
                break;
            }
            for (bands, change) in bands.iter_mut().zip(&best.changes) {
                bands.iter_mut().zip(change).for_each(|(band, change)| *band += change);
            }
            settled.push(best.string);
            fit = with;
        }
        fit
    }

    /// What all bands of the strokes weigh.
    pub(super) fn weight(&self, pooled: &[Pooled]) -> f64 {
        pooled.iter().map(|(known, _, share)| share * self.known[*known].weights.iter().sum::<f64>()).sum()
    }

    /// Each stroke is heard in the longest window it was left alone for.
    pub(super) fn pool(&self, spectra: &mut Spectra, sound: &PassSound, strokes: &[Stroke]) -> Vec<Pooled> {
        let mut sums: Vec<(f64, Vec<f64>)> = vec![(0.0, vec![0.0; POINTS]); self.known.len()];
        for (at_s, alone_s) in strokes {
            let fits = self.known.iter().rposition(|known| WINDOWS[known.window].needs_s() <= *alone_s);
            let Some(index) = fits else { continue };
            let Some(spectrum) = spectra.of(sound, *at_s, self.known[index].window) else { continue };
            sums[index].0 += 1.0;
            sums[index].1.iter_mut().zip(spectrum).for_each(|(sum, power)| *sum += decibels(power + FLOOR));
        }
        let count: f64 = sums.iter().map(|sum| sum.0).sum();
        let heard = sums.into_iter().enumerate().filter(|(_, sum)| sum.0 > 0.0);
        heard.map(|(index, (n, sum))| (index, sum.into_iter().map(|level| level / n).collect(), n / count)).collect()
    }

    pub(super) fn fit(&self, pooled: &[Pooled], bands: &[Vec<f64>], with: Option<&Hypothesis>) -> f64 {
        let mut expected = vec![0.0; POINTS];
        let one = |(known, heard_db, share): &Pooled| {
            expected.copy_from_slice(&bands[*known]);
            if let Some(hypothesis) = with {
                expected.iter_mut().zip(&hypothesis.changes[*known]).for_each(|(power, change)| *power += change);
            }
            share * self.known[*known].fit(heard_db, &expected)
        };
        pooled.iter().map(one).sum()
    }
}

fn needed(deed: Deed) -> f64 {
    NEEDED.iter().find(|(fault, _)| deed == Deed::Fault(*fault)).map_or(f64::INFINITY, |needed| needed.1)
}
