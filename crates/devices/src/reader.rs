//! The listener's end of the microphone.

use std::sync::Arc;

use crate::callback::{InputEnds, Piece, PlayedEnds};
use crate::clock::{ClockMap, Gap, Stamp, Track, Turn};
use crate::shared::Shared;

/// Hands out what the microphone heard, block by block. Lives on the listener's thread, across every loss of a device.
pub struct InputReader {
    ends: InputEnds,
    shared: Arc<Shared>,
    track: Track,
    /// The block being handed out, and how many of its frames are.
    current: Option<(Stamp, u32)>,
    gaps: u64,
    played: PlayedEnds,
    /// The piece of what went out that is being handed out, and how many of its frames are.
    piece: Option<(Piece, u32)>,
}

/// One read: frames that follow each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chunk {
    /// How many samples were written.
    pub frames: usize,
    /// Number of the first: frames captured before it, lost ones not counted.
    pub position: u64,
    /// Frames a second; changes only together with a gap.
    pub rate: u32,
    /// The output frame that sounded when the first was captured, if that is known. The round trip is not taken out.
    pub output_frame: Option<f64>,
    /// A gap was found. It lies at [`Gap::at`], here or up to four blocks ago. What was being judged there is not to
    /// be judged.
    pub gap: Option<Gap>,
}

/// What went out: frames that follow each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlayedChunk {
    /// How many samples were written.
    pub frames: usize,
    /// The source's frame the first one is. Where it does not follow the chunk before, what lies between is not known.
    pub output_frame: u64,
    /// Frames a second.
    pub rate: u32,
}

impl InputReader {
    pub(crate) fn new(ends: InputEnds, played: PlayedEnds, shared: Arc<Shared>) -> Self {
        Self { ends, shared, track: Track::new(), current: None, gaps: 0, played, piece: None }
    }

    /// Fills `out` with what was rendered since the last time, mixed to one channel, at most to the end of a piece;
    /// `None` if nothing was. It is here before it sounds.
    pub fn read_played(&mut self, out: &mut [f32]) -> Option<PlayedChunk> {
        if out.is_empty() {
            return None;
        }
        let (piece, done) = match self.piece.take() {
            Some(begun) => begun,
            None => (self.played.pieces.pop().ok()?, 0),
        };
        let frames = out.len().min((piece.frames - done) as usize);
        self.played.samples.pop_entire_slice(&mut out[..frames]).ok()?;
        #[expect(clippy::cast_possible_truncation, reason = "at most the piece's own length")]
        let handed = done + frames as u32;
        self.piece = (handed < piece.frames).then_some((piece, handed));
        Some(PlayedChunk { frames, output_frame: piece.first + u64::from(done), rate: piece.rate })
    }

    /// Fills `out` with what has come, at most to the end of a block; `None` if nothing has.
    pub fn read(&mut self, out: &mut [f32]) -> Option<Chunk> {
        if out.is_empty() {
            return None;
        }
        let (stamp, done, gap) = match self.current.take() {
            Some((stamp, done)) => (stamp, done, None),
            None => {
                let stamp = self.ends.stamps.pop().ok()?;
                (stamp, 0, self.place(&stamp))
            }
        };
        let frames = out.len().min((stamp.frames - done) as usize);
        self.ends.samples.pop_entire_slice(&mut out[..frames]).ok()?;
        #[expect(clippy::cast_possible_truncation, reason = "at most the block's own length")]
        let handed = done + frames as u32;
        self.current = (handed < stamp.frames).then_some((stamp, handed));
        let position = stamp.first + u64::from(done);
        Some(Chunk { frames, position, rate: stamp.rate, output_frame: self.output_frame(position), gap })
    }

    /// Gaps found so far.
    #[must_use]
    pub const fn gaps(&self) -> u64 {
        self.gaps
    }

    /// Where the microphone's frames lie on the output's count, as known now.
    #[must_use]
    pub fn clock_map(&self) -> ClockMap {
        ClockMap { input: self.track.clone(), output: self.shared.output_times().clone() }
    }

    #[expect(clippy::cast_precision_loss, reason = "frames of days fit an f64 exactly")]
    fn output_frame(&self, position: u64) -> Option<f64> {
        let ns = self.track.ns_of(position as f64)?;
        self.shared.output_times().frame_at(ns)
    }

    fn place(&mut self, stamp: &Stamp) -> Option<Gap> {
        let gap = match self.track.push(stamp) {
            Turn::Steady => None,
            Turn::Restarted => (stamp.first > 0).then_some(Gap { at: stamp.first, missing_ms: None }),
            Turn::Gap(gap) => Some(gap),
        };
        self.gaps += u64::from(gap.is_some());
        gap
    }
}
