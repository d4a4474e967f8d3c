//! Input frames in output frames.

use crate::clock::stamp::Stamp;
use crate::clock::track::{Gap, Track, Turn};

/// Where the microphone's frames lie on the output's count, as well as it is known at one moment.
///
/// The two devices run on clocks of their own: the map is best for frames of the last seconds (a drift known to 3 ppm
/// is 0.2 ms off after a minute). What the drivers say about their own delay is taken out; the way through the air and
/// what drivers keep to themselves is not: that is the measured round trip.
#[derive(Clone, Debug)]
pub struct ClockMap {
    pub(crate) input: Track,
    pub(crate) output: OutputTimes,
}

/// When the source's frames sound.
#[derive(Clone, Debug)]
pub(crate) struct OutputTimes {
    track: Track,
    zero: u64,
}

impl OutputTimes {
    pub(crate) fn new() -> Self {
        Self { track: Track::new(), zero: 0 }
    }

    /// Takes a block's stamp in; a gap is told in the source's frames.
    pub(crate) fn push(&mut self, stamp: &Stamp) -> Option<Gap> {
        self.zero = stamp.zero;
        match self.track.push(stamp) {
            Turn::Gap(gap) => Some(Gap { at: gap.at.saturating_sub(self.zero), ..gap }),
            Turn::Steady | Turn::Restarted => None,
        }
    }

    /// The source's frame that sounds at a time on our clock; negative before it began.
    #[expect(clippy::cast_precision_loss, reason = "frames of days fit an f64 exactly")]
    pub(crate) fn frame_at(&self, ns: f64) -> Option<f64> {
        Some(self.track.frame_at(ns)? - self.zero as f64)
    }
}

impl ClockMap {
    /// The source's frame that sounded when this input frame was captured. `None` while either clock is not yet known.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "frames of days fit an f64 exactly")]
    pub fn output_frame_of_input(&self, input_frame: u64) -> Option<f64> {
        self.output.frame_at(self.input.ns_of(input_frame as f64)?)
    }
}
