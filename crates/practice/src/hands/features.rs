//! A change as counts, and what each count costs.

/// A change of fingering as counts. All zero but `anchors` from a fingering to itself.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Features {
    /// Fingers that stay.
    pub anchors: u8,
    /// Fingers that slide along their string.
    pub guides: u8,
    /// Fingers that go to another string.
    pub new_strings: u8,
    /// Fingers placed.
    pub placed: u8,
    /// Fingers lifted.
    pub lifted: u8,
    /// Fingers laid across strings that were not before.
    pub barres_entered: u8,
    /// How far the hand goes along the neck, in millimetres, either way.
    pub shift_mm: f64,
}

/// How far the hand goes for one unit of [`Weights::shift`].
const SHIFT_UNIT_MM: f64 = 50.0;

/// How many weights there are.
pub(super) const WEIGHTS: usize = 6;

impl Features {
    /// In the order of the fields of [`Weights`].
    pub(super) fn values(&self) -> [f64; WEIGHTS] {
        [
            f64::from(self.guides),
            f64::from(self.new_strings),
            f64::from(self.placed),
            f64::from(self.lifted),
            f64::from(self.barres_entered),
            self.shift_mm / SHIFT_UNIT_MM,
        ]
    }
}

/// What each part of a change costs, none negative. A finger that stays costs nothing.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Weights {
    /// A finger slides along its string.
    pub guide: f64,
    /// A finger goes to another string.
    pub new_string: f64,
    /// A finger is placed.
    pub placed: f64,
    /// A finger is lifted.
    pub lifted: f64,
    /// A finger is laid across strings, beside what its move costs.
    pub barre: f64,
    /// The hand goes 50 mm along the neck.
    pub shift: f64,
}

impl Weights {
    /// Where every learner starts. No validated cost of a chord change exists: these are a design proposal of ours,
    /// to be fitted to the learner's own times. That moves along and across the neck cost apart is in Radicioni 2005
    /// (abstract read).
    pub const PROPOSAL: Self = Self { guide: 0.5, new_string: 1.0, placed: 0.5, lifted: 0.5, barre: 1.0, shift: 1.0 };

    /// The cost of a change, in units of one finger that goes to another string by [`Self::PROPOSAL`].
    #[must_use]
    pub fn cost(&self, features: &Features) -> f64 {
        self.values().iter().zip(features.values()).map(|(weight, count)| weight * count).sum()
    }

    /// The cost for each second there is for the change: what a section asks of the hand. `available_s` is positive.
    #[must_use]
    pub fn demand(&self, features: &Features, available_s: f64) -> f64 {
        self.cost(features) / available_s
    }

    pub(super) const fn values(&self) -> [f64; WEIGHTS] {
        [self.guide, self.new_string, self.placed, self.lifted, self.barre, self.shift]
    }

    pub(super) const fn from_values(values: [f64; WEIGHTS]) -> Self {
        let [guide, new_string, placed, lifted, barre, shift] = values;
        Self { guide, new_string, placed, lifted, barre, shift }
    }
}

impl Default for Weights {
    fn default() -> Self {
        Self::PROPOSAL
    }
}
