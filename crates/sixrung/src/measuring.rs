//! Measuring by ear: what is played, what the microphone heard meanwhile, and what that comes to.
//!
//! It has no device of its own: the window and the command line hand it what they read from theirs.

use sixrung_devices::{Chunk, PlayedChunk, Source};
use sixrung_listen::{Loopback, Measurement, NotMeasured, Probe, Reason, Recording, SoundCheck};

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Measure {
    /// The round trip, by our own sweeps in the microphone.
    Loopback,
    /// The round trip less the player's anticipation, by taps to our clicks.
    TapAlong,
    /// What is done to a guitar on its way: the player is quiet, strums, lets it ring.
    Strums,
}

/// What came of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Measured {
    /// Of [`Measure::Loopback`].
    Loopback(Result<Loopback, NotMeasured>),
    /// Of [`Measure::TapAlong`].
    TapAlong(Result<Measurement, NotMeasured>),
    /// Of [`Measure::Strums`]: what stands in the way.
    Strums(Vec<Reason>),
}

impl Measure {
    /// How long it takes, in seconds.
    #[must_use]
    pub fn length_s(self) -> f64 {
        self.probe().map_or(SoundCheck::lengths_s().1, |probe| probe.length_s())
    }

    fn probe(self) -> Option<Probe> {
        match self {
            Self::Loopback => Some(Probe::loopback()),
            Self::TapAlong => Some(Probe::tap_along()),
            Self::Strums => None,
        }
    }

    /// What is played for it at `rate` frames a second, as loud as `gain` says.
    #[must_use]
    pub fn source(self, rate: u32, gain: f32) -> Box<dyn Source> {
        let mut sound = self.probe().map(|probe| probe.sound(rate)).unwrap_or_default();
        sound.iter_mut().for_each(|sample| *sample *= gain);
        Box::new(Playing { sound: sound.into(), at: 0 })
    }
}

/// Plays samples once, then silence.
struct Playing {
    sound: Box<[f32]>,
    at: usize,
}

impl Source for Playing {
    /// # Real-time
    /// Copies samples.
    fn process(&mut self, interleaved_stereo: &mut [f32]) {
        for pair in interleaved_stereo.chunks_exact_mut(2) {
            pair.fill(self.sound.get(self.at).copied().unwrap_or(0.0));
            self.at = self.at.saturating_add(1);
        }
    }
}

/// A new source's clock is taken up within this, in seconds: less than the silence it begins with.
const BEGINS_WITHIN_S: f64 = 0.5;

/// Gathers what is heard. Make it before what it measures by is played.
#[derive(Debug)]
pub struct Measuring {
    measure: Measure,
    /// The output's rate, once the source's first frame went out.
    output_rate: Option<u32>,
    /// Whether the microphone is placed on that source's clock yet.
    begun: bool,
    heard: Heard,
}

#[derive(Debug)]
enum Heard {
    Nothing,
    Probe(Probe, Recording),
    Strums(Box<SoundCheck>, bool),
}

impl Measuring {
    /// One that waits for its source to begin.
    #[must_use]
    pub const fn new(measure: Measure) -> Self {
        Self { measure, output_rate: None, begun: false, heard: Heard::Nothing }
    }

    /// What is measured.
    #[must_use]
    pub const fn measure(&self) -> Measure {
        self.measure
    }

    /// What went out: it begins with the first frame of a new source.
    pub fn played(&mut self, played: &PlayedChunk) {
        if played.output_frame == 0 {
            self.output_rate = Some(played.rate);
        }
    }

    /// What the microphone heard.
    pub fn take_in(&mut self, chunk: &Chunk, samples: &[f32]) {
        let Some(output_rate) = self.output_rate else { return };
        // At first it is still placed on the clock of what played before, where all would long be over.
        let latest = BEGINS_WITHIN_S * f64::from(output_rate);
        self.begun |= chunk.output_frame.is_some_and(|frame| frame < latest);
        if !self.begun {
            return;
        }
        if matches!(self.heard, Heard::Nothing) {
            self.heard = match self.measure.probe() {
                Some(probe) => Recording::new(chunk.rate).map_or(Heard::Nothing, |heard| Heard::Probe(probe, heard)),
                None => {
                    SoundCheck::new(chunk.rate).map_or(Heard::Nothing, |check| Heard::Strums(Box::new(check), false))
                }
            };
        }
        match &mut self.heard {
            Heard::Nothing => {}
            Heard::Probe(_, recording) => {
                if chunk.gap.is_some() {
                    recording.gap();
                }
                recording.take_in(chunk.output_frame.map(|frame| frame / f64::from(output_rate)), samples);
            }
            Heard::Strums(check, gap) => {
                *gap |= chunk.gap.is_some();
                check.take_in(samples);
            }
        }
    }

    /// What came of it, once all was heard.
    #[must_use]
    pub fn done(&self) -> Option<Measured> {
        match &self.heard {
            Heard::Probe(probe, recording) if recording.is_complete(probe) => Some(match self.measure {
                Measure::TapAlong => Measured::TapAlong(recording.tapped(probe)),
                _ => Measured::Loopback(recording.loopback(probe)),
            }),
            Heard::Strums(check, gap) if check.is_complete() => {
                Some(Measured::Strums(if *gap { vec![Reason::Gap] } else { check.findings() }))
            }
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use sixrung_devices::{Chunk, PlayedChunk};

    use super::{Measure, Measuring};

    /// Blocks of a minute ago's clock, then of the new source's: nothing is over before that one has played.
    #[test]
    fn blocks_still_on_the_clock_of_what_played_before_end_nothing() {
        let mut measuring = Measuring::new(Measure::Loopback);
        measuring.played(&PlayedChunk { frames: 480, output_frame: 0, rate: 48_000 });
        let mut take = |output_frame: f64| {
            let chunk = Chunk { frames: 480, position: 0, rate: 48_000, output_frame: Some(output_frame), gap: None };
            measuring.take_in(&chunk, &[0.0; 480]);
            measuring.done().is_some()
        };
        assert!(!take(2_880_000.0));
        let frames = 48_000.0 * Measure::Loopback.length_s();
        let mut at = 0.0;
        while at < frames - 4_800.0 {
            assert!(!take(at), "done at frame {at}");
            at += 480.0;
        }
        assert!((0..40).any(|block| take(at + 480.0 * f64::from(block))), "never done");
    }
}
