//! Recorded takes made outside our own synthesiser, with planted mistakes and their truth.
//!
//! Phases: lesson → [`Part`] (what is asked) → [`perform`] (a player, mistakes and all) → MIDI → [`Synth`]
//! (fluidsynth and a sound font of real guitars) → [`record`] (a room) → samples and [`Truth`]. The same seed gives
//! the same take, as long as fluidsynth and the sound font stay the same.

mod batch;
mod criterion;
mod dice;
mod error;
mod mistakes;
mod part;
mod player;
mod room;
mod smf;
mod strings;
mod synth;
mod take;
mod truth;

pub use batch::{Batch, Piecework};
pub use criterion::{Outcome, Sounded, default_allowance, extras_allowance, judge, level_ms};
pub use dice::Dice;
pub use error::Error;
pub use mistakes::{KINDS, Mistake, Planted, draw_of_hands, draw_of_time, off_range_s, parse, window_s};
pub use part::{Asked, Chord, Part, Piece};
pub use player::{Damp, Note, Performance, Struck, Style, perform};
pub use room::{Condition, record};
pub use smf::{Message, Smf, TICK_US, VOICES};
pub use strings::{MAX_STRINGS, midi};
pub use synth::{Onsets, Program, RATE, SOUND_FONT, Synth};
pub use take::{Draft, Order, draft, level_name, write_wav};
pub use truth::{ExtraTruth, HandTruth, PassTruth, StrokeTruth, TRUTH_VERSION, Truth};
