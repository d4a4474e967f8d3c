//! What a callback notes about the block it was handed.

use std::sync::Arc;
use std::sync::atomic::{AtomicI64, Ordering};
use std::time::Instant;

/// The one clock everything is placed on, in nanoseconds since the sound was opened.
#[derive(Clone, Debug)]
pub(crate) enum Clock {
    /// The machine's monotonic clock.
    Machine(Instant),
    /// A clock that stands still until a simulation moves it.
    Simulated(Arc<AtomicI64>),
}

impl Clock {
    pub(crate) fn start() -> Self {
        Self::Machine(Instant::now())
    }

    /// Nanoseconds since the clock was started.
    ///
    /// # Real-time
    /// Reads the monotonic clock through the vDSO, or one atomic.
    pub(crate) fn now_ns(&self) -> i64 {
        match self {
            Self::Machine(origin) => i64::try_from(origin.elapsed().as_nanos()).unwrap_or(i64::MAX),
            Self::Simulated(now) => now.load(Ordering::Acquire),
        }
    }
}

/// The two times a stream tells with a block, in nanoseconds on the stream's own clock.
///
/// Streams need not share an origin: these are never compared with another stream's.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Times {
    /// When the callback was called.
    pub(crate) callback_ns: i64,
    /// When the first frame sounds, or was captured.
    pub(crate) device_ns: i64,
}

/// One block: which frames, and when.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stamp {
    /// Which opening of the device this is, from 1.
    pub(crate) stream: u32,
    /// Frames a second.
    pub(crate) rate: u32,
    /// Number of the block's first frame.
    pub(crate) first: u64,
    /// Length of the block.
    pub(crate) frames: u32,
    /// The frame that is frame 0 to whoever counts: of the output, the source's first.
    pub(crate) zero: u64,
    /// Frames that came before this block and had to be thrown away for want of room.
    pub(crate) lost: u64,
    /// What the stream says.
    pub(crate) times: Times,
    /// When the callback was called, on our clock.
    pub(crate) arrived_ns: i64,
}

/// How many stamps one half of the anchor's window holds: some seconds, in which clocks drift less than 0.1 ms.
const HALF_WINDOW: u32 = 128;

/// From a stream's own clock to ours.
///
/// A callback runs at the instant it names or, held up by the scheduler, later: never earlier. The smallest difference
/// seen in a sliding window is therefore the true one.
#[derive(Clone, Debug)]
pub(crate) struct Anchor {
    seen: u32,
    smallest_now: i64,
    smallest_before: i64,
}

impl Anchor {
    pub(crate) const fn new() -> Self {
        Self { seen: 0, smallest_now: i64::MAX, smallest_before: i64::MAX }
    }

    /// When the stamp's first frame sounds or was captured, on our clock.
    pub(crate) fn place(&mut self, stamp: &Stamp) -> i64 {
        if self.seen == HALF_WINDOW {
            self.smallest_before = self.smallest_now;
            self.smallest_now = i64::MAX;
            self.seen = 0;
        }
        self.seen += 1;
        self.smallest_now = self.smallest_now.min(stamp.arrived_ns - stamp.times.callback_ns);
        stamp.times.device_ns + self.smallest_now.min(self.smallest_before)
    }
}
