//! What runs on the audio threads: rendering, capturing, and nothing that could wait.

mod health;
mod input;
mod output;
mod played;
mod returning;
#[cfg(test)]
mod tests;

pub(crate) use health::{Health, Pulse};
pub(crate) use input::{InputEnds, InputSide, input_side};
pub(crate) use output::{OutputSide, output_side};
pub(crate) use played::{Piece, PlayedEnds};
pub(crate) use returning::{Returning, home};
