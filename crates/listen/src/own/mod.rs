//! The program's own sound in the microphone: the way it takes is learned while the player is silent, then kept and
//! taken off.
//!
//! Phases: [`Played`] brings what went out to the microphone's working rate and clock → [`Learning`] gathers a stretch
//! in which only we sound and makes an [`OwnPath`] of it → [`Remover`] takes what comes along that path off, sample by
//! sample → [`Leftover`] tells at the end of a pass whether what remains is still ours. The path is a plain filter, found
//! in one step and then left alone: one that went on adapting would learn the player away, who plays the same chords
//! at the same time.

mod fit;
mod learning;
mod leftover;
mod path;
mod played;
mod remover;
mod solve;
mod spectrum;

pub use learning::{Learned, Learning};
pub use leftover::Leftover;
pub use path::OwnPath;

pub(crate) use leftover::Beside;
pub(crate) use path::LARGEST_LAG_S;
pub(crate) use remover::Remover;
pub(crate) use spectrum::Spectra;
