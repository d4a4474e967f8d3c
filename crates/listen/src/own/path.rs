//! The way our sound takes: speakers, air, walls, microphone.

/// How long a path is followed after its beginning, in seconds: by then a room that decays by 60 dB in half a second has
/// fallen by 24 dB, well below what a count-in's clicks let be learned.
pub(crate) const LENGTH_S: f64 = 0.200;
/// A path begins this much before its strongest tap, in seconds.
pub(crate) const BEFORE_STRONGEST_S: f64 = 0.005;
/// The largest lag of what we play behind its own stamp, and ahead of it, in seconds: what drivers don't tell. A
/// wireless headset lags by up to 0.3 s (common practice, no source); a sound server's stamps wander by 3 ms.
pub(crate) const LARGEST_LAG_S: f64 = 0.600;
pub(crate) const LARGEST_LEAD_S: f64 = 0.003;

/// A linear path from what is played to what the microphone hears of it, at the listener's working rate.
#[derive(Clone, Debug, PartialEq)]
pub struct OwnPath {
    /// Samples a second of the working rate.
    pub(crate) rate: f64,
    /// Lag of the first tap, in samples.
    pub(crate) lag: i64,
    /// The taps, by lag.
    pub(crate) taps: Vec<f32>,
    /// See [`Self::removes_db`].
    pub(crate) removes_db: f32,
}

impl OwnPath {
    /// How much weaker our own sound becomes by it, in decibels: measured on sound it was not learned from.
    #[must_use]
    pub const fn removes_db(&self) -> f32 {
        self.removes_db
    }

    /// When the strongest part of our sound arrives behind its stamp, in seconds: the round trip, the player's own
    /// delay not in it.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "thousands of taps")]
    pub fn arrives_after_s(&self) -> f64 {
        let strongest = (0..self.taps.len()).max_by(|a, b| self.taps[*a].abs().total_cmp(&self.taps[*b].abs()));
        (self.lag as f64 + strongest.unwrap_or(0) as f64) / self.rate
    }
}
