//! Recorded takes made outside our own synthesiser, with planted mistakes and their truth.
//!
//! Phases: lesson → [`Part`] (what is asked) → [`perform`] (a player, mistakes and all) → MIDI → [`Synth`]
//! (fluidsynth and a sound font of real guitars) → [`record`] (a room, our own playback, a voice) → samples and
//! [`Truth`]. The same seed gives
//! the same take, as long as fluidsynth and the sound font stay the same.

mod batch;
mod confusions;
mod criterion;
mod degrade;
mod dice;
mod drill;
mod echo;
mod error;
mod hands;
mod learn;
mod level;
mod mistakes;
mod mixer;
mod noises;
mod own;
mod part;
mod player;
mod room;
mod smf;
mod song;
mod sound_font;
mod speech;
mod strings;
mod synth;
mod take;
mod truth;
mod voice;
mod writer;

pub use batch::{Batch, Piecework};
pub use criterion::{Outcome, Sounded, default_allowance, extras_allowance, judge, level_ms};
pub use degrade::Degradation;
pub use dice::Dice;
pub use drill::{Drill, DrillChange, DrillStroke, DrillTruth, draw_pair, drill};
pub use error::Error;
pub use learn::{LearnStroke, LearnTruth, Player, learn};
pub use mistakes::{
    KINDS, Mistake, Planted, draw_of_chords, draw_of_hands, draw_of_time, off_range_s, parse, window_s,
};
pub use part::{Asked, Chord, Part, Piece};
pub use player::{Damp, Note, Performance, Struck, Style, perform};
pub use room::{Beside, Condition, record, record_beside};
pub use smf::{Message, Smf, TICK_US, VOICES};
pub use strings::{MAX_STRINGS, midi};
pub use synth::{Engine, Guitar, Onsets, Program, RATE, SOUND_FONT, Synth};
pub use take::{Draft, Order, Recording, draft, level_name, write_wav};
pub use truth::{ExtraTruth, HandTruth, PassTruth, SpanTruth, StrokeTruth, TRUTH_VERSION, Truth};
