//! How likely each onset is a stroke's first string, by all that lies around it: what sounds before and after it, in
//! which bands, and how it differs from the pass's usual stroke. A singing voice, a consonant, a knock and a string of
//! a slow sweep all rise suddenly too; the rise alone does not tell them apart.
//!
//! Phases: [`features`] describes every onset of a pass in 74 numbers → [`trees`] turns each description into
//! log-odds → [`choose`] makes strums of the likeliest, guided by the score.

mod bands;
mod choose;
mod features;
mod trees;

pub(crate) use choose::choose;
pub use features::{FEATURES, strum_features};
