//! A straight line, frame to time, kept up to date stamp by stamp.

/// How far off a single stamp is taken to be. Measured through a sound server: 0.03 ms from one to the next, but all
/// together they wander by 1 ms within seconds while the frames themselves stay where they are.
const STAMP_SPREAD_S: f64 = 1e-3;
/// How far a sound card's clock may be off its nominal rate (common crystals: ± 100 ppm; a sound server's timer was
/// measured at −97 ppm).
const DRIFT_SPREAD: f64 = 100e-6;
/// How far that wanders in a second (crystals warm up slowly): together with the stamps' spread, a memory of half a
/// minute.
const DRIFT_WANDER: f64 = 1e-7;

/// Least squares with forgetting (Kalman 1960, two states): how much later than nominal the newest frame is, and by
/// how much more each second.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Fit {
    rate: f64,
    base_frame: u64,
    base_ns: i64,
    /// Frame at which `late_s` holds.
    at_frame: u64,
    late_s: f64,
    drift: f64,
    /// Covariance of (`late_s`, `drift`).
    p_late: f64,
    p_both: f64,
    p_drift: f64,
    stamps: u32,
}

impl Fit {
    /// A line through one point.
    pub(crate) fn through(frame: u64, ns: i64, rate: u32) -> Self {
        Self {
            rate: f64::from(rate.max(1)),
            base_frame: frame,
            base_ns: ns,
            at_frame: frame,
            late_s: 0.0,
            drift: 0.0,
            p_late: STAMP_SPREAD_S * STAMP_SPREAD_S,
            p_both: 0.0,
            p_drift: DRIFT_SPREAD * DRIFT_SPREAD,
            stamps: 1,
        }
    }

    pub(crate) const fn stamps(&self) -> u32 {
        self.stamps
    }

    /// How much later than the line the point lies, in seconds.
    pub(crate) fn later_by(&self, frame: u64, ns: i64) -> f64 {
        self.measured(frame, ns) - self.late_at(seconds_between(self.at_frame, frame, self.rate))
    }

    /// Takes the next point in.
    pub(crate) fn add(&mut self, frame: u64, ns: i64) {
        let ahead = seconds_between(self.at_frame, frame, self.rate);
        let surprise = self.later_by(frame, ns);
        self.late_s = self.late_at(ahead);
        self.p_late += ahead * (2.0 * self.p_both + ahead * self.p_drift);
        self.p_both += ahead * self.p_drift;
        self.p_drift += DRIFT_WANDER * DRIFT_WANDER * ahead;
        self.at_frame = frame;

        let total = self.p_late + STAMP_SPREAD_S * STAMP_SPREAD_S;
        let (k_late, k_drift) = (self.p_late / total, self.p_both / total);
        self.late_s += k_late * surprise;
        self.drift += k_drift * surprise;
        self.p_drift -= k_drift * self.p_both;
        self.p_both *= 1.0 - k_late;
        self.p_late *= 1.0 - k_late;
        self.stamps = self.stamps.saturating_add(1);
    }

    /// Time of a frame in nanoseconds.
    #[expect(clippy::cast_precision_loss, reason = "nanoseconds of days fit an f64 to well under a microsecond")]
    pub(crate) fn ns_of(&self, frame: f64) -> f64 {
        let from_base = (frame - self.base_frame as f64) / self.rate;
        let ahead = (frame - self.at_frame as f64) / self.rate;
        self.base_ns as f64 + 1e9 * (from_base + self.late_at(ahead))
    }

    /// Frame at a time in nanoseconds.
    #[expect(clippy::cast_precision_loss, reason = "as above")]
    pub(crate) fn frame_at(&self, ns: f64) -> f64 {
        let newest = self.at_frame as f64;
        newest + (ns - self.ns_of(newest)) / 1e9 * self.rate / (1.0 + self.drift)
    }

    fn late_at(&self, ahead: f64) -> f64 {
        self.late_s + self.drift * ahead
    }

    #[expect(clippy::cast_precision_loss, reason = "as above")]
    fn measured(&self, frame: u64, ns: i64) -> f64 {
        (ns - self.base_ns) as f64 / 1e9 - seconds_between(self.base_frame, frame, self.rate)
    }
}

#[expect(clippy::cast_precision_loss, reason = "frames of days fit an f64 exactly")]
fn seconds_between(from: u64, to: u64, rate: f64) -> f64 {
    (to as f64 - from as f64) / rate
}
