//! What the parts are played on.

use crate::click::ClickSound;
use crate::instrument::Instrument;

/// What a timeline is played on.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Kit {
    /// The strings.
    pub guitar: Instrument,
    /// What clicks.
    pub click: ClickSound,
}

impl From<Instrument> for Kit {
    fn from(guitar: Instrument) -> Self {
        Self { guitar, ..Self::default() }
    }
}
