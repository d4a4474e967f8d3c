//! A sound file in the form its name asks for.

use std::io;
use std::path::Path;

use sixrung_exchange::flac::{self, Bits, FlacError};
use sixrung_exchange::wav::{Format, WavError, Writer};

use crate::cli::args::Depth;

/// Frames made at once.
const BLOCK: usize = 4096;

/// The forms there are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// RIFF WAVE.
    Wav(Format),
    /// FLAC.
    Flac(Bits),
}

/// What a file's name and the bits asked for make it; as a sentence why not.
pub(super) fn kind(path: &Path, depth: Option<Depth>) -> Result<Kind, String> {
    let ending = path.extension().map(std::ffi::OsStr::to_ascii_lowercase);
    if ending.is_some_and(|ending| ending == "flac") {
        return match depth {
            None | Some(Depth::TwentyFour) => Ok(Kind::Flac(Bits::TwentyFour)),
            Some(Depth::Sixteen) => Ok(Kind::Flac(Bits::Sixteen)),
            Some(Depth::Float) => Err("FLAC has no floating point\nhint: give --bits 24, or write a .wav".to_owned()),
        };
    }
    Ok(Kind::Wav(match depth {
        None | Some(Depth::Float) => Format::Float32,
        Some(Depth::TwentyFour) => Format::Int24,
        Some(Depth::Sixteen) => Format::Int16,
    }))
}

/// Why a file was not written.
#[derive(Debug)]
pub(super) enum Unwritten {
    Wav(WavError),
    Flac(FlacError),
}

impl std::fmt::Display for Unwritten {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Wav(error) => error.fmt(f),
            Self::Flac(error) => error.fmt(f),
        }
    }
}

impl From<io::Error> for Unwritten {
    fn from(error: io::Error) -> Self {
        Self::Wav(error.into())
    }
}

/// Writes what `next` gives, whole or not at all, and says how many frames that were.
pub(super) fn write(
    path: &Path,
    kind: Kind,
    rate: u32,
    mut next: impl FnMut(&mut [f32]) -> usize,
) -> Result<u64, Unwritten> {
    let mut frames = 0;
    let mut counted = |block: &mut [f32]| {
        let made = next(block);
        frames += made as u64;
        made
    };
    crate::files::write_whole(path, |file| match kind {
        Kind::Flac(bits) => flac::write(file, rate, bits, &mut counted).map_err(Unwritten::Flac),
        Kind::Wav(format) => {
            let mut wav = Writer::new(file, rate, format).map_err(Unwritten::Wav)?;
            let mut block = vec![0.0; 2 * BLOCK];
            loop {
                match counted(&mut block) {
                    0 => return wav.finish().map_err(Unwritten::Wav),
                    made => wav.write(&block[..2 * made]).map_err(Unwritten::Wav)?,
                }
            }
        }
    })?;
    Ok(frames)
}

#[cfg(test)]
mod tests {
    use super::{Bits, Depth, Format, Kind, kind};

    #[test]
    fn the_name_and_the_bits_say_what_it_is() {
        let check = |name: &str, depth, expected| assert_eq!(kind(name.as_ref(), depth).ok(), expected, "{name}");
        check("a.wav", None, Some(Kind::Wav(Format::Float32)));
        check("a", Some(Depth::Sixteen), Some(Kind::Wav(Format::Int16)));
        check("a.FLAC", None, Some(Kind::Flac(Bits::TwentyFour)));
        check("b/a.flac", Some(Depth::Sixteen), Some(Kind::Flac(Bits::Sixteen)));
        check("a.flac", Some(Depth::Float), None);
    }
}
