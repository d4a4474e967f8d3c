//! Where a stream's frames lie in time, and where some went missing.

use std::collections::VecDeque;

use crate::clock::fit::Fit;
use crate::clock::stamp::{Anchor, Stamp};

/// A stamp this far off those just before it is not believed at once. Measured through a sound server: neighbours lie
/// within 0.1 ms of each other, but correct themselves by 1 ms now and then, and by 2 to 3 ms while the machine is busy.
/// A shift under this is an eighth of the narrowest timing window at the most, and no block is so short that losing one
/// would hide in it on a desktop (682 frames are 14 ms).
const SUSPECT_S: f64 = 5e-3;
/// How much of a stamp goes into what the next is compared with: the mean of the last four or so.
const NEAR: f64 = 0.25;
/// Stamps in a row, all off to the same side, that make a gap of what might have been a late reading.
const CONVINCED: usize = 4;
/// While a stream settles, a shift starts the line anew and is no gap: nothing was being listened to yet.
const SETTLING_S: f64 = 0.5;
/// Stamps before a line is good for anything.
const READY: u32 = 8;
/// Lines kept: those before the last few gaps.
const SEGMENTS: usize = 8;

/// Frames went missing, or came late.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gap {
    /// The first frame after it.
    pub at: u64,
    /// How much is missing in milliseconds; `None` where nobody can tell.
    pub missing_ms: Option<f64>,
}

/// What a stamp brought to light.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Turn {
    /// All is well.
    Steady,
    /// Another stream: what came before cannot be joined on.
    Restarted,
    /// The same stream, with something missing.
    Gap(Gap),
}

/// The times of one direction's frames: a line for each stretch without a gap.
#[derive(Clone, Debug)]
pub(crate) struct Track {
    anchor: Anchor,
    stream: u32,
    began: u64,
    segments: VecDeque<Segment>,
    suspects: Vec<(u64, i64)>,
}

#[derive(Clone, Copy, Debug)]
struct Segment {
    first: u64,
    fit: Fit,
    /// How far the last few stamps lay off the line: they wander, all together, where a gap is a step.
    near: f64,
}

impl Track {
    pub(crate) fn new() -> Self {
        let suspects = Vec::with_capacity(CONVINCED);
        Self { anchor: Anchor::new(), stream: 0, began: 0, segments: VecDeque::new(), suspects }
    }

    /// Takes the next block's stamp in.
    pub(crate) fn push(&mut self, stamp: &Stamp) -> Turn {
        let restarted = stamp.stream != self.stream;
        if restarted {
            self.anchor = Anchor::new();
            self.stream = stamp.stream;
            self.began = stamp.first;
        }
        let ns = self.anchor.place(stamp);
        if restarted {
            self.begin(stamp.first, ns, stamp.rate);
            return Turn::Restarted;
        }
        if stamp.lost > 0 {
            self.begin(stamp.first, ns, stamp.rate);
            return Turn::Gap(Gap { at: stamp.first, missing_ms: Some(frames_ms(stamp.lost, stamp.rate)) });
        }
        self.join(stamp, ns)
    }

    /// When a frame sounds, or was captured, in nanoseconds on our clock. `None` until the line there is good.
    pub(crate) fn ns_of(&self, frame: f64) -> Option<f64> {
        #[expect(clippy::cast_precision_loss, reason = "frames of days fit an f64 exactly")]
        let segment = self.segments.iter().rev().find(|it| it.first as f64 <= frame).or(self.segments.front())?;
        (segment.fit.stamps() >= READY).then(|| segment.fit.ns_of(frame))
    }

    /// Which frame sounds, or was captured, at a time on our clock. `None` until the line there is good.
    pub(crate) fn frame_at(&self, ns: f64) -> Option<f64> {
        #[expect(clippy::cast_precision_loss, reason = "frames of days fit an f64 exactly")]
        let began = |it: &&Segment| it.fit.ns_of(it.first as f64) <= ns;
        let segment = self.segments.iter().rev().find(began).or(self.segments.front())?;
        (segment.fit.stamps() >= READY).then(|| segment.fit.frame_at(ns))
    }

    fn join(&mut self, stamp: &Stamp, ns: i64) -> Turn {
        let Some(segment) = self.segments.back_mut() else {
            self.begin(stamp.first, ns, stamp.rate);
            return Turn::Steady;
        };
        let later = segment.fit.later_by(stamp.first, ns);
        let off = later - segment.near;
        if off.abs() <= SUSPECT_S {
            self.suspects.clear();
            segment.near += NEAR * off;
            segment.fit.add(stamp.first, ns);
            return Turn::Steady;
        }
        let near = segment.near;
        let same_side = |&(frame, ns): &(u64, i64)| (segment.fit.later_by(frame, ns) - near).signum() == off.signum();
        if !self.suspects.iter().all(same_side) {
            self.suspects.clear();
        }
        self.suspects.push((stamp.first, ns));
        if self.suspects.len() < CONVINCED {
            return Turn::Steady;
        }
        self.part(off, stamp.rate)
    }

    /// The suspects were right: a new line goes through them. Where frames come later than they should, some are missing
    /// before them. Where they come earlier, none can be: the server's stamps had wandered and are set right (seen through
    /// PulseAudio on a captured null sink, about one block every three seconds).
    fn part(&mut self, off: f64, rate: u32) -> Turn {
        let suspects = std::mem::replace(&mut self.suspects, Vec::with_capacity(CONVINCED));
        let (at, ns) = suspects[0];
        self.begin(at, ns, rate);
        if let Some(segment) = self.segments.back_mut() {
            suspects[1..].iter().for_each(|&(frame, ns)| segment.fit.add(frame, ns));
        }
        let settling = frames_ms(at - self.began, rate) < SETTLING_S * 1000.0;
        if settling || off < 0.0 { Turn::Steady } else { Turn::Gap(Gap { at, missing_ms: Some(off * 1000.0) }) }
    }

    fn begin(&mut self, first: u64, ns: i64, rate: u32) {
        self.suspects.clear();
        if self.segments.len() == SEGMENTS {
            self.segments.pop_front();
        }
        self.segments.push_back(Segment { first, fit: Fit::through(first, ns, rate), near: 0.0 });
    }
}

#[expect(clippy::cast_precision_loss, reason = "frames of days fit an f64 exactly")]
fn frames_ms(frames: u64, rate: u32) -> f64 {
    frames as f64 * 1000.0 / f64::from(rate.max(1))
}
