//! Microphone blocks to onsets and levels, the same live and from a file.

use crate::decimate::Decimator;
use crate::level::{Hearing, Meter, Moment};
use crate::onset::{Onset, Picker};
use crate::predict::Predictor;

/// Lowest and highest sample rate taken, in hertz.
pub const RATES: std::ops::RangeInclusive<u32> = 8_000..=192_000;

/// Listens to one microphone on the clock of the take. Blocks may have any length: the outcome is the same.
#[derive(Debug)]
pub struct Listener {
    rate: f64,
    next_frame: Option<u64>,
    decimator: Decimator,
    blocker: DcBlocker,
    predictor: Predictor,
    picker: Picker,
    ticks: Ticks,
    meter: Meter,
    onsets: Vec<Onset>,
    moments: Vec<Moment>,
    sound: Vec<f32>,
}

/// What one block added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Caught<'a> {
    /// Sudden rises, by time.
    pub onsets: &'a [Onset],
    /// Levels, by time.
    pub moments: &'a [Moment],
    /// The block at the working rate.
    pub sound: Stretch<'a>,
}

/// Samples at the listener's working rate, below 40 Hz taken out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stretch<'a> {
    /// When the first was, in seconds on the take's clock.
    pub at_s: f64,
    /// Samples a second.
    pub rate: f64,
    /// The samples.
    pub samples: &'a [f32],
}

impl Listener {
    /// A listener at `rate` frames a second; `None` outside [`RATES`].
    #[must_use]
    pub fn new(rate: u32) -> Option<Self> {
        if !RATES.contains(&rate) {
            return None;
        }
        let decimator = Decimator::new(rate);
        #[expect(clippy::cast_precision_loss, reason = "a factor up to 24")]
        let working = f64::from(rate) / decimator.factor() as f64;
        Some(Self {
            rate: f64::from(rate),
            next_frame: None,
            blocker: DcBlocker::new(working),
            predictor: Predictor::new(working),
            ticks: Ticks::new(working, decimator.factor()),
            decimator,
            picker: Picker::new(),
            meter: Meter::new(rate),
            onsets: Vec::with_capacity(64),
            moments: Vec::with_capacity(64),
            sound: Vec::with_capacity(1024),
        })
    }

    /// Takes samples of which the first lies at `first_frame` of the take's clock. A jump in the frame number is a
    /// gap: it is marked in the next moment and listening starts afresh.
    ///
    /// Allocates nothing once the longest block has been seen.
    pub fn feed(&mut self, first_frame: u64, samples: &[f32]) -> Caught<'_> {
        self.onsets.clear();
        self.moments.clear();
        self.sound.clear();
        if self.next_frame != Some(first_frame) {
            self.start_at(first_frame);
        }
        let at_s = self.ticks.working_time_s(self.rate);
        for (frame, sample) in (first_frame..).zip(samples) {
            if let Some(moment) = self.meter.push(*sample) {
                self.moments.push(Moment { end_s: seconds(frame + 1, self.rate), ..moment });
            }
            let sound = if sample.is_finite() { sample.clamp(-8.0, 8.0) } else { 0.0 };
            if let Some(sample) = self.decimator.push(sound) {
                self.follow(sample);
            }
        }
        self.next_frame = Some(first_frame + samples.len() as u64);
        #[expect(clippy::cast_precision_loss, reason = "a factor up to 24")]
        let rate = self.rate / self.decimator.factor() as f64;
        let sound = Stretch { at_s, rate, samples: &self.sound };
        Caught { onsets: &self.onsets, moments: &self.moments, sound }
    }

    /// What a level meter shows now.
    #[must_use]
    pub fn hearing(&self) -> Hearing {
        self.meter.hearing()
    }

    /// Onsets earlier than this, in seconds on the take's clock, have all been reported.
    #[must_use]
    pub fn settled_until_s(&self) -> f64 {
        self.ticks.time_s(Picker::LAG, self.rate)
    }

    fn start_at(&mut self, frame: u64) {
        if self.next_frame.is_some() {
            self.meter.mark_gap();
        }
        self.decimator.reset();
        self.predictor.reset();
        self.picker.reset();
        #[expect(clippy::cast_precision_loss, reason = "f64 holds frames exactly for 1,000 years")]
        self.ticks.restart(frame as f64 + self.decimator.offset());
    }

    /// One sample at the working rate.
    fn follow(&mut self, sample: f32) {
        let sample = self.blocker.push(sample);
        self.sound.push(sample);
        self.ticks.samples += 1;
        let Some(errors) = self.predictor.push(sample) else { return };
        for error in errors {
            let Some(energy) = self.ticks.push(*error) else { continue };
            if let Some((rise_db, gain_db, strength_db)) = self.picker.push(energy) {
                let at_s = self.ticks.time_s(Picker::LAG, self.rate);
                self.onsets.push(Onset { at_s, rise_db, gain_db, strength_db });
            }
        }
    }
}

