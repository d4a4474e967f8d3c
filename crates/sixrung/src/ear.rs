//! The ear: microphone samples in, what was heard of each ordered pass out.
//!
//! It has no thread and no device of its own: live a worker feeds it from the microphone, in a test the test does, so
//! that both are one ear. Its clock counts the microphone's own frames: whoever orders a pass places it there. A jump in
//! the frames is a gap, and what lies around it is not judged.

use std::collections::VecDeque;
use std::sync::Arc;

use sixrung_listen::{
    Caught, ChangeEar, HearingState as Level, LearnGuide, LearnPlan, LearnProgress, Learned, LearnedPath, Learning,
    Listener, Onset, PassEar, PlannedShape, Reason, StartEar, Verdict, find_round_trip, own_sound_db,
};

use crate::recording::Recording;
use crate::session::{FoundTrip, Heard, Order};
use crate::stand::{HearingState, HearingView};

/// A device pair's first pass has to fit this clearly before its lag is believed: a design choice of ours.
const LEAST_CONFIDENCE: f64 = 0.2;
/// While the lag is unknown, listen so much longer for the end of the pass: the largest lag looked for.
const LARGEST_LAG_S: f64 = 0.5;
/// The way of our own sound is learned from so much before the first click on, in seconds.
const BEFORE_CLICK_S: f64 = 0.1;
/// So much around a pass is kept to be heard again, in seconds.
const AROUND_S: f64 = 0.25;
/// The quietest level the meter shows, in decibels re full scale.
const METER_FLOOR_DB: f32 = -60.0;

/// Listens to ordered passes.
#[derive(Debug)]
pub struct Ear {
    rate: u32,
    listener: Listener,
    passes: VecDeque<Listening>,
    learning: Learning,
    /// How long our own sound took when it was last learned, in milliseconds.
    own_way_ms: Option<f64>,
    /// Stretches to come in which only we sound, in seconds on the ear's clock.
    silences: VecDeque<(f64, f64)>,
    /// Leads the player through their chords.
    guide: Option<LearnGuide>,
    /// Hears two chords to and fro.
    changes: Option<ChangeEar>,
    /// Hears the strokes that start a pass.
    start: Option<StartEar>,
    /// What was learned of them.
    known: Option<Arc<Learned>>,
}

#[derive(Debug)]
struct Listening {
    order: Order,
    ear: PassEar,
    /// What was caught before the pass: our own clicks, if they reach the microphone.
    before: Vec<Onset>,
    /// Its sound, to be heard again.
    recording: Option<Recording>,
}

impl Ear {
    /// An ear at `rate` frames a second; `None` where the listener does not take that rate.
    #[must_use]
    pub fn new(rate: u32) -> Option<Self> {
        Some(Self {
            rate,
            listener: Listener::new(rate)?,
            passes: VecDeque::new(),
            learning: Learning::new(),
            own_way_ms: None,
            silences: VecDeque::new(),
            guide: None,
            changes: None,
            start: None,
            known: None,
        })
    }

    /// Tells what is played at `rate` frames a second, from `at_s` of the ear's clock on: before it is heard.
    pub fn played(&mut self, at_s: f64, rate: u32, samples: &[f32]) {
        self.listener.played(at_s, rate, samples);
    }

    /// The player will be silent from one time to another: the way our own sound takes is learned there.
    pub fn learn_own(&mut self, from_s: f64, to_s: f64) {
        self.silences.push_back((from_s, to_s));
    }

    /// Tells passes to come by what was learned of the player's chords.
    pub fn know(&mut self, known: Option<Arc<Learned>>) {
        self.known = known;
    }

    /// Leads the player through this plan, or no longer.
    pub fn hear_chords(&mut self, plan: Option<LearnPlan>) {
        self.guide = plan.map(LearnGuide::new);
    }

    /// Hears changes between these two shapes, or no longer.
    pub fn hear_changes(&mut self, shapes: Option<[PlannedShape; 2]>) {
        self.changes = shapes.map(|shapes| ChangeEar::new(shapes, self.known.clone()));
    }

    /// Hears the muted strokes that start a pass, from now on, or no longer.
    pub fn hear_start(&mut self, hears: bool) {
        self.start = hears.then(StartEar::new);
    }

    /// Who leads the player through their chords.
    pub fn guide(&mut self) -> Option<&mut LearnGuide> {
        self.guide.as_mut()
    }

    /// How far the player's chords are heard.
    #[must_use]
    pub fn learning(&self) -> Option<LearnProgress> {
        self.guide.as_ref().map(LearnGuide::progress)
    }

