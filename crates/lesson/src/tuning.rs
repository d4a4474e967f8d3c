//! What the open strings sound.

use crate::pitch::Pitch;

/// The open strings without a capo, in the order they are written: the heaviest (string 6 of a guitar) first.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Tuning(Vec<Pitch>);

impl Tuning {
    /// Fewest strings taken.
    pub const MIN_STRINGS: usize = 4;
    /// Most strings taken.
    pub const MAX_STRINGS: usize = 8;

    /// E2 A2 D3 G3 B3 E4.
    #[must_use]
    pub fn standard_guitar() -> Self {
        Self([40, 45, 50, 55, 59, 64].map(Pitch).to_vec())
    }

    /// A tuning of 4 to 8 strings; `None` for any other number.
    #[must_use]
    pub fn new(open: Vec<Pitch>) -> Option<Self> {
        (Self::MIN_STRINGS..=Self::MAX_STRINGS).contains(&open.len()).then_some(Self(open))
    }

    /// The open strings in written order.
    #[must_use]
    pub fn open(&self) -> &[Pitch] {
        &self.0
    }

    /// How many strings.
    #[must_use]
    pub fn strings(&self) -> usize {
        self.0.len()
    }

    /// The string's number as players say it: 1 is the last written. `index` counts from 0 in written order.
    #[must_use]
    pub fn number(&self, index: usize) -> usize {
        self.0.len() - index
    }
}
