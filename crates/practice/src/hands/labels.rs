//! One choice for each of many things, so that the sum of what they cost alone and in pairs is least.
//!
//! Dynamic programming over a graph (variable elimination: Bertelè & Brioschi, *Nonserial Dynamic Programming*, 1972,
//! from memory): a section returns to its shapes, and each is to have one fingering, so that the chain of its changes
//! closes upon itself in many places. Choices that can't be part of the best are left out before (dead-end elimination:
//! Goldstein 1994, from memory).

use std::collections::{BTreeMap, BTreeSet};

/// The most entries of a table. Only a lesson with many shapes of many fingerings, all changing to all, needs more: of
/// each of its shapes the dearest fingerings are then left out. A design choice of ours.
const LARGEST_TABLE: usize = 200_000;

/// Costs of a choice alone, and of two choices together.
#[derive(Clone, Debug, Default)]
pub(super) struct Costs {
    /// For each thing, the cost of each of its choices; at least one each.
    pub(super) alone: Vec<Vec<f64>>,
    /// For two things, the lower first, the costs of their choices together: a row for each choice of the first.
    pub(super) pairs: BTreeMap<(usize, usize), Vec<Vec<f64>>>,
}

impl Costs {
    /// What a choice for each thing costs.
    pub(super) fn total(&self, choices: &[usize]) -> f64 {
        let alone: f64 = self.alone.iter().zip(choices).map(|(costs, choice)| costs[*choice]).sum();
        let pairs: f64 = self.pairs.iter().map(|((one, other), costs)| costs[choices[*one]][choices[*other]]).sum();
        alone + pairs
    }

    /// The choice for each thing of the least total.
    pub(super) fn least(&self) -> Vec<usize> {
        let mut left: Vec<Vec<usize>> = self.alone.iter().map(|costs| (0..costs.len()).collect()).collect();
        let neighbours = self.neighbours();
        while self.leave_out_some(&mut left, &neighbours) {}
        let most = left.iter().map(Vec::len).max().unwrap_or(0);
        for most in (1..most).rev() {
            if self.order(&left).is_some() {
                break;
            }
            left.iter_mut().for_each(|choices| choices.truncate(most));
        }
        let Some(order) = self.order(&left) else { return left.iter().map(|choices| choices[0]).collect() };
        self.eliminate(&left, &order)
    }

    fn pair(&self, (one, choice): (usize, usize), (other, choice_of_other): (usize, usize)) -> f64 {
        if one < other {
            self.pairs[&(one, other)][choice][choice_of_other]
        } else {
            self.pairs[&(other, one)][choice_of_other][choice]
        }
    }

    fn neighbours(&self) -> Vec<BTreeSet<usize>> {
        let mut neighbours = vec![BTreeSet::new(); self.alone.len()];
        for (one, other) in self.pairs.keys() {
            neighbours[*one].insert(*other);
            neighbours[*other].insert(*one);
        }
        neighbours
    }

    /// Leaves out choices that cost more than another one whatever is chosen around them; whether there were any.
    fn leave_out_some(&self, left: &mut [Vec<usize>], neighbours: &[BTreeSet<usize>]) -> bool {
        /// Equal sums differ by rounding: only a clear loss counts.
        const CLEARLY: f64 = 1e-9;
        let before: usize = left.iter().map(Vec::len).sum();
        for thing in 0..left.len() {
            let mut at = 0;
            while at < left[thing].len() {
                let choice = left[thing][at];
                let loses = |against: &usize| {
                    let around = neighbours[thing].iter().map(|other| {
                        let less = |chosen: &usize| {
                            self.pair((thing, choice), (*other, *chosen))
                                - self.pair((thing, *against), (*other, *chosen))
                        };
                        left[*other].iter().map(less).fold(f64::INFINITY, f64::min)
                    });
                    self.alone[thing][choice] - self.alone[thing][*against] + around.sum::<f64>() > CLEARLY
                };
                if left[thing].iter().any(loses) {
                    left[thing].remove(at);
                } else {
                    at += 1;
                }
            }
        }
        left.iter().map(Vec::len).sum::<usize>() < before
    }

