//! Fingerings chosen for the changes of a section.

use sixrung_lesson::Shape;

use super::features::Weights;
use super::fingerings::fingerings;
use super::grip::Grip;
use super::labels::Costs;
use super::moves::ChangeMoves;
use super::needed::NeededChange;
use super::shape_cost::ShapeParts;

/// A fingering for each shape.
#[derive(Clone, Debug, PartialEq)]
pub struct Chosen {
    /// One entry a shape; `None` where no hand can take it.
    pub grips: Vec<Option<Grip>>,
    /// What one pass costs: for each change its own cost, and that of holding what comes. Where nothing changes, that
    /// of holding each shape once.
    pub cost: f64,
}

/// Chooses a fingering for each shape, so that a looped stretch costs least: the teacher's where one is given.
///
/// Each shape has one fingering wherever it comes: that is what a beginner can learn.
///
/// # Panics
/// When a change names a shape beyond `shapes`.
#[must_use]
pub fn choose_fingerings(changes: &[NeededChange], shapes: &[Shape], capo: u8, weights: &Weights) -> Chosen {
    let candidates = shapes.iter().map(|shape| fingerings(shape, capo)).collect();
    Section { changes, shapes, capo, weights }.choose(candidates)
}

/// The most candidates of one shape, and the most changes of fingering that are looked at: far more than a song of
/// ten shapes needs, and little enough for the blink of an eye. Design choices of ours.
const MOST_CANDIDATES: usize = 48;
const MOST_LOOKED_AT: usize = 30_000;

/// What is played, and what it costs.
#[derive(Clone, Copy)]
pub(super) struct Section<'a> {
    pub(super) changes: &'a [NeededChange],
    pub(super) shapes: &'a [Shape],
    pub(super) capo: u8,
    pub(super) weights: &'a Weights,
}

impl Section<'_> {
    /// Chooses among candidates, a list a shape.
    pub(super) fn choose(&self, mut candidates: Vec<Vec<Grip>>) -> Chosen {
        let most = self.most_candidates();
        candidates.iter_mut().for_each(|grips| grips.truncate(most));
        let costs = self.costs(&candidates);
        let choices = costs.least();
        let cost = costs.total(&choices);
        let grips = candidates
            .iter_mut()
            .zip(choices)
            .map(|(grips, choice)| (choice < grips.len()).then(|| grips.swap_remove(choice)));
        Chosen { grips: grips.collect(), cost }
    }

    /// How many candidates a shape may have, the easiest to hold being kept.
    fn most_candidates(&self) -> usize {
        (1..=MOST_CANDIDATES).rev().find(|most| most * most * self.changes.len() <= MOST_LOOKED_AT).unwrap_or(1)
    }

    fn costs(&self, candidates: &[Vec<Grip>]) -> Costs {
        let mut costs = Costs::default();
        for (shape, grips) in candidates.iter().enumerate() {
            let held = self.held(shape);
            let alone = grips.iter().map(|grip| held * ShapeParts::of(&self.shapes[shape], grip, self.capo).cost());
            // A shape that no hand can take has one choice, which costs nothing: there is nothing to be chosen.
            costs.alone.push(if grips.is_empty() { vec![0.0] } else { alone.collect() });
        }
        for change in self.changes {
            let (from, to) = (&candidates[change.from], &candidates[change.to]);
            if from.is_empty() || to.is_empty() || change.from == change.to {
                continue;
            }
            let (low, high) = (change.from.min(change.to), change.from.max(change.to));
            let together = costs
                .pairs
                .entry((low, high))
                .or_insert_with(|| vec![vec![0.0; candidates[high].len()]; candidates[low].len()]);
            for (left, from) in from.iter().enumerate() {
                for (comes, to) in to.iter().enumerate() {
                    let (row, column) = if change.from == low { (left, comes) } else { (comes, left) };
                    together[row][column] += self.change(from, to, change.times);
                }
            }
        }
        costs
    }

    /// How often a shape is taken in one pass; once where nothing changes into it.
    pub(super) fn held(&self, shape: usize) -> f64 {
        let into: u32 = self.changes.iter().filter(|change| change.to == shape).map(|change| change.times).sum();
        f64::from(into.max(1))
    }

    /// What a change costs in one pass.
    pub(super) fn change(&self, from: &Grip, to: &Grip, times: u32) -> f64 {
        f64::from(times) * self.weights.cost(&ChangeMoves::between(from, to, self.capo).features())
    }
}
