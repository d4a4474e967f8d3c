//! Recordings from disk, to mono.

mod error;
mod packed;
#[cfg(test)]
mod tests;
mod wav;

use std::fs::File;
use std::io::{BufReader, Read, Seek, SeekFrom};
use std::path::Path;

pub use error::DecodeError;
use error::Trouble;

/// Longer recordings are refused: two hours.
const LONGEST_S: u64 = 2 * 60 * 60;
/// Recordings whose mono samples take more memory than 1 GiB are refused.
const MOST_FRAMES: usize = (1 << 30) / size_of::<f32>();

/// A recording, decoded.
#[derive(Clone, Debug, PartialEq)]
pub struct Recording {
    /// The mean of all channels, full scale ± 1. What the file holds is kept, even where it is no number.
    pub mono: Vec<f32>,
    /// Frames a second.
    pub rate: u32,
    /// Channels in the file.
    pub channels: u16,
    /// The file ends before it says it does; what there is has been decoded.
    pub truncated: bool,
}

impl Recording {
    /// Its length in seconds.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "for reading")]
    pub fn seconds(&self) -> f64 {
        self.mono.len() as f64 / f64::from(self.rate)
    }
}

/// Reads a recording: WAV (8 to 32 bits, float), FLAC, Ogg Vorbis or MP3.
///
/// # Errors
/// If the file can't be read, is empty, holds nothing that can be decoded, or is longer than two hours or 1 GiB.
pub fn decode(path: &Path) -> Result<Recording, DecodeError> {
    let open = || -> Result<Recording, Trouble> {
        let file = File::open(path)?;
        let about = file.metadata()?;
        if about.is_dir() {
            return Err(Trouble::Folder);
        }
        decode_reader(BufReader::new(file), about.len())
    };
    open().map_err(|trouble| DecodeError::new(path, trouble))
}

/// WAV is read by our own reader: the general decoder refuses files whose header was never finished (a recorder that
/// was killed) and takes a cut-off file for a whole one, and both are takes a learner may well bring.
fn decode_reader<R>(mut reader: R, length: u64) -> Result<Recording, Trouble>
where
    R: Read + Seek + Send + Sync + 'static,
{
    if length == 0 {
        return Err(Trouble::Empty);
    }
    let mut head = [0; 12];
    let is_wav = match reader.read_exact(&mut head) {
        Ok(()) => wav::is_wav(&head),
        Err(error) if error.kind() == std::io::ErrorKind::UnexpectedEof => return Err(Trouble::NotAudio),
        Err(error) => return Err(error.into()),
    };
    let recording = if is_wav {
        wav::read(reader)?
    } else {
        reader.seek(SeekFrom::Start(0))?;
        packed::read(reader, length)?
    };
    if recording.mono.is_empty() { Err(Trouble::Empty) } else { Ok(recording) }
}

/// Mono frames as they come, up to the limit.
struct Frames {
    mono: Vec<f32>,
    most: usize,
}

impl Frames {
    fn new(rate: u32) -> Self {
        let longest = usize::try_from(u64::from(rate) * LONGEST_S).unwrap_or(usize::MAX);
        Self { mono: Vec::new(), most: longest.min(MOST_FRAMES) }
    }

    /// Adds a frame given the sum of its channels.
    fn push(&mut self, sum: f32, channels: u16) -> Result<(), Trouble> {
        if self.mono.len() == self.most {
            return Err(Trouble::TooLong);
        }
        self.mono.push(sum / f32::from(channels));
        Ok(())
    }
}