    /// Listens to one more pass.
    pub fn order(&mut self, order: Order) {
        if let Some(first_s) = order.clicks_s.first() {
            self.learn_own(first_s - BEFORE_CLICK_S, order.plan.reach_s().0 + order.latency_s.unwrap_or(0.0));
        }
        let ear = match order.latency_s {
            Some(latency_s) => PassEar::new(order.plan.clone(), latency_s),
            None => {
                // The lag is to be found: keep all that may belong to the pass, however late.
                let mut plan = order.plan.clone();
                plan.length_s += LARGEST_LAG_S;
                PassEar::new(plan, 0.0)
            }
        };
        let recording = order.latency_s.and_then(|latency_s| {
            let zero_s = order.plan.starts_s + latency_s;
            Recording::new(self.rate, (zero_s - AROUND_S, zero_s + order.plan.length_s + AROUND_S), zero_s)
        });
        let ear = ear.knowing(self.known.clone());
        self.passes.push_back(Listening { order, ear, before: Vec::new(), recording });
    }

    /// Forgets every pass that is not judged yet.
    pub fn forget(&mut self) {
        self.passes.clear();
        self.silences.clear();
    }

    /// Takes in samples, the first of which is the microphone's `frame`, and tells what is complete.
    pub fn feed(&mut self, frame: u64, samples: &[f32]) -> Vec<Heard> {
        let hearing = self.listener.hearing().state;
        let caught = self.listener.feed(frame, samples);
        self.learning.take_in(caught);
        if let Some(guide) = &mut self.guide {
            guide.take_in(caught, hearing);
        }
        for pass in &mut self.passes {
            if let Some(recording) = &mut pass.recording {
                recording.take_in(frame, samples);
            }
            pass.take_in(caught);
        }
        let changed = self.changes.as_mut().map(|ear| ear.take_in(caught)).unwrap_or_default();
        let mut heard: Vec<_> = changed.iter().copied().map(Heard::Change).collect();
        let started = self.start.as_mut().and_then(|ear| ear.take_in(caught));
        heard.extend(started.map(|_| Heard::FourStrokes));
        self.learn();
        let news = self.guide.as_mut().and_then(LearnGuide::news);
        heard.extend(news.map(|learned| Heard::Learned(Box::new(learned))));
        while let Some(done) = self.passes.pop_front_if(|pass| pass.ear.is_complete(&self.listener)) {
            heard.push(done.judge(self.own_way_ms.take()));
        }
        heard
    }

    /// Learns from the silences that are over. Disturbed, or with nothing to learn, what was known stays.
    fn learn(&mut self) {
        while let Some((from_s, to_s)) =
            self.silences.pop_front_if(|(_, to_s)| self.listener.settled_until_s() >= *to_s)
        {
            if let LearnedPath::Path(path) = self.learning.learn(from_s, to_s, self.listener.own_path()) {
                self.own_way_ms = Some(path.arrives_after_s() * 1000.0);
                self.listener.remove_own(Some(path));
            }
        }
    }

    /// What the level meter shows now.
    #[must_use]
    pub fn level(&self) -> HearingView {
        let hearing = self.listener.hearing();
        HearingView {
            level: (1.0 - hearing.level_db.max(METER_FLOOR_DB) / METER_FLOOR_DB).clamp(0.0, 1.0),
            state: match hearing.state {
                Level::Silent | Level::Faint => HearingState::Listening,
                Level::Good => HearingState::HearsYou,
                Level::Clipping => HearingState::TooLoud,
            },
        }
    }
}

impl Listening {
    fn take_in(&mut self, caught: Caught<'_>) {
        self.ear.take_in(caught);
        let begins_s = self.order.plan.reach_s().0 + self.order.latency_s.unwrap_or(0.0);
        self.before.extend(caught.onsets.iter().filter(|onset| onset.at_s < begins_s));
    }

    fn judge(self, own_way_ms: Option<f64>) -> Heard {
        let found = match self.order.latency_s {
            Some(_) => None,
            None => find_round_trip(&self.order.plan, self.ear.onsets())
                .filter(|found| found.confidence >= LEAST_CONFIDENCE),
        };
        let lag_s = self.order.latency_s.unwrap_or(0.0);
        let clicks_s: Vec<f64> = self.order.clicks_s.iter().map(|click| click + lag_s).collect();
        let ear = self.ear.beside_own_sound(own_sound_db(&self.before, &clicks_s));
        let mut verdict = ear.verdict(&self.order.criterion);
        // Without a round trip nothing can be said of when strokes came.
        let is_lost = self.order.latency_s.is_none() && found.is_none();
        if is_lost && let Verdict::Clean | Verdict::NotClean = verdict.verdict {
            verdict.verdict = Verdict::NotJudged(Reason::StartUnclear);
        }
        Heard::Pass {
            order: self.order.id,
            verdict: Box::new(verdict),
            own_way_ms,
            recording: self.recording.map(Arc::new),
            round_trip: found.map(|found| FoundTrip { ms: found.lag_s * 1000.0, spread_ms: found.spread_ms }),
        }
    }
}
