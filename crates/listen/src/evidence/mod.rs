//! How likely each onset is a stroke's first string, by all that lies around it: what sounds before and after it, in
//! which bands, and how it differs from the pass's usual stroke. A singing voice, a consonant, a knock and a string of
//! a slow sweep all rise suddenly too; the rise alone does not tell them apart.
//!
//! Phases: [`features`] describes every onset of a pass → trees turn each description into log-odds → [`slots`] describes
//! the place of each expected stroke by the likeliest onset in it, beside the player's other strokes, [`extras`] what
//! lies between them → trees again → [`choose`] makes strums of what was played, and keeps how sure that is.

mod bands;
mod choose;
mod extras;
mod features;
mod places;
mod slots;

pub(crate) use choose::{Chosen, choose};
pub use extras::EXTRA_FEATURES;
pub use features::{FEATURES, strum_features};
pub use places::Places;
pub use slots::SLOT_FEATURES;
