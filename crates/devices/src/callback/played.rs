//! A copy of what goes out, for the listener: it takes our own sound off the microphone's.

use rtrb::{Consumer, Producer, RingBuffer};

/// Samples under way to the listener: as many as of the microphone. When full, pieces are left out, and the listener
/// does not know what was played there.
const SAMPLES: usize = 1 << 19;
/// Pieces under way. When full, as above.
const PIECES: usize = 1 << 13;

/// A piece of what goes out, whose samples are in the ring before it is.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Piece {
    /// The source's frame it begins with.
    pub(crate) first: u64,
    pub(crate) frames: u32,
    pub(crate) rate: u32,
}

/// The callback's end.
pub(crate) struct PlayedSide {
    samples: Producer<f32>,
    pieces: Producer<Piece>,
}

/// The listener's end.
pub(crate) struct PlayedEnds {
    pub(crate) samples: Consumer<f32>,
    pub(crate) pieces: Consumer<Piece>,
}

pub(crate) fn played_side() -> (PlayedSide, PlayedEnds) {
    let (samples, samples_out) = RingBuffer::new(SAMPLES);
    let (pieces, pieces_out) = RingBuffer::new(PIECES);
    (PlayedSide { samples, pieces }, PlayedEnds { samples: samples_out, pieces: pieces_out })
}

impl PlayedSide {
    /// Takes a copy of a piece, stereo by turns, mixed to one channel.
    ///
    /// # Real-time
    /// Neither allocates nor locks; a full ring loses the piece.
    pub(crate) fn take(&mut self, first: u64, rate: u32, stereo: &[f32]) {
        let frames = stereo.len() / 2;
        if frames == 0 || self.pieces.is_full() {
            return;
        }
        let Ok(room) = self.samples.write_chunk_uninit(frames) else { return };
        room.fill_from_iter(stereo.chunks_exact(2).map(|pair| f32::midpoint(pair[0], pair[1])));
        let _ = self.pieces.push(Piece { first, frames: u32::try_from(frames).unwrap_or(u32::MAX), rate });
    }
}
