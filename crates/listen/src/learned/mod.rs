//! What can only be heard by who knows this player on this guitar: single strings, and which way a stroke went.
//!
//! Phases: [`LearnPlan`] (five slow down-strokes of each shape, then down and up in turn) → [`LearnStep`] gathers its
//! strokes as they are heard ([`LearnGuide`] gives the player time, and says what was not heard) → [`Learned`], small and
//! kept → the findings on strings of each span of a chord, and the direction of each stroke: without a [`Learned`]
//! nothing is said of either. It also speaks for or against the asked chord ([`Others`]).

mod attack;
mod discriminant;
mod fill;
mod form;
mod grid;
mod guide;
mod hypotheses;
mod learning;
mod others;
mod partials;
mod plan;
mod segments;
mod step;
mod strings;

pub use form::{LEARNED_VERSION, Learned, LearnedDirection, LearnedShape, LearnedWindow};
pub use guide::{LearnGuide, LearnProgress, LearnTrouble, LearnWait};
pub use learning::LearnError;
pub use plan::{LearnPlan, LearnTask, Way};
pub use step::{LearnStep, learn_take};

pub use others::LEARNED_FEATURES;

pub(crate) use fill::fill;
pub(crate) use others::{Keys, Others, Weighed};
