//! The ear with its microphone: reads it, places passes and our own sound on its clock, and hears strings for the tuner.

use std::collections::VecDeque;
use std::sync::Arc;

use sixrung_devices::InputReader;
use sixrung_lesson::Tuning;
use sixrung_listen::{LearnGuide, LearnPlan, Learned, PlannedShape, Reason, Tuner, Verdict};

use crate::ear::Ear;
use crate::measuring::{Measure, Measuring};
use crate::session::{Heard, Order};

/// Frames read at once.
const BLOCK: usize = 1024;
/// Our own sound is laid anew, before a pass, where the clocks disagree by more than this, in seconds: stamps through a
/// sound server wander by 2 to 3 ms and come back.
const STRAYED_S: f64 = 0.010;

/// What the ear is told.
#[derive(Debug)]
pub(crate) enum Told {
    /// Listen to a pass; its start is on the output's clock at this many frames a second.
    Listen(Order, u32),
    /// Part of the output was lost: no pass being listened to can be judged.
    Gap,
    /// The player listens from one time to another, in seconds on the output's clock at this many frames a second.
    OnlyWeSound { from_s: f64, to_s: f64, rate: u32 },
    /// Forget all passes not judged yet.
    Forget,
    /// Hear single strings too, for a tuner; or no longer.
    Tune(Option<Tune>),
    /// Lead the player through their chords; or no longer.
    HearChords(Option<LearnPlan>),
    /// Hear changes between two shapes; or no longer.
    HearChanges(Option<Box<[PlannedShape; 2]>>),
    /// Hear the muted strokes that start a pass; or no longer.
    HearStart(bool),
    /// The strokes asked for once more.
    HearAgain,
    /// Leave the chord asked for out.
    HearNext,
    /// What was learned of the player's chords.
    Know(Arc<Learned>),
    /// Measure, from the next source's first frame on; or no longer.
    Measure(Option<Measure>),
}

/// What to tune to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Tune {
    pub(crate) tuning: Tuning,
    pub(crate) capo: u8,
    /// The one string to listen for, by its index, or any.
    pub(crate) string: Option<usize>,
}

/// The ear with its microphone.
pub(crate) struct Desk {
    reader: InputReader,
    ear: Option<(u32, Ear)>,
    tune: Option<Tune>,
    tuner: Option<(u32, Tuner)>,
    chords: Option<LearnPlan>,
    changes: Option<Box<[PlannedShape; 2]>>,
    hears_start: bool,
    known: Option<Arc<Learned>>,
    waiting: VecDeque<(Order, u32)>,
    /// Stretches in which only we sound, not yet told to the ear: from, to, and the output's rate.
    silences: VecDeque<(f64, f64, u32)>,
    gapped: Vec<u64>,
    open: Vec<u64>,
    block: Vec<f32>,
    /// The microphone's seconds less the output's, where our own sound was laid. It stays where it is over a pass, and
    /// while the clocks agree, whatever their stamps wander by: the path that was learned holds what is wrong with it.
    laid: Option<f64>,
    /// A frame of the microphone and the output's that sounded then.
    newest: Option<(f64, f64)>,
    measuring: Option<Measuring>,
}

impl Desk {
    pub(crate) fn new(reader: InputReader) -> Self {
        let block = vec![0.0; BLOCK];
        Self {
            reader,
            ear: None,
            tune: None,
            tuner: None,
            chords: None,
            changes: None,
            hears_start: false,
            known: None,
            waiting: VecDeque::new(),
            silences: VecDeque::new(),
            gapped: Vec::new(),
            open: Vec::new(),
            block,
            laid: None,
            newest: None,
            measuring: None,
        }
    }

    pub(crate) fn told(&mut self, told: Told) {
        match told {
            Told::Listen(order, rate) => {
                self.open.push(order.id);
                self.waiting.push_back((order, rate));
            }
            Told::OnlyWeSound { from_s, to_s, rate } => self.silences.push_back((from_s, to_s, rate)),
            Told::Gap => self.gapped.extend(self.open.iter().copied()),
            Told::Forget => {
                self.waiting.clear();
                self.silences.clear();
                self.gapped.clear();
                self.open.clear();
                if let Some((_, ear)) = &mut self.ear {
                    ear.forget();
                }
            }
            Told::Tune(tune) => (self.tune, self.tuner) = (tune, None),
            Told::HearChords(plan) => {
                self.chords.clone_from(&plan);
                if let Some((_, ear)) = &mut self.ear {
                    ear.hear_chords(plan);
                }
            }
            Told::HearChanges(shapes) => {
                if let Some((_, ear)) = &mut self.ear {
                    ear.hear_changes(shapes.as_deref().cloned());
                }
                self.changes = shapes;
            }
            Told::HearStart(hears) => {
                if let Some((_, ear)) = &mut self.ear {
                    ear.hear_start(hears);
                }
                self.hears_start = hears;
            }
            Told::HearAgain => self.guide().into_iter().for_each(LearnGuide::again),
            Told::HearNext => self.guide().into_iter().for_each(LearnGuide::skip),
            Told::Know(known) => {
                if let Some((_, ear)) = &mut self.ear {
                    ear.know(Some(Arc::clone(&known)));
                }
                self.known = Some(known);
            }
            Told::Measure(measure) => self.measuring = measure.map(Measuring::new),
        }
    }

