//! From ticks to sample frames, exactly: one rounding a position, none carried on.

use sixrung_lesson::{Tempo, Tick};

/// A position in sample frames.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Frames(pub u64);

/// A position in 2⁻⁴⁰ of a frame: where a stretch of constant tempo begins, carried unrounded from one to the next.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct FineFrames(u128);

const FINE_BITS: u32 = 40;

impl FineFrames {
    /// A whole number of frames.
    #[must_use]
    pub const fn from_frames(frames: Frames) -> Self {
        Self((frames.0 as u128) << FINE_BITS)
    }

    /// Rounded to the nearest frame, halves up.
    ///
    /// # Real-time
    /// Integer arithmetic only.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "u64 frames last longer than any machine")]
    pub const fn round(self) -> Frames {
        Frames(((self.0 + (1 << (FINE_BITS - 1))) >> FINE_BITS) as u64)
    }
}

/// A constant tempo at a sample rate: `S_k = ⌊S_0 + 60000·k·rate / (b·p) + ½⌋` for tick `k`, with `b` the tempo in
/// milli-bpm and `p` the ticks in a beat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TempoGrid {
    rate: u32,
    tempo: Tempo,
    beat: Tick,
}

impl TempoGrid {
    /// A grid at `rate` frames a second, where one beat lasts `beat` ticks (at least 1).
    #[must_use]
    pub const fn new(rate: u32, tempo: Tempo, beat: Tick) -> Self {
        let beat = if beat.0 == 0 { Tick(1) } else { beat };
        Self { rate, tempo, beat }
    }

    /// Frames a second.
    #[must_use]
    pub const fn rate(self) -> u32 {
        self.rate
    }

    /// The tempo.
    #[must_use]
    pub const fn tempo(self) -> Tempo {
        self.tempo
    }

    /// Ticks in a beat.
    #[must_use]
    pub const fn beat(self) -> Tick {
        self.beat
    }

    /// Where tick `tick` lies when tick 0 lies at `anchor`.
    ///
    /// # Real-time
    /// Integer arithmetic only.
    #[must_use]
    pub const fn fine(self, anchor: FineFrames, tick: u64) -> FineFrames {
        let numerator = (tick as u128 * 60_000 * self.rate as u128) << FINE_BITS;
        let denominator = self.tempo.milli_bpm() as u128 * self.beat.0 as u128;
        FineFrames(anchor.0 + (numerator + denominator / 2) / denominator)
    }

    /// The frame of tick `tick` when tick 0 lies at `anchor`.
    ///
    /// # Real-time
    /// Integer arithmetic only.
    #[must_use]
    pub const fn frame(self, anchor: FineFrames, tick: u64) -> Frames {
        self.fine(anchor, tick).round()
    }

    /// Length of `tick` ticks in seconds.
    #[must_use]
    pub fn seconds(self, tick: Tick) -> f64 {
        f64::from(tick.0) * 60.0 / (self.tempo.bpm() * f64::from(self.beat.0))
    }

    /// Length of `tick` ticks, rounded to the nearest nanosecond.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "2^32 ticks at 10 eighths a minute are under 2^63 ns")]
    pub const fn nanoseconds(self, tick: Tick) -> u64 {
        let numerator = tick.0 as u128 * 60_000 * 1_000_000_000;
        let denominator = self.tempo.milli_bpm() as u128 * self.beat.0 as u128;
        ((numerator + denominator / 2) / denominator) as u64
    }

    /// The fewest whole ticks that last at least `ms` milliseconds.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "milliseconds are few, and a minute has 768,000 ticks at most")]
    pub const fn ticks_in_ms(self, ms: u64) -> Tick {
        let ticks_a_minute_milli = self.tempo.milli_bpm() as u64 * self.beat.0 as u64;
        Tick((ms * ticks_a_minute_milli).div_ceil(60_000_000) as u32)
    }

    /// The tick reached after `frames` frames, as a fraction, for drawing.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "for drawing")]
    pub fn tick_at(self, frames: u64) -> f64 {
        frames as f64 / f64::from(self.rate) * self.tempo.bpm() / 60.0 * f64::from(self.beat.0)
    }
}
