//! Outside formats, one module each: readers and writers on anything that reads or writes, never on paths.
//!
//! What a teacher hands out is an [`assignment`], what comes back a [`report`]: texts that people can read too ([`paper`]).
//! Sound goes out as WAV ([`wav`]) and FLAC ([`flac`]), a lesson on paper as PDF or SVG ([`guide`]); the app decides where
//! to, and puts the file in its place once it is whole.
//!
//! ```
//! use sixrung_exchange::wav::{Format, Writer};
//!
//! let mut file = std::io::Cursor::new(Vec::new());
//! let mut wav = Writer::new(&mut file, 48_000, Format::Float32)?;
//! wav.write(&[0.0, 0.0, 0.5, -0.5])?;
//! wav.finish()?;
//! # Ok::<(), sixrung_exchange::wav::WavError>(())
//! ```

pub mod assignment;
pub mod flac;
pub mod guide;
pub mod paper;
pub mod report;
pub mod wav;
