//! Measuring from the window: another source plays for a while, then the performer comes back.

use sixrung_devices::Status;
use sixrung_journal::{Measured as How, RoundTrip as Kept, SoundCheck};
use sixrung_listen::{Measurement, Reason};
use sixrung_practice::Moment;

use super::Studio;
use super::desk::Told;
use crate::measuring::{Measure, Measured};
use crate::pages::{CalibrateView, RoundTrip};
use crate::session::{FoundTrip, Input};
use crate::stand::Volumes;

/// What is measured now, and what came of it last.
#[derive(Default)]
pub(super) struct Calibration {
    pub(super) running: Option<Measure>,
    outcome: Option<Measured>,
}

impl Studio {
    /// Begins to measure; what plays was stopped before.
    pub(super) fn measure(&mut self, measure: Measure) {
        let status = self.sound.status();
        let (Some(output), true) = (status.output.opened(), status.input.opened().is_some()) else { return };
        let master_db = self.session.settings().volumes.master_db;
        let gain = if master_db <= Volumes::SILENT_DB { 0.0 } else { 10.0_f32.powf(master_db / 20.0) };
        self.tell(Told::Measure(Some(measure)));
        self.sound.play(measure.source(output.rate, gain));
        self.controls = None;
        self.calibration = Calibration { running: Some(measure), outcome: None };
    }

    /// Gives the speakers back to the performer.
    pub(super) fn stop_measuring(&mut self, now: Moment) {
        if self.calibration.running.take().is_none() {
            return;
        }
        self.tell(Told::Measure(None));
        if let Some(rate) = self.sound.status().output.opened().map(|opened| opened.rate) {
            self.seat_performer(rate);
        }
        self.take(Input::Sound(self.sound_state()), now);
    }

    /// Keeps what came of it.
    pub(super) fn measured(&mut self, measured: Measured, now: Moment) {
        match &measured {
            Measured::Loopback(Ok(found)) => self.keep_trip(How::Loopback, found.trip, now),
            Measured::TapAlong(Ok(found)) => self.keep_trip(How::TapAlong, *found, now),
            Measured::Strums(found) if could_hear(found) => self.keep_check(found.clone(), false, now),
            _ => {}
        }
        self.stop_measuring(now);
        self.calibration.outcome = Some(measured);
    }

    /// The player goes on whatever the check found.
    pub(super) fn overrule(&mut self, now: Moment) {
        let found = self.pair().and_then(|pair| self.keeper.sound_check(pair)).map(|check| check.found);
        self.keep_check(found.unwrap_or_default(), true, now);
        self.take(Input::Sound(self.sound_state()), now);
    }

    pub(super) fn keep_found(&self, found: FoundTrip, how: How, now: Moment) {
        if let Some(pair) = self.pair() {
            let kept = Kept { ms: found.ms, spread_ms: found.spread_ms, how, measured: now };
            self.keeper.set_round_trip(pair, kept);
        }
    }

    /// The way has changed: what was measured is kept with the difference, and how it was measured.
    pub(super) fn move_trip(&self, by_ms: f64, now: Moment) {
        if let Some(pair) = self.pair()
            && let Some(kept) = self.keeper.round_trip(pair.clone())
        {
            self.keeper.set_round_trip(pair, Kept { ms: kept.ms + by_ms, measured: now, ..kept });
        }
    }

    fn keep_trip(&self, how: How, found: Measurement, now: Moment) {
        self.keep_found(FoundTrip { ms: found.ms, spread_ms: found.spread_ms }, how, now);
    }

    fn keep_check(&self, found: Vec<Reason>, overruled: bool, now: Moment) {
        if let Some(pair) = self.pair() {
            self.keeper.set_sound_check(pair, SoundCheck { found, overruled, at: now });
        }
    }

    /// What the last sound check of these devices found in the way.
    pub(super) fn objection(&self) -> Option<Reason> {
        let check = self.keeper.sound_check(self.pair()?)?;
        check.found.first().copied().filter(|_| !check.overruled)
    }

    /// The round trip in force, and how it was found.
    pub(super) fn trip(&self) -> RoundTrip {
        let Some(ms) = self.session.sound().round_trip_ms else { return RoundTrip::Unknown };
        match self.pair().and_then(|pair| self.keeper.round_trip(pair)) {
            Some(Kept { spread_ms, how: How::Loopback, .. }) => RoundTrip::Heard(ms, spread_ms),
            Some(Kept { spread_ms, how: How::TapAlong, .. }) => RoundTrip::Tapped(ms, spread_ms),
            Some(Kept { how: How::ByHand, .. }) => RoundTrip::Set(ms),
            _ => RoundTrip::Found(ms),
        }
    }

    /// What the page of calibration shows.
    pub(crate) fn calibrate_page(&self) -> CalibrateView {
        let Status { output, input, .. } = self.sound.status();
        let running = self.calibration.running;
        let rate = f64::from(output.opened().map_or(1, |opened| opened.rate.max(1)));
        #[expect(clippy::cast_possible_truncation, reason = "a share, for drawing")]
        let share = |measure: Measure| {
            (self.sound.frame_now().unwrap_or(0.0) / rate / measure.length_s()).clamp(0.0, 1.0) as f32
        };
        CalibrateView {
            has_devices: output.opened().is_some() && input.opened().is_some(),
            trip: self.trip(),
            running: running.map(|measure| (measure, share(measure))),
            outcome: self.calibration.outcome.clone(),
            check: self
                .pair()
                .and_then(|pair| self.keeper.sound_check(pair))
                .map(|check| (check.found, check.overruled)),
            hearing: self.session.hearing(),
        }
    }
}

/// Whether a check heard enough to be one.
fn could_hear(found: &[Reason]) -> bool {
    !found.iter().any(|found| matches!(found, Reason::Silence | Reason::Gap | Reason::BadSamples))
}
