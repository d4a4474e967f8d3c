//! What is sounding: a compiled stretch, where it began, and which of its passes is running.

use std::sync::Arc;

use sixrung_audio::Report;
use sixrung_lesson::Tempo;
use sixrung_listen::{PassPlan, PlannedShape};
use sixrung_practice::Step;
use sixrung_timeline::{
    Between, Clicks, Cursor, EventKind, FineFrames, Frames, Plan, Request, Tick, compile, default_count_in_bars,
};

use super::stage::Stage;

/// Why it sounds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Purpose {
    /// The player plays, passes are judged, one after the other.
    Practise,
    /// The part is played once, the player listens.
    Listen,
    /// The same, and then the player's passes begin.
    ListenThenPractise,
}

impl Purpose {
    /// Whether the player only listens.
    pub(crate) const fn listens(self) -> bool {
        matches!(self, Self::Listen | Self::ListenThenPractise)
    }
}

/// A compiled stretch that is playing or about to.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub(crate) id: u64,
    pub(crate) purpose: Purpose,
    pub(crate) tempo: Tempo,
    pub(crate) plan: Arc<Plan>,
    shapes: Arc<[PlannedShape]>,
    /// Whether the player may sing or strum between the strokes asked for.
    only_asked: bool,
    /// Output frame of its tick 0, once it sounds.
    pub(crate) started: Option<u64>,
    /// The running cycle and where it began, unrounded.
    pub(crate) cycle: Option<(u64, FineFrames)>,
}

impl Run {
    /// Compiles a stage at a tempo. `None` only for a stretch with nothing in it.
    pub(crate) fn new(
        stage: &Stage,
        tempo: Tempo,
        rate: u32,
        (id, purpose): (u64, Purpose),
        clicks: Clicks,
    ) -> Option<Self> {
        let meter = stage.score.bars.first()?.meter;
        let beat = stage.lesson.beat.ticks();
        let count_in_bars =
            stage.lesson.count_in_bars.unwrap_or_else(|| default_count_in_bars(meter, tempo, beat)).min(4);
        let bar_seconds = f64::from(meter.bar().0) / f64::from(beat.0) * 60.0 / tempo.bpm();
        // Rest and count-in together are at most what the policy gives, in whole bars, one at least.
        let rest_s = f64::from(stage.policy().rest_between_passes_s);
        let counted_s = f64::from(count_in_bars) * bar_seconds;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to a few bars")]
        let bars = ((rest_s - counted_s) / bar_seconds).floor().clamp(1.0, 4.0) as u8;
        // Who only listened needs no rest.
        let between = if purpose.listens() { Between::Seamless } else { Between::Rest { bars } };
        let passes = purpose.listens().then_some(1);
        let request = Request { id, rate, tempo, count_in_bars, between, passes, clicks, backing: true };
        let mut plan = compile(&stage.lesson, &stage.score, &request).ok()?;
        // Where a chord starts the player's stroke is to be heard, not ours.
        if stage.step == Step::OneStroke && purpose == Purpose::Practise {
            plan.timeline = plan.timeline.without_strums();
        }
        let shapes = PlannedShape::all(&stage.score, &stage.lesson.tuning);
        let only_asked = stage.step == Step::OneStroke;
        Some(Self { id, purpose, tempo, plan: Arc::new(plan), shapes, only_asked, started: None, cycle: None })
    }

    /// Takes in what the performer reports of it. True when a cycle of it has just begun.
    pub(crate) fn report(&mut self, report: &Report) -> bool {
        match report {
            Report::Started { id, frame, .. } if *id == self.id => {
                self.started = Some(frame.0);
                false
            }
            Report::CycleStarted { id, cycle, fine, .. } if *id == self.id => {
                self.cycle = Some((*cycle, *fine));
                true
            }
            _ => false,
        }
    }

    /// Frames a second.
    pub(crate) fn rate(&self) -> u32 {
        self.plan.timeline.grid.rate()
    }

    /// Where in it `frame` is; `None` before it sounds.
    pub(crate) fn cursor(&self, frame: u64) -> Option<Cursor> {
        let started = self.started?;
        Some(Cursor::at(&self.plan.timeline, Frames(frame.saturating_sub(started))))
    }

    /// What is expected of the running cycle's pass, and when its count-in clicks: in seconds on the output's clock.
    pub(crate) fn pass_plan(&self) -> Option<(PassPlan, Vec<f64>)> {
        let (_, fine) = self.cycle?;
        let timeline = &self.plan.timeline;
        #[expect(clippy::cast_precision_loss, reason = "2^53 frames are six thousand years")]
        let seconds =
            |tick: Tick| timeline.grid.frame(fine, u64::from(tick.0)).0 as f64 / f64::from(timeline.grid.rate());
        let counted = timeline.cycle_events.iter().filter(|event| event.at < timeline.pass_at);
        let clicks = counted.filter(|event| matches!(event.kind, EventKind::Click(_))).map(|event| seconds(event.at));
        let plan =
            PassPlan::new(&self.plan.expected, timeline.grid, timeline.pass).with_shapes(Arc::clone(&self.shapes));
        let plan = if self.only_asked { plan.only_asked() } else { plan };
        Some((plan.starting_at(seconds(timeline.pass_at)), clicks.collect()))
    }

    /// How long a pass lasts, in seconds.
    pub(crate) fn pass_seconds(&self) -> f64 {
        self.plan.timeline.grid.seconds(self.plan.timeline.pass)
    }
}
