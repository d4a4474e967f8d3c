//! The input callback: whatever the device gives, to mono, into a ring with its time.

use cpal::{FromSample, Sample};
use rtrb::{Consumer, Producer, RingBuffer};

use crate::clock::{Clock, Stamp, Times};
use crate::config::Pick;

/// Samples under way to the listener: 10.9 s at 48 kHz, 2.7 s at 192 kHz. When full, whole blocks are left out,
/// counted, and make a gap.
const SAMPLES: usize = 1 << 19;
/// Blocks under way. When full, as above.
const STAMPS: usize = 1 << 13;

/// What the input callback owns.
pub(crate) struct InputSide {
    samples: Producer<f32>,
    stamps: Producer<Stamp>,
    captured: u64,
    lost: u64,
    clock: Clock,
    stream: u32,
    rate: u32,
    pick: Pick,
}

/// The other ends. Every stamp's samples are in the ring before the stamp is.
pub(crate) struct InputEnds {
    pub(crate) samples: Consumer<f32>,
    pub(crate) stamps: Consumer<Stamp>,
}

pub(crate) fn input_side(clock: Clock) -> (Box<InputSide>, InputEnds) {
    let (samples, samples_out) = RingBuffer::new(SAMPLES);
    let (stamps, stamps_out) = RingBuffer::new(STAMPS);
    let side = InputSide { samples, stamps, captured: 0, lost: 0, clock, stream: 0, rate: 0, pick: Pick::Mean };
    (Box::new(side), InputEnds { samples: samples_out, stamps: stamps_out })
}

impl InputSide {
    /// Made ready for a newly opened stream. Off the audio thread.
    pub(crate) const fn opened(&mut self, rate: u32, pick: Pick) {
        self.rate = rate;
        self.pick = pick;
        self.stream += 1;
        self.lost = 0;
    }

    /// Takes one block in.
    ///
    /// # Real-time
    /// Neither allocates nor locks; a full ring loses the block and counts it.
    pub(crate) fn take<T: Sample>(&mut self, data: &[T], channels: usize, times: Times)
    where
        f32: FromSample<T>,
    {
        let arrived_ns = self.clock.now_ns();
        let channels = channels.max(1);
        let frames = data.len() / channels;
        if frames == 0 {
            return;
        }
        if self.stamps.is_full() {
            self.lost += frames as u64;
            return;
        }
        let Ok(room) = self.samples.write_chunk_uninit(frames) else {
            self.lost += frames as u64;
            return;
        };
        let pick = self.pick;
        room.fill_from_iter(data.chunks_exact(channels).map(|frame| mono(frame, pick)));
        let (stream, rate, first, lost) = (self.stream, self.rate, self.captured, self.lost);
        self.lost = 0;
        self.captured += frames as u64;
        let frames = u32::try_from(frames).unwrap_or(u32::MAX);
        let _ = self.stamps.push(Stamp { stream, rate, first, frames, zero: 0, lost, times, arrived_ns });
    }
}

/// One frame as one sample.
///
/// # Real-time
/// Arithmetic only.
pub(crate) fn mono<T: Sample>(frame: &[T], pick: Pick) -> f32
where
    f32: FromSample<T>,
{
    let value = |sample: &T| f32::from_sample(*sample);
    match pick {
        Pick::Channel(channel) if usize::from(channel) < frame.len() => value(&frame[usize::from(channel)]),
        _ => {
            #[expect(clippy::cast_precision_loss, reason = "channels are few")]
            let count = frame.len() as f32;
            frame.iter().map(value).sum::<f32>() / count
        }
    }
}
