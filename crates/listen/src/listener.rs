//! Microphone blocks to onsets and levels, the same live and from a file.

use crate::decimate::Decimator;
use crate::level::{Hearing, Meter, Moment};
use crate::onset::{Onset, Picker};
use crate::own::{OwnPath, Remover};
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
    own: Option<Remover>,
    played: Vec<f32>,
    removed: Vec<f32>,
}

/// What one block added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Caught<'a> {
    /// Sudden rises, by time.
    pub onsets: &'a [Onset],
    /// Levels, by time.
    pub moments: &'a [Moment],
    /// The block at the working rate, our own sound taken off as far as its path is known.
    pub sound: Stretch<'a>,
    /// What the program played, sample by sample beside `sound`, the way to the microphone not included; empty when
    /// that is not known of all of the block.
    pub played: &'a [f32],
    /// What was taken off `sound`, sample by sample; empty when it was never told what is played.
    pub removed: &'a [f32],
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
            own: None,
            played: Vec::with_capacity(1024),
            removed: Vec::with_capacity(1024),
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
        self.played.clear();
        self.removed.clear();
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
        let played = if self.played.len() == self.sound.len() { &self.played[..] } else { &[] };
        Caught { onsets: &self.onsets, moments: &self.moments, sound, played, removed: &self.removed }
    }

    /// Tells what the program plays at `rate` frames a second: samples of which the first leaves it at `at_s` on the
    /// listener's clock, the way to the microphone not included. Tell it before the microphone's samples of that time
    /// are fed, by 10 ms and at most some seconds. Stretches that follow each other may come in any pieces.
    ///
    /// Allocates only at the first, or when the rate changes.
    pub fn played(&mut self, at_s: f64, rate: u32, samples: &[f32]) {
        if !RATES.contains(&rate) {
            self.own = None;
            return;
        }
        if self.own.as_mut().is_none_or(|own| own.played().rate() != rate) {
            #[expect(clippy::cast_precision_loss, reason = "a factor up to 24")]
            let working = self.rate / self.decimator.factor() as f64;
            let mut own = Remover::new(working, rate);
            own.set_path(self.own.as_ref().and_then(Remover::path).cloned());
            self.own = Some(own);
        }
        if let Some(own) = &mut self.own {
            own.played().push(at_s, samples);
        }
    }

    /// From now on takes off what arrives along this path of what it is told is played; `None`: nothing.
    pub fn remove_own(&mut self, path: Option<OwnPath>) {
        if let Some(own) = &mut self.own {
            own.set_path(path);
        }
    }

    /// The path along which our own sound is taken off.
    #[must_use]
    pub fn own_path(&self) -> Option<&OwnPath> {
        self.own.as_ref()?.path()
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
        if let Some(own) = &mut self.own {
            own.restart(self.ticks.working_time_s(self.rate));
        }
    }

    /// One sample at the working rate.
    fn follow(&mut self, sample: f32) {
        let mut sample = self.blocker.push(sample);
        if let Some(own) = &mut self.own {
            let next = own.next(self.ticks.working_time_s(self.rate));
            let heard = next.map_or(0.0, |(played, heard)| {
                self.played.push(played);
                heard
            });
            sample -= heard;
            self.removed.push(heard);
        }
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