    /// The order in which things are decided, each by those around it that are left; `None` where a table would be
    /// too large.
    fn order(&self, left: &[Vec<usize>]) -> Option<Vec<usize>> {
        let mut neighbours = self.neighbours();
        let mut waiting: BTreeSet<usize> = (0..left.len()).collect();
        let mut order = Vec::with_capacity(left.len());
        let size = |thing: usize, around: &BTreeSet<usize>| {
            around.iter().fold(left[thing].len(), |size, other| size.saturating_mul(left[*other].len()))
        };
        while let Some(thing) = waiting.iter().copied().min_by_key(|thing| size(*thing, &neighbours[*thing])) {
            let around = std::mem::take(&mut neighbours[thing]);
            if size(thing, &around) > LARGEST_TABLE {
                return None;
            }
            for one in &around {
                neighbours[*one].remove(&thing);
                neighbours[*one].extend(around.iter().filter(|other| *other != one));
            }
            waiting.remove(&thing);
            order.push(thing);
        }
        Some(order)
    }

    fn eliminate(&self, left: &[Vec<usize>], order: &[usize]) -> Vec<usize> {
        let alone = left.iter().enumerate().map(|(thing, choices)| Table {
            things: vec![thing],
            costs: choices.iter().map(|choice| self.alone[thing][*choice]).collect(),
        });
        let pairs = self.pairs.keys().map(|&(one, other)| {
            let rows = left[one].iter();
            let row = |choice: &usize| -> Vec<f64> {
                left[other].iter().map(|chosen| self.pair((one, *choice), (other, *chosen))).collect()
            };
            Table { things: vec![one, other], costs: rows.flat_map(row).collect() }
        });
        let mut tables: Vec<Table> = alone.chain(pairs).collect();
        let mut decided = Vec::with_capacity(order.len());
        for &thing in order {
            let (touching, rest): (Vec<Table>, Vec<Table>) =
                tables.into_iter().partition(|table| table.things.contains(&thing));
            let decision = Decision::of(thing, &touching, left);
            tables = rest;
            tables.push(Table { things: decision.around.clone(), costs: decision.costs.clone() });
            decided.push(decision);
        }
        let mut places = vec![0; left.len()];
        for decision in decided.iter().rev() {
            places[decision.thing] = decision.best[index(&decision.around, &places, left)];
        }
        places.iter().zip(left).map(|(place, choices)| choices[*place]).collect()
    }
}

/// Costs of some things together: an entry for each way to choose, the last thing's choices side by side.
struct Table {
    things: Vec<usize>,
    costs: Vec<f64>,
}

/// The best choice for a thing, for each way to choose around it.
struct Decision {
    thing: usize,
    around: Vec<usize>,
    best: Vec<usize>,
    costs: Vec<f64>,
}

impl Decision {
    fn of(thing: usize, touching: &[Table], left: &[Vec<usize>]) -> Self {
        let around: BTreeSet<usize> = touching.iter().flat_map(|table| table.things.iter().copied()).collect();
        let around: Vec<usize> = around.into_iter().filter(|other| *other != thing).collect();
        let ways: usize = around.iter().map(|other| left[*other].len()).product();
        let mut places = vec![0; left.len()];
        let (mut best, mut costs) = (Vec::with_capacity(ways), Vec::with_capacity(ways));
        for way in 0..ways {
            let mut rest = way;
            for other in around.iter().rev() {
                places[*other] = rest % left[*other].len();
                rest /= left[*other].len();
            }
            let (mut least, mut least_at) = (f64::INFINITY, 0);
            for place in 0..left[thing].len() {
                places[thing] = place;
                let cost: f64 = touching.iter().map(|table| table.costs[index(&table.things, &places, left)]).sum();
                if cost < least {
                    (least, least_at) = (cost, place);
                }
            }
            best.push(least_at);
            costs.push(least);
        }
        Self { thing, around, best, costs }
    }
}

fn index(things: &[usize], places: &[usize], left: &[Vec<usize>]) -> usize {
    things.iter().fold(0, |index, thing| index * left[*thing].len() + places[*thing])
}

#[cfg(test)]
mod tests;
