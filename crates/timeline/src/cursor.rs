//! Where in a timeline a moment lies: what the stand's cursor shows.

use sixrung_lesson::Tick;

use crate::event::{ClickKind, Event, EventKind};
use crate::frames::{FineFrames, Frames};
use crate::timeline::Timeline;

/// A moment's place in a timeline.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cursor {
    /// In a count-in.
    CountIn {
        /// The pass it leads to, from 0.
        pass: u32,
        /// The beat now counted, from 1; eighths in compound meters.
        beat: u32,
        /// How many are counted.
        of: u32,
    },
    /// In a pass.
    Pass {
        /// Which, from 0.
        pass: u32,
        /// Ticks since its start, with a fraction for drawing.
        tick: f64,
    },
    /// In the rest after a pass.
    Rest {
        /// The pass just played, from 0.
        pass: u32,
        /// How long it still lasts: then the next count-in begins.
        left: Frames,
    },
    /// After the last pass.
    Finished,
}

impl Cursor {
    /// Where the timeline is, `played` frames after its start. A pass begins at the very frame playback begins it.
    #[must_use]
    pub fn at(timeline: &Timeline, played: Frames) -> Self {
        let grid = timeline.grid;
        if played < timeline.frame(u64::from(timeline.intro.0)) {
            return count_in(&timeline.intro_events, timeline.intro, grid.tick_at(played.0), 0);
        }
        let cycle = cycle_at(timeline, played);
        let pass = u32::try_from(cycle).unwrap_or(u32::MAX);
        if timeline.passes.is_some_and(|passes| pass >= passes) {
            return Self::Finished;
        }
        let start = timeline.cycle_start(cycle);
        let tick = grid.tick_at(played.0 - timeline.frame(start).0);
        let pass_at = timeline.frame(start + u64::from(timeline.pass_at.0));
        if played < pass_at {
            return count_in(&timeline.cycle_events, timeline.pass_at, tick, pass);
        }
        if played < timeline.frame(start + u64::from((timeline.pass_at + timeline.pass).0)) {
            return Self::Pass { pass, tick: grid.tick_at(played.0 - pass_at.0) };
        }
        let end = timeline.frame(timeline.cycle_start(cycle + 1));
        Self::Rest { pass, left: Frames(end.0.saturating_sub(played.0)) }
    }
}

impl Timeline {
    /// Ticks from the timeline's start to that of its `cycle`th cycle, from 0.
    ///
    /// # Real-time
    /// Integer arithmetic only.
    #[must_use]
    pub const fn cycle_start(&self, cycle: u64) -> u64 {
        self.intro.0 as u64 + self.cycle.0 as u64 * cycle
    }

    /// Frames from the timeline's start to `tick`, were it to start on a whole frame.
    fn frame(&self, tick: u64) -> Frames {
        self.grid.frame(FineFrames::default(), tick)
    }
}

/// Which cycle a frame after the intro lies in: a guess in floating point set right by exact frames.
fn cycle_at(timeline: &Timeline, played: Frames) -> u64 {
    let ticks = timeline.grid.tick_at(played.0) - f64::from(timeline.intro.0);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a float cast saturates")]
    let mut cycle = (ticks / f64::from(timeline.cycle.0)) as u64;
    while cycle > 0 && timeline.frame(timeline.cycle_start(cycle)) > played {
        cycle -= 1;
    }
    while timeline.frame(timeline.cycle_start(cycle + 1)) <= played {
        cycle += 1;
    }
    cycle
}

/// A count-in `length` ticks long, `tick` ticks after its start. Its clicks say what is counted: the beats, or where
/// clicks divide them by three, the eighths of a compound meter.
fn count_in(events: &[Event], length: Tick, tick: f64, pass: u32) -> Cursor {
    let clicks = |wanted: fn(ClickKind) -> bool| {
        let counted = events.iter().filter(|event| event.at < length);
        counted.filter(|event| matches!(event.kind, EventKind::Click(kind) if wanted(kind))).count()
    };
    let (all, beats) = (clicks(|_| true), clicks(|kind| kind != ClickKind::Between));
    let compound = beats > 0 && (all / beats).is_multiple_of(3);
    let of = u32::try_from(if compound { beats * 3 } else { beats }).unwrap_or(u32::MAX).max(1);
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a float cast saturates")]
    let before = (tick * f64::from(of) / f64::from(length.0)) as u32;
    Cursor::CountIn { pass, beat: before.min(of - 1) + 1, of }
}
