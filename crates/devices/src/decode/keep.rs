//! What is kept of a file's frames as they come, up to a limit.

use super::error::Trouble;

/// A take: two hours at most, and 1 GiB of samples.
const LONGEST_TAKE_S: u64 = 2 * 60 * 60;
const MOST_TAKE_BYTES: usize = 1 << 30;
/// A recording to play along with lies in memory as long as its lesson is on the stand: twelve minutes at most, and
/// 300 MB, which is as much at 48 kHz.
const LONGEST_SONG_S: u64 = 12 * 60;
const MOST_SONG_BYTES: usize = 300_000_000;
/// Frames between two words about how far it is.
const TELL_EVERY: usize = 1 << 17;

/// What a frame is kept as.
pub(super) trait Keep: Copy {
    /// From the samples of all channels; at least one.
    fn of(frame: &[f32]) -> Self;
}

impl Keep for f32 {
    #[expect(clippy::cast_precision_loss, reason = "channels are few")]
    fn of(frame: &[f32]) -> Self {
        frame.iter().sum::<f32>() / frame.len().max(1) as Self
    }
}

impl Keep for [f32; 2] {
    fn of(frame: &[f32]) -> Self {
        match *frame {
            [left, right] => [left, right],
            _ => [f32::of(frame); 2],
        }
    }
}

/// What is wanted of a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Wanted {
    /// A take to be judged.
    Take,
    /// A recording to play along with.
    Song,
}

/// Frames as they come.
pub(super) struct Frames<'a, K> {
    kept: Vec<K>,
    wanted: Wanted,
    go_on: Option<&'a mut dyn FnMut(f64) -> bool>,
}

/// A file, decoded.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Decoded<K> {
    pub(super) kept: Vec<K>,
    pub(super) rate: u32,
    pub(super) channels: u16,
    pub(super) truncated: bool,
}

impl Frames<'_, f32> {
    pub(super) fn take() -> Self {
        Self { kept: Vec::new(), wanted: Wanted::Take, go_on: None }
    }
}

impl<'a> Frames<'a, [f32; 2]> {
    pub(super) fn song(go_on: &'a mut dyn FnMut(f64) -> bool) -> Self {
        Self { kept: Vec::new(), wanted: Wanted::Song, go_on: Some(go_on) }
    }
}

impl<K: Keep> Frames<'_, K> {
    /// Adds a frame of a file at `rate` frames a second.
    pub(super) fn push(&mut self, frame: &[f32], rate: u32) -> Result<(), Trouble> {
        let (seconds, bytes) = match self.wanted {
            Wanted::Take => (LONGEST_TAKE_S, MOST_TAKE_BYTES),
            Wanted::Song => (LONGEST_SONG_S, MOST_SONG_BYTES),
        };
        let longest = usize::try_from(u64::from(rate) * seconds).unwrap_or(usize::MAX);
        if self.kept.len() >= longest.min(bytes / size_of::<K>()) {
            return Err(Trouble::TooLong(self.wanted));
        }
        if self.kept.len().is_multiple_of(TELL_EVERY)
            && let Some(go_on) = &mut self.go_on
        {
            #[expect(clippy::cast_precision_loss, reason = "minutes")]
            let seconds = self.kept.len() as f64 / f64::from(rate.max(1));
            if !go_on(seconds) {
                return Err(Trouble::Stopped);
            }
        }
        self.kept.push(K::of(frame));
        Ok(())
    }

    /// All of them.
    pub(super) fn decoded(self, rate: u32, channels: u16, truncated: bool) -> Decoded<K> {
        Decoded { kept: self.kept, rate, channels, truncated }
    }
}

impl<K> Decoded<K> {
    #[expect(clippy::cast_precision_loss, reason = "for comparing")]
    pub(super) fn seconds(&self) -> f64 {
        self.kept.len() as f64 / f64::from(self.rate)
    }
}
