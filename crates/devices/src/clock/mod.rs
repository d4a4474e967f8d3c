//! Placing microphone frames on the output's frame count: a clock, stamps taken in the callbacks, lines through them.

mod fit;
mod map;
mod stamp;
#[cfg(test)]
mod tests;
mod track;

pub use map::ClockMap;
pub(crate) use map::OutputTimes;
pub use track::Gap;

pub(crate) use stamp::{Clock, Stamp, Times};
pub(crate) use track::{Track, Turn};
