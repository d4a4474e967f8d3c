//! Where in a timeline the performer is, and what comes next, frame by frame.

use sixrung_timeline::{FineFrames, Tick};

use crate::prepared::{Act, Prepared};

/// A running timeline.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Playhead {
    /// Its place on the shelf.
    pub place: u8,
    /// Where its tick 0 lies.
    pub start: FineFrames,
    /// Which cycle runs; `None` during the intro.
    cycle: Option<u64>,
    cursor: usize,
    due: u64,
}

/// What is due.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Due {
    /// Something sounds, or stops sounding.
    Act(Act),
    /// The intro is over: cycle 0 begins.
    IntroEnds,
    /// This cycle is over.
    CycleEnds(u64),
}

impl Playhead {
    /// At tick 0, which lies at `start`.
    ///
    /// # Real-time
    /// Integer arithmetic.
    pub(crate) fn new(place: u8, start: FineFrames, prepared: &Prepared) -> Self {
        let mut playhead = Self { place, start, cycle: None, cursor: 0, due: 0 };
        playhead.look_ahead(prepared);
        playhead
    }

    /// The frame at which the next thing is due.
    ///
    /// # Real-time
    /// Reads a number.
    pub(crate) fn due(&self) -> u64 {
        self.due
    }

    /// Where cycle `cycle` begins.
    ///
    /// # Real-time
    /// Integer arithmetic.
    pub(crate) fn cycle_start(&self, prepared: &Prepared, cycle: u64) -> FineFrames {
        let timeline = prepared.timeline();
        let tick = u64::from(timeline.intro.0) + cycle * u64::from(cycle_ticks(timeline.cycle));
        timeline.grid.fine(self.start, tick)
    }

    /// Takes what is due and moves on.
    ///
    /// # Real-time
    /// Integer arithmetic.
    pub(crate) fn take(&mut self, prepared: &Prepared) -> Due {
        let due = if let Some(step) = self.steps(prepared).get(self.cursor) {
            self.cursor += 1;
            Due::Act(step.act)
        } else {
            self.cursor = 0;
            let ended = self.cycle;
            self.cycle = Some(ended.map_or(0, |cycle| cycle + 1));
            ended.map_or(Due::IntroEnds, Due::CycleEnds)
        };
        self.look_ahead(prepared);
        due
    }

    /// # Real-time
    /// Reads a pointer.
    fn steps<'a>(&self, prepared: &'a Prepared) -> &'a [crate::prepared::Step] {
        if self.cycle.is_some() { prepared.cycle() } else { prepared.intro() }
    }

    /// Places the next thing by the closed form: one rounding a tick, none carried on, however many cycles have gone.
    ///
    /// # Real-time
    /// Integer arithmetic.
    fn look_ahead(&mut self, prepared: &Prepared) {
        let timeline = prepared.timeline();
        let end = self.cycle_start(prepared, self.cycle.map_or(0, |cycle| cycle + 1)).round().0;
        self.due = match self.steps(prepared).get(self.cursor) {
            Some(step) => {
                let segment = self
                    .cycle
                    .map_or(0, |cycle| u64::from(timeline.intro.0) + cycle * u64::from(cycle_ticks(timeline.cycle)));
                let on_tick = timeline.grid.frame(self.start, segment + u64::from(step.at.0)).0;
                on_tick.saturating_add_signed(step.delay).min(end)
            }
            None => end,
        };
    }
}

/// A cycle of no length would never let the clock go on.
///
/// # Real-time
/// Arithmetic only.
fn cycle_ticks(cycle: Tick) -> u32 {
    cycle.0.max(1)
}
