//! Another fingering offered where it makes a section's changes easier.

use sixrung_lesson::Shape;

use super::choose::Section;
use super::features::Weights;
use super::fingerings::{Named, all_fingerings, fingerings};
use super::grip::Grip;
use super::needed::NeededChange;
use super::shape_cost::ShapeParts;

/// Another fingering of a shape the teacher fingered: the same frets, other fingers.
#[derive(Clone, Debug, PartialEq)]
pub struct Refingering {
    /// Which shape.
    pub shape: usize,
    /// The teacher's.
    pub given: Grip,
    /// The one offered.
    pub offered: Grip,
    /// How much less one pass costs, changes and holding together; above zero.
    pub gain: f64,
    /// What one pass costs now.
    pub cost: f64,
    /// The changes that become easier or harder, the most eased first.
    pub changes: Vec<ChangedChange>,
}

/// How a change's cost is changed by another fingering.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ChangedChange {
    /// The shape left.
    pub from: usize,
    /// The shape that comes.
    pub to: usize,
    /// How much less it costs each time; negative where it costs more.
    pub gain: f64,
}

/// The least gain worth a word, for each time the shape is taken: half of what a finger that is placed costs. A design
/// choice of ours: a habit is not to be broken for less.
const LEAST_GAIN: f64 = 0.25;

/// Whether a teacher may be offered a fingering beside hers: it brings in no little finger and no barre that hers does
/// without, and no more fingers. A design choice of ours: what is easier to reach must not be harder to hold.
fn may_be_offered(shape: &Shape, offered: &Grip, given: &Grip) -> bool {
    let (offered, given) = (ShapeParts::of(shape, offered, 0), ShapeParts::of(shape, given, 0));
    offered.little <= given.little
        && offered.barres <= given.barres
        && offered.awkward_barres <= given.awkward_barres
        && offered.fingers <= given.fingers
}

/// For each shape whose fingering the teacher gave, the one that would lower the cost of a looped stretch most, if
/// there is one worth a word; the most gained first. All other shapes keep the fingering they have.
///
/// # Panics
/// When a change names a shape beyond `shapes`.
#[must_use]
pub fn refingerings(changes: &[NeededChange], shapes: &[Shape], capo: u8, weights: &Weights) -> Vec<Refingering> {
    let section = Section { changes, shapes, capo, weights };
    let now = section.choose(shapes.iter().map(|shape| fingerings(shape, capo)).collect());
    let offer = |(index, shape): (usize, &Shape)| {
        let given = Grip::given(shape)?;
        let around = Around { section, now: &now.grips, shape: index };
        let costs = all_fingerings(shape, capo, Named::Ignored)
            .into_iter()
            .filter(|grip| *grip != given && may_be_offered(shape, grip, &given))
            .map(|grip| (around.cost(&grip), grip));
        let (cost, offered) = costs.min_by(|one, other| one.0.total_cmp(&other.0))?;
        let gain = around.cost(&given) - cost;
        let taken: u32 = changes.iter().filter(|change| change.to == index).map(|change| change.times).sum();
        // A shape is fingered anew for its changes: where there are none the teacher knows best.
        let worth_it = taken > 0 && gain >= LEAST_GAIN * f64::from(taken);
        let changes = around.changed(&given, &offered);
        worth_it.then_some(Refingering { shape: index, given, offered, gain, cost: now.cost, changes })
    };
    let mut offers: Vec<Refingering> = shapes.iter().enumerate().filter_map(offer).collect();
    offers.sort_by(|one, other| other.gain.total_cmp(&one.gain));
    offers
}

/// One shape among others whose fingerings stay.
struct Around<'a> {
    section: Section<'a>,
    now: &'a [Option<Grip>],
    shape: usize,
}

impl Around<'_> {
    /// What one pass costs that has to do with the shape, fingered so.
    fn cost(&self, grip: &Grip) -> f64 {
        let Section { shapes, capo, .. } = self.section;
        let held = ShapeParts::of(&shapes[self.shape], grip, capo).cost();
        let times = |change: &NeededChange| f64::from(change.times);
        let changes: f64 = self.changes(grip).map(|(change, cost)| times(change) * cost).sum();
        self.section.held(self.shape) * held + changes
    }

    /// The changes from and to the shape, and what each costs once.
    fn changes<'b>(&'b self, grip: &'b Grip) -> impl Iterator<Item = (&'b NeededChange, f64)> {
        let of = move |shape: usize| if shape == self.shape { Some(grip) } else { self.now[shape].as_ref() };
        let touching = |change: &&NeededChange| (change.from == self.shape) != (change.to == self.shape);
        let cost =
            move |change: &'b NeededChange| Some((change, self.section.change(of(change.from)?, of(change.to)?, 1)));
        self.section.changes.iter().filter(touching).filter_map(cost)
    }

    fn changed(&self, given: &Grip, offered: &Grip) -> Vec<ChangedChange> {
        let pairs = self.changes(given).zip(self.changes(offered));
        let mut changed: Vec<ChangedChange> = pairs
            .map(|((change, before), (_, after))| ChangedChange {
                from: change.from,
                to: change.to,
                gain: before - after,
            })
            .filter(|change| change.gain.abs() > 1e-9)
            .collect();
        changed.sort_by(|one, other| other.gain.total_cmp(&one.gain));
        changed
    }
}
