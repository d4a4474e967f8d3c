//! Sound devices: opened, watched and reopened; samples moved between them and the pure crates; recordings decoded;
//! MIDI pedals heard.
//!
//! Of sound the app sees one type, [`Sound`]. Behind it a thread named `devices` keeps speakers and microphone open through
//! unplugging and the death of the sound server, or lets time go on in silence where there is no device. What plays is
//! a [`Source`] that the output callback drives; what is heard comes out of an [`InputReader`], with its place on the
//! source's frames. In tests [`Sound::simulated`] does the same without devices, threads or waiting:
//!
//! ```
//! use sixrung_devices::{SimulatedConfig, Sound, Source};
//!
//! struct Tick;
//! impl Source for Tick {
//!     fn process(&mut self, block: &mut [f32]) {
//!         block.fill(0.1);
//!     }
//! }
//!
//! let (mut sound, mut simulation) = Sound::simulated(SimulatedConfig::default());
//! let mut reader = sound.take_reader().expect("the first to ask");
//! sound.play(Box::new(Tick));
//! simulation.enter(|_: u64, speakers: &[f32], microphone: &mut [f32]| {
//!     microphone.iter_mut().zip(speakers.chunks(2)).for_each(|(heard, pair)| *heard = pair[0]);
//! });
//! simulation.advance(48_000);
//! let mut block = [0.0; 256];
//! assert!(reader.read(&mut block).is_some_and(|chunk| chunk.frames == 256));
//! ```
//!
//! Of MIDI it sees [`Pedals`]: a thread named `pedals` keeps every MIDI input open, and what is stepped on comes out as
//! a [`PedalPress`]. [`Pedals::simulated`] is a pedal for tests.

mod backend;
mod callback;
mod clock;
mod config;
mod decode;
mod desk;
mod ending;
mod event;
mod list;
mod pedal;
mod quiet;
mod reader;
mod shared;
mod sound;
mod source;
mod watch;

pub use backend::{Room, SimulatedConfig, Simulation};
pub use clock::{ClockMap, Gap};
pub use config::{Choice, Config, DEFAULT_BUFFER, InputChoice, OutputChoice, Pick};
pub use decode::{DecodeError, Recording, StereoRecording, decode, decode_stereo};
pub use event::{Event, Opened, Port, Status, Which, Why};
pub use list::{Device, Devices, ListError, list};
pub use pedal::{PedalKind, PedalPress, Pedals, SimulatedPedal};
pub use reader::{Chunk, InputReader, PlayedChunk};
pub use sound::Sound;
pub use source::Source;