/// Cuts prediction errors into ticks of about a millisecond, and knows when each was.
#[derive(Debug)]
struct Ticks {
    /// Samples at the working rate in a tick.
    length: usize,
    /// Frames in a tick.
    frames: u64,
    /// Frame of the first tick since the start or the last gap, the filter's delay taken off.
    origin: f64,
    fill: usize,
    power: f32,
    count: u64,
    /// Samples at the working rate since the start or the last gap, and frames a sample.
    samples: u64,
    factor: u64,
}

impl Ticks {
    fn new(working_rate: f64, factor: usize) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "8 to 16 samples")]
        let length = (working_rate / 1000.0).round() as usize;
        Self {
            length,
            frames: (length * factor) as u64,
            origin: 0.0,
            fill: 0,
            power: 0.0,
            count: 0,
            samples: 0,
            factor: factor as u64,
        }
    }

    fn restart(&mut self, origin: f64) {
        (self.origin, self.fill, self.power, self.count, self.samples) = (origin, 0, 0.0, 0, 0);
    }

    /// Takes one error; gives the mean square of a tick when one is full.
    fn push(&mut self, error: f32) -> Option<f32> {
        self.power += error * error;
        self.fill += 1;
        if self.fill < self.length {
            return None;
        }
        #[expect(clippy::cast_precision_loss, reason = "8 to 16")]
        let energy = self.power / self.length as f32;
        (self.fill, self.power) = (0, 0.0);
        self.count += 1;
        Some(energy)
    }

    /// When the next sample at the working rate will have been, in seconds.
    #[expect(clippy::cast_precision_loss, reason = "f64 holds frames exactly for 1,000 years")]
    fn working_time_s(&self, rate: f64) -> f64 {
        (self.origin + (self.samples * self.factor) as f64) / rate
    }

    /// When the tick began that lies `ago` before the last full one, in seconds.
    #[expect(clippy::cast_precision_loss, reason = "f64 holds frames exactly for 1,000 years")]
    fn time_s(&self, ago: usize, rate: f64) -> f64 {
        (self.origin + (self.count.saturating_sub(ago as u64 + 1) * self.frames) as f64) / rate
    }
}

#[expect(clippy::cast_precision_loss, reason = "f64 holds frames exactly for 1,000 years")]
fn seconds(frame: u64, rate: f64) -> f64 {
    frame as f64 / rate
}

/// First-order high-pass at 40 Hz: takes out an input's constant offset and rumble below the lowest string.
#[derive(Debug)]
struct DcBlocker {
    pole: f32,
    input: f32,
    output: f32,
}

impl DcBlocker {
    #[expect(clippy::cast_possible_truncation, reason = "a filter coefficient")]
    fn new(working_rate: f64) -> Self {
        Self { pole: (-std::f64::consts::TAU * 40.0 / working_rate).exp() as f32, input: 0.0, output: 0.0 }
    }

    fn push(&mut self, sample: f32) -> f32 {
        self.output = sample - self.input + self.pole * self.output;
        self.input = sample;
        self.output
    }
}
