//! The output callback: the source's stereo to whatever the device takes.

use cpal::{FromSample, Sample};
use crossbeam_channel::{Receiver, Sender, bounded};
use rtrb::{Producer, RingBuffer};

use super::played::{PlayedEnds, PlayedSide, played_side};
use crate::clock::{Clock, Stamp, Times};
use crate::desk::OutputDesk;
use crate::source::{Inbox, Source};

/// Frames rendered at a time. Any block length is served in pieces of this.
const PIECE: usize = 1024;
/// Stamps under way to the watcher, which looks fifty times a second; when full the newest is left out, which a line
/// through many can bear.
const STAMPS: usize = 1024;
/// The largest value written: a full-scale 24-bit sample must not wrap to its negative.
const LOUDEST: f32 = 1.0 - f32::EPSILON / 2.0;

/// What the output callback owns. Comes home when the stream dies, with the source in it.
pub(crate) struct OutputSide {
    source: Option<Box<dyn Source>>,
    /// Frames asked for, by every stream there was.
    frames: u64,
    /// Where among them the source began.
    zero: u64,
    inbox: Receiver<Box<dyn Source>>,
    outbox: Sender<Box<dyn Source>>,
    stamps: Producer<Stamp>,
    clock: Clock,
    stream: u32,
    rate: u32,
    piece: Box<[f32]>,
    played: PlayedSide,
}

/// The callback's part, the way in, and what comes back.
pub(crate) fn output_side(clock: Clock) -> (Box<OutputSide>, Inbox, OutputDesk, PlayedEnds) {
    let (entrance, inbox) = bounded(1);
    let (outbox, outbox_out) = bounded(1);
    let (stamps, stamps_out) = RingBuffer::new(STAMPS);
    let piece = vec![0.0; 2 * PIECE].into_boxed_slice();
    let unfetched = inbox.clone();
    let (played, played_ends) = played_side();
    let side = OutputSide {
        source: None,
        frames: 0,
        zero: 0,
        inbox,
        outbox,
        stamps,
        clock,
        stream: 0,
        rate: 0,
        piece,
        played,
    };
    let desk = OutputDesk { stamps: stamps_out, outbox: outbox_out };
    (Box::new(side), Inbox { entrance, unfetched }, desk, played_ends)
}

impl OutputSide {
    /// Made ready for a newly opened stream. Off the audio thread. A source made for another rate is freed here: it
    /// would play out of tune.
    pub(crate) fn opened(&mut self, rate: u32) {
        if rate != self.rate {
            self.source = None;
        }
        self.rate = rate;
        self.stream += 1;
    }

    pub(crate) const fn rate(&self) -> u32 {
        self.rate
    }

    /// Fills one block. With no source, silence.
    ///
    /// # Real-time
    /// Neither allocates nor locks; the channels are only tried.
    pub(crate) fn render<T: Sample + FromSample<f32>>(&mut self, out: &mut [T], channels: usize, times: Times) {
        let arrived_ns = self.clock.now_ns();
        self.fetch();
        let channels = channels.max(1);
        let mut first = self.frames - self.zero;
        for block in out.chunks_mut(PIECE * channels) {
            let stereo = &mut self.piece[..2 * (block.len() / channels)];
            stereo.fill(0.0);
            if let Some(source) = self.source.as_mut() {
                source.process(stereo);
            }
            self.played.take(first, self.rate, stereo);
            first += (stereo.len() / 2) as u64;
            spread(stereo, block, channels);
        }
        let frames = out.len() / channels;
        let (stream, rate, first, zero) = (self.stream, self.rate, self.frames, self.zero);
        self.frames += frames as u64;
        let frames = u32::try_from(frames).unwrap_or(u32::MAX);
        let _ = self.stamps.push(Stamp { stream, rate, first, frames, zero, lost: 0, times, arrived_ns });
    }

    /// Takes a new source in, if there is one and the last one sent out has been fetched.
    fn fetch(&mut self) {
        if self.outbox.is_full() {
            return;
        }
        let Ok(new) = self.inbox.try_recv() else { return };
        self.zero = self.frames;
        if let Some(old) = self.source.replace(new)
            && let Err(refused) = self.outbox.try_send(old)
        {
            // Cannot be: nobody else sends there, and there was room. Were it so, a leak is better than a free here.
            std::mem::forget(refused);
        }
    }
}

/// Stereo frames to frames of `channels`: one channel gets both sides' mean, more than two are silent beyond the first
/// two.
///
/// # Real-time
/// Arithmetic only.
pub(crate) fn spread<T: Sample + FromSample<f32>>(stereo: &[f32], out: &mut [T], channels: usize) {
    let sample = |value: f32| if value.is_nan() { T::EQUILIBRIUM } else { T::from_sample(value.clamp(-1.0, LOUDEST)) };
    for (frame, pair) in out.chunks_mut(channels).zip(stereo.chunks_exact(2)) {
        match frame {
            [one] => *one = sample(f32::midpoint(pair[0], pair[1])),
            [left, right, rest @ ..] => {
                *left = sample(pair[0]);
                *right = sample(pair[1]);
                rest.fill(T::EQUILIBRIUM);
            }
            [] => {}
        }
    }
}
