//! What the microphone heard while a probe was played.

use super::probe::Probe;
use super::{Loopback, Measurement, NotMeasured, loopback, taps};
use crate::level::FULL_SCALE;
use crate::quality::OVERDRIVEN_SHARE;

/// The microphone's samples, placed on the clock of what is played.
#[derive(Clone, Debug)]
pub struct Recording {
    rate: u32,
    samples: Vec<f32>,
    /// A sample's index, and when it was captured on the output's clock in seconds; the round trip not taken out.
    places: Vec<(usize, f64)>,
    gap: bool,
}

impl Recording {
    /// An empty one at `rate` frames a second; `None` outside [`crate::RATES`].
    #[must_use]
    pub fn new(rate: u32) -> Option<Self> {
        crate::RATES.contains(&rate).then(|| Self { rate, samples: Vec::new(), places: Vec::new(), gap: false })
    }

    /// Takes in samples of which the first was captured at `at_s` of the output's clock, where that is known. What
    /// comes before the output's clock is known is kept unplaced.
    pub fn take_in(&mut self, at_s: Option<f64>, samples: &[f32]) {
        if let Some(at_s) = at_s {
            self.places.push((self.samples.len(), at_s));
        }
        self.gap |= samples.iter().any(|sample| !sample.is_finite());
        self.samples.extend(samples.iter().map(|sample| if sample.is_finite() { *sample } else { 0.0 }));
    }

    /// Sound was lost just before what comes next.
    pub const fn gap(&mut self) {
        self.gap = true;
    }

    /// Frames a second.
    #[must_use]
    pub const fn rate(&self) -> u32 {
        self.rate
    }

    /// Whether all that can be heard of `probe` is in it.
    #[must_use]
    pub fn is_complete(&self, probe: &Probe) -> bool {
        self.ends_s().is_some_and(|end_s| end_s >= probe.length_s())
    }

    /// The round trip, by our own sweeps.
    ///
    /// # Errors
    /// Why there is none to tell.
    pub fn loopback(&self, probe: &Probe) -> Result<Loopback, NotMeasured> {
        self.objection(probe).map_or_else(|| loopback::find(self, probe), Err)
    }

    /// The round trip less the player's own anticipation, by taps on the guitar to our clicks.
    ///
    /// # Errors
    /// Why there is none to tell.
    pub fn tapped(&self, probe: &Probe) -> Result<Measurement, NotMeasured> {
        self.objection(probe).map_or_else(|| taps::find(self, probe), Err)
    }

    fn objection(&self, probe: &Probe) -> Option<NotMeasured> {
        let overdriven = self.samples.iter().filter(|sample| sample.abs() >= FULL_SCALE).count();
        #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
        let is_overdriven = overdriven as f64 > f64::from(OVERDRIVEN_SHARE) * self.samples.len() as f64;
        if self.gap {
            Some(NotMeasured::Gap)
        } else if !self.is_complete(probe) {
            Some(NotMeasured::TooShort)
        } else {
            is_overdriven.then_some(NotMeasured::Clipped)
        }
    }

    /// The samples from when `at_s` of the output's clock was captured on, by the place nearest before it: clocks
    /// wander, and what is near is best.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "cut to what is kept")]
    pub(super) fn from(&self, at_s: f64, length_s: f64) -> Option<(f64, &[f32])> {
        let rate = f64::from(self.rate);
        // From the end: a place told before the probe began is on another clock.
        let (index, place_s) = self.places.iter().rev().find(|(_, place_s)| *place_s <= at_s)?;
        let first = index + ((at_s - place_s) * rate).floor().max(0.0) as usize;
        let count = (length_s * rate).ceil() as usize;
        #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
        let first_s = place_s + (first - index) as f64 / rate;
        Some((first_s, self.samples.get(first..first + count)?))
    }

    /// When a sample was captured, on the output's clock.
    #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
    pub(super) fn time_s(&self, index: f64) -> Option<f64> {
        let (place, place_s) = self.places.iter().rev().find(|(place, _)| *place as f64 <= index)?;
        Some(place_s + (index - *place as f64) / f64::from(self.rate))
    }

    pub(super) fn samples(&self) -> &[f32] {
        &self.samples
    }

    #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
    fn ends_s(&self) -> Option<f64> {
        self.time_s(self.samples.len() as f64)
    }
}
