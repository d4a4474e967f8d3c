//! What is drawn by hand: chord diagrams, strokes, the ladder, the plot, and the few controls.
//!
//! Layout is apart from paint: geometry is computed in plain values and tested; painting only follows it.

pub mod button;
pub mod chord;
pub mod control;
pub mod days;
pub mod ladder;
pub mod map;
pub mod marks;
pub mod meter;
pub mod paper;
pub mod pen;
pub mod plot;
pub mod slider;
pub mod strip;
pub mod words;

pub use control::{announce, press, say};
pub use pen::{Pen, Side, Type};
