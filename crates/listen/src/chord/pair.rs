//! One stroke that sounds one of two chords, or neither: each is asked for in turn, the other being among what it may
//! have been instead. Strokes told before stand beside it, as the other spans of a pass do.

use std::sync::Arc;

use sixrung_lesson::{Action, Direction};

use super::candidates::Candidates;
use super::decide;
use super::describe::{Scored, beside_the_others};
use super::spans::{Span, looks};
use super::{ChordEar, Look};
use crate::learned::{LEARNED_FEATURES, Learned, Others};
use crate::plan::{PlannedShape, PlannedStroke};
use crate::sound::PassSound;
use crate::verdict::{ChordFinding, Finding, PassVerdict, StrokeFinding, Verdict};

/// So many of the strokes told last stand beside a new one: about the spans of a pass. A design choice of ours.
const REMEMBERED: usize = 12;

/// A string so far below the loudest of its chord is silent, in decibels. Of 1,355 clean strokes (change drills, seed
/// 71000) one had half of its strings so far down; of strokes with two strings left ringing at most nearly all have.
const SILENT_DB: f32 = -20.0;

/// A stroke, taken for one of the two chords.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Told {
    /// Log-odds that it was another chord.
    pub(crate) other: f32,
    /// Share of the chord's strings that are silent.
    pub(crate) silent: f32,
}

/// Hears which of two chords a stroke sounds.
pub(crate) struct PairEar {
    shapes: Arc<[PlannedShape]>,
    candidates: [Candidates; 2],
    learned: Option<Arc<Learned>>,
    ear: Option<ChordEar>,
    told: Vec<Scored>,
    heard: [Option<Scored>; 2],
}

impl PairEar {
    pub(crate) fn new(shapes: [PlannedShape; 2], learned: Option<Arc<Learned>>) -> Self {
        let candidates = [0, 1].map(|index| Candidates::new(&shapes, index));
        let told = Vec::with_capacity(REMEMBERED + 1);
        Self { shapes: Arc::new(shapes), candidates, learned, ear: None, told, heard: [None, None] }
    }

    /// What a down-stroke at `at_s`, left alone until `ends_s`, is as the first and as the second; `None` where it was
    /// left alone for too short a time, or nothing lasts in it.
    pub(crate) fn hear(&mut self, sound: &PassSound, at_s: f64, ends_s: f64) -> Option<[Told; 2]> {
        let ear = self.ear.get_or_insert_with(|| ChordEar::new(sound.rate));
        let looks = looks(&Span { shape: 0, strokes: 0..1 }, &[planned(at_s)], &[Some(at_s)], ends_s)?;
        let cents = ear.tuning(sound, std::iter::once(&looks)).unwrap_or(0.0);
        let heard: Vec<Look> = ear.hear(sound, &looks, cents);
        for asked in [0, 1] {
            let strings = ear.strings(looks.length);
            self.heard[asked] = Scored::new(&self.candidates[asked], asked, &heard, &looks, strings);
        }
        let pass = alone(at_s, ends_s);
        let mut told = [Told { other: 0.0, silent: 0.0 }; 2];
        for (asked, told) in told.iter_mut().enumerate() {
            let scored = self.heard[asked].take()?;
            told.silent = silent(&scored.sounding);
            let learned = self.by_learned(sound, &pass, asked, scored.best);
            self.told.push(scored);
            let described = beside_the_others(&self.told, &self.shapes).pop()?;
            self.heard[asked] = self.told.pop();
            told.other = decide::odds(&described, learned.as_ref());
        }
        Some(told)
    }

    /// What is said of the asked chord at these odds.
    pub(crate) fn finding(odds: f32) -> ChordFinding {
        decide::finding(odds)
    }

    /// The stroke heard last was this one of the two: it stands beside those to come.
    pub(crate) fn remember(&mut self, shape: usize) {
        if self.told.len() == REMEMBERED {
            self.told.remove(0);
        }
        self.told.extend(self.heard[shape].take());
    }

    fn by_learned(
        &self,
        sound: &PassSound,
        pass: &PassVerdict,
        asked: usize,
        best: usize,
    ) -> Option<[f32; LEARNED_FEATURES]> {
        let mut known = Others::new(self.learned.as_deref()?, sound, pass)?;
        let candidates = &self.candidates[asked];
        let (same, others) = (candidates.asked_keys.iter(), candidates.others.iter().map(|other| &other.keys));
        Some(known.weigh(0..1, (asked, &self.shapes[asked]), same, others, best)?.described)
    }
}

#[expect(clippy::cast_precision_loss, reason = "a few strings")]
fn silent(sounding: &[f32]) -> f32 {
    let loudest = sounding.iter().copied().fold(1e-9, f32::max);
    let silent = sounding.iter().filter(|level| 10.0 * (**level / loudest).log10() <= SILENT_DB).count();
    silent as f32 / sounding.len().max(1) as f32
}

fn planned(at_s: f64) -> PlannedStroke {
    let (action, direction) = (Action::Strum, Direction::Down);
    PlannedStroke { at_s, slot_s: 1.0, bar: 0, slot: 0, action, direction, shape: Some(0) }
}

/// A pass of this stroke and whatever ended it.
fn alone(at_s: f64, ends_s: f64) -> PassVerdict {
    let stroke = StrokeFinding {
        bar: 0,
        slot: 0,
        action: Action::Strum,
        direction: Direction::Down,
        shape: Some(0),
        expected_s: at_s,
        heard_s: Some(at_s),
        offset_ms: Some(0.0),
        finding: Finding::InTime,
        chord: ChordFinding::Unsure,
        sounded_like: None,
        heard_direction: None,
        strings: Vec::new(),
        window_ms: 0.0,
    };
    PassVerdict {
        verdict: Verdict::Clean,
        strokes: vec![stroke],
        extras_s: vec![ends_s],
        median_offset_ms: None,
        spread_ms: None,
        allowed_faults: 0,
        tuning_cents: None,
    }
}
