//! Recordings from disk: takes to be judged, in mono, and the learner's own recording of a song, in stereo.

mod error;
mod keep;
mod packed;
#[cfg(test)]
mod tests;
mod wav;

use std::fs::File;
use std::io::{BufReader, Read, Seek, SeekFrom};
use std::path::Path;

pub use error::DecodeError;
use error::Trouble;

use keep::{Decoded, Frames, Keep};

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

impl From<Decoded<f32>> for Recording {
    fn from(Decoded { kept, rate, channels, truncated }: Decoded<f32>) -> Self {
        Self { mono: kept, rate, channels, truncated }
    }
}

/// A recording to play along with, decoded.
#[derive(Clone, Debug, PartialEq)]
pub struct StereoRecording {
    /// Left and right, full scale ± 1; both the same where the file has one channel, or more than two.
    pub frames: Vec<[f32; 2]>,
    /// Frames a second.
    pub rate: u32,
    /// The file ends before it says it does; what there is has been decoded.
    pub truncated: bool,
}

/// Reads a take: WAV (8 to 32 bits, float), FLAC, Ogg Vorbis or MP3.
///
/// # Errors
/// If the file can't be read, is empty, holds nothing that can be decoded, or is longer than two hours or 1 GiB.
pub fn decode(path: &Path) -> Result<Recording, DecodeError> {
    open(path, Frames::take()).map(Recording::from)
}

/// Reads a recording to play along with, of the same kinds. `go_on` is told the seconds decoded so far, now and then,
/// and stops the work by saying false.
///
/// # Errors
/// As for [`decode`], but for twelve minutes or 300 MB of samples; and when told to stop.
pub fn decode_stereo(path: &Path, go_on: &mut dyn FnMut(f64) -> bool) -> Result<StereoRecording, DecodeError> {
    let decoded = open(path, Frames::song(go_on))?;
    let sane = |sample: f32| if sample.is_finite() { sample } else { 0.0 };
    let mut frames: Vec<[f32; 2]> = decoded.kept;
    frames.iter_mut().for_each(|frame| *frame = frame.map(sane));
    // It grew by doubling, and lies in memory for as long as its lesson is open.
    frames.shrink_to_fit();
    Ok(StereoRecording { frames, rate: decoded.rate, truncated: decoded.truncated })
}

fn open<K: Keep>(path: &Path, frames: Frames<'_, K>) -> Result<Decoded<K>, DecodeError> {
    let open = || -> Result<Decoded<K>, Trouble> {
        let file = File::open(path)?;
        let about = file.metadata()?;
        if about.is_dir() {
            return Err(Trouble::Folder);
        }
        decode_reader(BufReader::new(file), about.len(), frames)
    };
    open().map_err(|trouble| DecodeError::new(path, trouble))
}

/// WAV is read by our own reader: the general decoder refuses files whose header was never finished (a recorder that
/// was killed) and takes a cut-off file for a whole one, and both are takes a learner may well bring.
fn decode_reader<R, K>(mut reader: R, length: u64, frames: Frames<'_, K>) -> Result<Decoded<K>, Trouble>
where
    K: Keep,
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
    let decoded = if is_wav {
        wav::read(reader, frames)?
    } else {
        reader.seek(SeekFrom::Start(0))?;
        packed::read(reader, length, frames)?
    };
    if decoded.kept.is_empty() { Err(Trouble::Empty) } else { Ok(decoded) }
}