    fn guide(&mut self) -> Option<&mut LearnGuide> {
        self.ear.as_mut().and_then(|(_, ear)| ear.guide())
    }

    /// An ear for a microphone of this rate, knowing what is known.
    fn new_ear(&self, rate: u32) -> Option<(u32, Ear)> {
        let mut ear = Ear::new(rate)?;
        ear.know(self.known.clone());
        ear.hear_chords(self.chords.clone());
        ear.hear_changes(self.changes.as_deref().cloned());
        ear.hear_start(self.hears_start);
        Some((rate, ear))
    }

    /// Hears all that the microphone has given. Returns what was found, and whether there was anything to hear.
    pub(crate) fn pump(&mut self) -> (Vec<Heard>, bool) {
        let mut found = Vec::new();
        let mut heard_any = false;
        self.lay_played();
        while let Some(chunk) = self.reader.read(&mut self.block) {
            heard_any = true;
            if self.ear.as_ref().is_none_or(|(rate, _)| *rate != chunk.rate) {
                self.ear = self.new_ear(chunk.rate);
                self.laid = None;
            }
            let Some((rate, ear)) = &mut self.ear else { continue };
            if chunk.gap.is_some() {
                // Where the microphone's frames lie on the output's is another place now.
                self.laid = None;
                self.gapped.extend(self.open.iter().copied());
                ear.guide().into_iter().for_each(LearnGuide::gap);
            }
            #[expect(clippy::cast_precision_loss, reason = "2^53 frames are six thousand years")]
            let here = |output_frame| (chunk.position as f64, output_frame);
            self.newest = chunk.output_frame.map(here);
            if let Some((position, output_frame)) = self.newest {
                // From the output's seconds to the microphone's, by where this very block lies on both.
                let later_s = |output_rate: u32| position / f64::from(*rate) - output_frame / f64::from(output_rate);
                while let Some((mut order, output_rate)) = self.waiting.pop_front() {
                    let later_s = later_s(output_rate);
                    self.laid = self.laid.filter(|laid| (laid - later_s).abs() <= STRAYED_S);
                    order.plan.starts_s += later_s;
                    order.clicks_s.iter_mut().for_each(|click| *click += later_s);
                    ear.order(order);
                }
                while let Some((from_s, to_s, output_rate)) = self.silences.pop_front() {
                    ear.learn_own(from_s + later_s(output_rate), to_s + later_s(output_rate));
                }
            }
            found.extend(ear.feed(chunk.position, &self.block[..chunk.frames]));
            if let Some(measuring) = &mut self.measuring {
                measuring.take_in(&chunk, &self.block[..chunk.frames]);
            }
            if let Some(tune) = &self.tune {
                if self.tuner.as_ref().is_none_or(|(rate, _)| *rate != chunk.rate) {
                    self.tuner = Tuner::new(chunk.rate, &tune.tuning, tune.capo).map(|tuner| (chunk.rate, tuner));
                    if let Some((_, tuner)) = &mut self.tuner {
                        tuner.pin(tune.string);
                    }
                }
                if let Some((_, tuner)) = &mut self.tuner {
                    if chunk.gap.is_some() {
                        tuner.gap();
                    }
                    tuner.feed(&self.block[..chunk.frames]);
                }
            }
        }
        if let Some(measured) = self.measuring.as_ref().and_then(Measuring::done) {
            found.push(Heard::Measured(measured));
            // Another source has played, and the player's comes back: all is to be laid anew.
            (self.measuring, self.ear, self.laid, self.newest) = (None, None, None, None);
        }
        if heard_any && let Some((_, ear)) = &self.ear {
            found.push(Heard::Level(ear.level()));
        }
        if heard_any && let Some((_, tuner)) = &self.tuner {
            found.push(Heard::Tuned(tuner.sounding()));
        }
        let learning = self.ear.as_ref().and_then(|(_, ear)| ear.learning());
        found.extend(learning.map(Heard::Learning));
        for heard in &mut found {
            self.mark_gaps(heard);
        }
        (found, heard_any)
    }

    /// Tells the ear what went out since the last time.
    fn lay_played(&mut self) {
        while let Some(played) = self.reader.read_played(&mut self.block) {
            if let Some(measuring) = &mut self.measuring {
                measuring.played(&played);
                continue;
            }
            let Some((rate, ear)) = &mut self.ear else { continue };
            let out_s = |frame: f64| frame / f64::from(played.rate);
            let Some((position, output_frame)) = self.newest else { continue };
            let laid = *self.laid.get_or_insert_with(|| position / f64::from(*rate) - out_s(output_frame));
            #[expect(clippy::cast_precision_loss, reason = "2^53 frames are six thousand years")]
            ear.played(laid + out_s(played.output_frame as f64), played.rate, &self.block[..played.frames]);
        }
    }

    fn mark_gaps(&mut self, heard: &mut Heard) {
        let Heard::Pass { order, verdict, round_trip, .. } = heard else { return };
        self.open.retain(|open| open != order);
        if self.gapped.contains(order) {
            verdict.verdict = Verdict::NotJudged(Reason::Gap);
            *round_trip = None;
            self.gapped.retain(|gapped| gapped != order);
        }
    }
}
