//! A recording as read: its samples, how loud it is, what its picture is drawn from, the beats found in it.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use sixrung_devices::{DecodeError, StereoRecording, decode_stereo};
use sixrung_lesson::Tempo;
use sixrung_song::{Proposal, gain_to_target, propose};

/// Lowest and highest sample of a short stretch, both sides.
pub type Peak = [f32; 2];
/// Stretches of the picture in a second.
pub const PEAKS_A_SECOND: u32 = 200;

/// Shares of the work, for the progress: reading, then finding beats.
const READING: f32 = 0.5;
/// Reading knows no length beforehand: its progress nears its share as minutes go by, half of it at this many seconds.
const HALF_READ_S: f64 = 120.0;

/// A recording, read.
#[derive(Clone, Debug, PartialEq)]
pub struct Loaded {
    /// Its file.
    pub path: PathBuf,
    /// Left and right.
    pub frames: Vec<[f32; 2]>,
    /// Frames a second.
    pub rate: u32,
    /// What brings it to the program's loudness, in decibels; 0 for one too short or faint to have a loudness.
    pub gain_db: f32,
    /// [`PEAKS_A_SECOND`] of them.
    pub peaks: Arc<[Peak]>,
    /// Beats found in it.
    pub found: Option<Proposal>,
    /// Its file was cut off.
    pub truncated: bool,
}

impl Loaded {
    /// Reads a file and looks for beats, near the tempo the lesson names.
    ///
    /// # Errors
    /// As for [`decode_stereo`]; also when `progress` says to stop.
    pub fn read(path: &Path, near: Option<Tempo>, progress: &mut dyn FnMut(f32) -> bool) -> Result<Self, DecodeError> {
        #[expect(clippy::cast_possible_truncation, reason = "a share")]
        let read_share = |seconds: f64| READING * (seconds / (seconds + HALF_READ_S)) as f32;
        let StereoRecording { frames, rate, truncated } =
            decode_stereo(path, &mut |seconds| progress(read_share(seconds)))?;
        let mono: Vec<f32> = frames.iter().map(|frame| f32::midpoint(frame[0], frame[1])).collect();
        let found = propose(&mono, rate, near, &mut |share| progress(READING + (1.0 - READING) * share));
        Ok(Self::of(path, (frames, rate, truncated), found))
    }

    /// A recording and the beats found in it.
    #[must_use]
    pub fn of(path: &Path, (frames, rate, truncated): (Vec<[f32; 2]>, u32, bool), found: Option<Proposal>) -> Self {
        let gain_db = gain_to_target(&frames, rate).unwrap_or(0.0);
        let peaks = frames.chunks((rate / PEAKS_A_SECOND).max(1) as usize).map(peak).collect();
        Self { path: path.to_owned(), frames, rate, gain_db, peaks, found, truncated }
    }

    /// Its length in seconds.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "for reading")]
    pub fn seconds(&self) -> f64 {
        self.frames.len() as f64 / f64::from(self.rate.max(1))
    }

    /// The same as [`Self::gain_db`], as a factor.
    #[must_use]
    pub fn gain(&self) -> f32 {
        10.0_f32.powf(self.gain_db / 20.0)
    }
}

fn peak(frames: &[[f32; 2]]) -> Peak {
    frames.as_flattened().iter().fold([0.0, 0.0], |[low, high], sample| [low.min(*sample), high.max(*sample)])
}
