//! The performer without a device: the same sound, offline.

use std::fmt;

use sixrung_timeline::{FineFrames, Frames, Timeline};

use crate::handover::{Command, Controls, Report, pair};
use crate::kit::Kit;
use crate::mixer::GATE_RAMP_S;
use crate::performer::Performer;
use crate::prepared::Prepared;
use crate::smooth::frames;
use crate::units::{Decibels, Part};

/// How to render.
#[derive(Clone, Debug, PartialEq)]
pub struct RenderOptions {
    /// What it is played on.
    pub kit: Kit,
    /// Gain of the click; [`Decibels::SILENCE`] leaves it out.
    pub click: Decibels,
    /// Gain of the guitar; [`Decibels::SILENCE`] leaves it out.
    pub guitar: Decibels,
    /// Gain of the bass; [`Decibels::SILENCE`] leaves it out.
    pub bass: Decibels,
    /// Gain of the brushes; [`Decibels::SILENCE`] leaves them out.
    pub brushes: Decibels,
    /// Gain of everything.
    pub master: Decibels,
    /// Whether the music is brought to [`crate::MUSIC_LUFS`].
    pub levelled: bool,
    /// Seconds the last sounds may ring on; their last 60 ms are faded. At least those 60 ms are rendered.
    pub tail_s: f64,
}

impl Default for RenderOptions {
    fn default() -> Self {
        Self {
            kit: Kit::default(),
            click: Decibels::UNITY,
            guitar: Decibels::UNITY,
            bass: Decibels::UNITY,
            brushes: Decibels::UNITY,
            master: Decibels::UNITY,
            levelled: false,
            tail_s: 3.0,
        }
    }
}

/// Why a timeline can't be rendered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RenderError {
    /// It plays for ever.
    Endless,
}

impl fmt::Display for RenderError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Endless => write!(f, "this timeline plays for ever\nhint: give it a number of passes"),
        }
    }
}

impl std::error::Error for RenderError {}

/// A timeline being rendered. The first frame is tick 0 of the timeline.
pub struct Render {
    performer: Performer,
    controls: Controls,
    made: u64,
    closes_at: u64,
    length: u64,
}

impl Render {
    /// Makes ready to render `timeline`.
    ///
    /// # Errors
    /// When the timeline has no end.
    pub fn new(timeline: Timeline, options: &RenderOptions) -> Result<Self, RenderError> {
        let passes = timeline.passes.ok_or(RenderError::Endless)?;
        let (grid, rate) = (timeline.grid, timeline.grid.rate());
        let ticks = u64::from(timeline.intro.0) + u64::from(timeline.cycle.0) * u64::from(passes);
        let ramp = u64::from(frames(rate, GATE_RAMP_S));
        let closes_at = grid.frame(FineFrames::default(), ticks).0
            + u64::from(frames(rate, options.tail_s.clamp(0.0, 3600.0))).saturating_sub(ramp);
        let (mut controls, end) = pair(16);
        let mut performer = Performer::new(rate, end);
        let make = if options.levelled { Prepared::levelled } else { Prepared::on };
        let prepared = Box::new(make(timeline, &options.kit));
        for command in [
            Command::Gain(Part::Click, options.click),
            Command::Gain(Part::Guitar, options.guitar),
            Command::Gain(Part::Bass, options.bass),
            Command::Gain(Part::Brushes, options.brushes),
            Command::Master(options.master),
            Command::Play(prepared),
        ] {
            let sent = controls.send(command);
            debug_assert!(sent.is_ok(), "an empty queue of 16 holds six commands");
        }
        performer.process(&mut []);
        let start = std::iter::from_fn(|| controls.poll()).find_map(|report| match report {
            Report::Started { frame, .. } => Some(frame),
            _ => None,
        });
        let Frames(before) = start.unwrap_or_default();
        performer.process(&mut vec![0.0; 2 * usize::try_from(before).unwrap_or(0)]);
        Ok(Self { performer, controls, made: 0, closes_at, length: closes_at + ramp })
    }

    /// Frames from tick 0 to the end of the tail.
    #[must_use]
    pub fn frames(&self) -> Frames {
        Frames(self.length)
    }

    /// Fills `out`, interleaved left and right, and says how many frames were made: fewer than asked for only at the
    /// end.
    pub fn next_block(&mut self, out: &mut [f32]) -> usize {
        let wanted = (out.len() / 2).min(usize::try_from(self.length - self.made).unwrap_or(usize::MAX));
        let mut done = 0;
        while done < wanted {
            if self.made == self.closes_at {
                let sent = self.controls.send(Command::Stop);
                debug_assert!(sent.is_ok(), "the queue was read at every block");
            }
            let open = self.closes_at.checked_sub(self.made).filter(|open| *open > 0).unwrap_or(u64::MAX);
            let frames = (wanted - done).min(usize::try_from(open).unwrap_or(usize::MAX));
            self.performer.process(&mut out[2 * done..2 * (done + frames)]);
            while self.controls.poll().is_some() {}
            done += frames;
            self.made += frames as u64;
        }
        wanted
    }

    /// All that is left, as interleaved left and right samples.
    #[must_use]
    pub fn samples(mut self) -> Vec<f32> {
        let mut sound = vec![0.0; 2 * usize::try_from(self.length - self.made).unwrap_or(0)];
        let made = self.next_block(&mut sound);
        sound.truncate(2 * made);
        sound
    }
}
