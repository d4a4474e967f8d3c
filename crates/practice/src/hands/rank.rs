//! Which two shapes to drill next.

use std::collections::BTreeMap;

use sixrung_lesson::{BeatUnit, Tempo};

use super::features::Features;
use super::fit::{HandModel, OwnTime};
use super::grip::Grip;
use super::moves::ChangeMoves;
use super::needed::NeededChange;

/// One way between two shapes, with all that its rank is made of.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Way {
    /// The change, and how often one pass needs it.
    pub change: NeededChange,
    /// The shortest time there is for it, in seconds at the tempo asked for.
    pub available_s: f64,
    /// What the fingers do.
    pub features: Features,
    /// What that costs.
    pub cost: f64,
    /// Seconds it is thought to take this hand.
    pub predicted_s: f64,
    /// What was measured, if it was.
    pub own: Option<OwnTime>,
    /// Seconds it takes: the measured time, held towards the predicted one while few changes were measured.
    pub expected_s: f64,
}

impl Way {
    /// Cost for each second there is.
    #[must_use]
    pub fn demand(&self) -> f64 {
        self.cost / self.available_s
    }

    /// Times needed × the share of the time available that it takes.
    #[must_use]
    pub fn weight(&self) -> f64 {
        f64::from(self.change.times) * self.expected_s / self.available_s
    }
}

/// Two shapes to drill to and fro.
#[derive(Clone, Debug, PartialEq)]
pub struct DrillPair {
    /// The two shapes, the lower index first.
    pub shapes: (usize, usize),
    /// The ways between them that are needed, one or both; the heavier first.
    pub ways: Vec<Way>,
}

impl DrillPair {
    /// How much there is to gain from drilling it, for comparing pairs of one stretch at one tempo.
    #[must_use]
    pub fn weight(&self) -> f64 {
        self.ways.iter().map(Way::weight).sum()
    }
}

/// How many predicted changes the prediction counts as beside measured ones. A design choice of ours: after eight, a
/// drill's slow bars, the two weigh the same.
const PREDICTION_COUNTS: f64 = 8.0;

/// The time a change takes: the measured one weighed by its count, the predicted one as some changes.
#[must_use]
pub fn expected_s(predicted_s: f64, own: Option<OwnTime>) -> f64 {
    let Some(own) = own else { return predicted_s };
    let measured = f64::from(own.changes);
    (measured * own.seconds + PREDICTION_COUNTS * predicted_s) / (measured + PREDICTION_COUNTS)
}

/// When and by whom the changes are played.
#[derive(Clone, Copy, Debug)]
pub struct Played<'a> {
    /// Capo fret.
    pub capo: u8,
    /// How fast.
    pub tempo: Tempo,
    /// What the tempo counts.
    pub beat: BeatUnit,
    /// Whose hand.
    pub model: &'a HandModel,
}

/// The pairs of shapes to drill, the one that holds the stretch back most first: how often it is needed × how long it
/// takes this learner of the time there is. `grips` has an entry a shape; changes of shapes without one are left out.
#[must_use]
pub fn rank_changes(
    changes: &[NeededChange],
    grips: &[Option<Grip>],
    played: Played<'_>,
    own: impl Fn(usize, usize) -> Option<OwnTime>,
) -> Vec<DrillPair> {
    let mut pairs = BTreeMap::<(usize, usize), DrillPair>::new();
    for change in changes {
        let grip = |shape: usize| grips.get(shape).and_then(Option::as_ref);
        let (Some(from), Some(to)) = (grip(change.from), grip(change.to)) else { continue };
        let features = ChangeMoves::between(from, to, played.capo).features();
        let predicted_s = played.model.seconds(&features);
        let own = own(change.from, change.to).filter(|own| own.changes > 0);
        let way = Way {
            change: *change,
            available_s: change.available_s(played.tempo, played.beat),
            features,
            cost: played.model.weights.cost(&features),
            predicted_s,
            own,
            expected_s: expected_s(predicted_s, own),
        };
        let shapes = (change.from.min(change.to), change.from.max(change.to));
        pairs.entry(shapes).or_insert_with(|| DrillPair { shapes, ways: Vec::new() }).ways.push(way);
    }
    let mut ranked: Vec<DrillPair> = pairs.into_values().collect();
    for pair in &mut ranked {
        pair.ways.sort_by(|one, other| other.weight().total_cmp(&one.weight()));
    }
    ranked.sort_by(|one, other| other.weight().total_cmp(&one.weight()));
    ranked
}
