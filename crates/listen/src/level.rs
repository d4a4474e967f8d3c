//! How loud the input is, and what is wrong with it.

use crate::onset::decibels;

/// Length of a moment in seconds.
pub(crate) const MOMENT_S: f64 = 0.020;
/// So near full scale, and so many in a row, samples are cut off rather than loud.
pub(crate) const FULL_SCALE: f32 = 0.985;
const CUT_OFF_RUN: u32 = 3;

/// Twenty milliseconds of input, measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moment {
    /// Where it ends, in seconds on the take's clock.
    pub end_s: f64,
    /// Mean power of what can be heard, without what sways below 20 Hz, in decibels re full scale.
    pub level_db: f32,
    /// Largest sample, in decibels re full scale.
    pub peak_db: f32,
    /// Share of its samples that were cut off, 0 to 1.
    pub clipped: f32,
    /// Whether samples were lost just before or within it.
    pub gap: bool,
    /// Whether it held NaN or infinite samples.
    pub bad: bool,
}

/// What a level meter shows.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hearing {
    /// Mean power of the last moment, in decibels re full scale.
    pub level_db: f32,
    /// Largest sample, falling back slowly, in decibels re full scale.
    pub peak_db: f32,
    /// What to say about it.
    pub state: HearingState,
}

/// What to say about the input.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HearingState {
    /// Nothing arrives: "I can't hear you".
    Silent,
    /// Something does, too faint to judge by.
    Faint,
    /// Loud enough, with room above.
    Good,
    /// The input is overdriven.
    Clipping,
}

/// What sways more slowly is no sound: the usual lower end of hearing, in hertz (common practice, no source).
const HEARD_FROM_HZ: f64 = 20.0;
/// Shown peak under which nothing, or too little, arrives. A guitar one metre from a laptop's
/// microphone peaks between −40 and −15 dB: common practice, no source.
const SILENT_BELOW_DB: f32 = -66.0;
const FAINT_BELOW_DB: f32 = -48.0;
/// The shown peak falls back by so much a moment, 24 dB a second: a design choice of ours, slow enough to read at a
/// glance from strokes that come and go.
const FALL_DB: f32 = 0.48;
/// A second's moments show clipping after the last cut-off one.
const CLIPPING_SHOWN_MOMENTS: u32 = 50;

/// Measures input a sample at a time.
#[derive(Debug)]
pub(crate) struct Meter {
    length: u32,
    count: u32,
    /// What the input sways about, and how far it is followed in one sample.
    sway: f64,
    follow: f64,
    power: f64,
    peak: f32,
    run: u32,
    cut_off: u32,
    bad: bool,
    gap: bool,
    hearing: Hearing,
    clipping_left: u32,
}

impl Meter {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few thousand")]
    pub(crate) fn new(rate: u32) -> Self {
        Self {
            length: (f64::from(rate) * MOMENT_S).round().max(1.0) as u32,
            count: 0,
            sway: 0.0,
            follow: 1.0 - (-std::f64::consts::TAU * HEARD_FROM_HZ / f64::from(rate)).exp(),
            power: 0.0,
            peak: 0.0,
            run: 0,
            cut_off: 0,
            bad: false,
            gap: false,
            hearing: Hearing { level_db: -120.0, peak_db: -120.0, state: HearingState::Silent },
            clipping_left: 0,
        }
    }

    pub(crate) fn hearing(&self) -> Hearing {
        self.hearing
    }

    pub(crate) fn mark_gap(&mut self) {
        self.gap = true;
        self.run = 0;
    }

    /// Takes one sample as it came; gives a moment when one is full, its end left for the caller to fill in.
    pub(crate) fn push(&mut self, sample: f32) -> Option<Moment> {
        if sample.is_finite() {
            let size = sample.abs();
            self.sway += (f64::from(sample) - self.sway) * self.follow;
            self.power += (f64::from(sample) - self.sway).powi(2);
            self.peak = self.peak.max(size);
            self.run = if size >= FULL_SCALE { self.run + 1 } else { 0 };
            if self.run >= CUT_OFF_RUN {
                self.cut_off += if self.run == CUT_OFF_RUN { CUT_OFF_RUN } else { 1 };
            }
        } else {
            self.bad = true;
        }
        self.count += 1;
        (self.count >= self.length).then(|| self.finish())
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "levels need no more")]
    fn finish(&mut self) -> Moment {
        let moment = Moment {
            end_s: 0.0,
            level_db: decibels((self.power / f64::from(self.length)) as f32),
            peak_db: decibels(self.peak * self.peak),
            clipped: (self.cut_off as f32 / self.length as f32).min(1.0),
            gap: self.gap,
            bad: self.bad,
        };
        self.clipping_left =
            if moment.clipped > 0.0 { CLIPPING_SHOWN_MOMENTS } else { self.clipping_left.saturating_sub(1) };
        let peak_db = moment.peak_db.max(self.hearing.peak_db - FALL_DB);
        let state = match peak_db {
            _ if self.clipping_left > 0 => HearingState::Clipping,
            peak if peak < SILENT_BELOW_DB => HearingState::Silent,
            peak if peak < FAINT_BELOW_DB => HearingState::Faint,
            _ => HearingState::Good,
        };
        self.hearing = Hearing { level_db: moment.level_db, peak_db, state };
        (self.count, self.power, self.peak, self.cut_off) = (0, 0.0, 0.0, 0);
        (self.bad, self.gap) = (false, false);
        moment
    }
}
