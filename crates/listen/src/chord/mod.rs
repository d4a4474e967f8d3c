//! Whether the chord asked for was sounding, and which one it sounded like instead.
//!
//! Runs of strokes on one shape ([`spans`]) → looks at the sound of their strokes → power of each semitone, pooled over
//! the looks ([`spectrum`]), in the guitar's own tuning ([`tuning`]) → how well the asked shape and others explain it
//! ([`fit`]) → a description of each span, beside the pass's other spans ([`describe`]) → right, wrong or unsure by
//! trees over it ([`decide`]), and by what was learned of the player, if anything was.

mod book;
mod candidates;
mod decide;
mod describe;
mod fit;
mod pair;
mod spans;
mod spectrum;
mod strings;
mod tuning;

use std::ops::Range;

use crate::learned::{LEARNED_FEATURES, Learned, Others, Weighed};
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::verdict::{ChordFinding, PassVerdict, Verdict};

use candidates::Candidates;
pub use describe::CHORD_FEATURES;
use describe::{Scored, beside_the_others};
pub(crate) use pair::{PairEar, Told};
use spans::{LOOKS_S, Looks, Span, looks, spans};
use spectrum::{Look, Spectrograph};
use strings::Strings;
use tuning::TuningSum;

/// A span of strokes on one chord, described.
#[derive(Clone, Debug, PartialEq)]
pub struct DescribedSpan {
    /// Its strokes, as indices in the pass.
    pub strokes: Range<usize>,
    /// What was heard of it.
    pub described: [f32; CHORD_FEATURES],
    /// What speaks for another chord by the asked shape as this player was heard to play it; `None` when it was not
    /// learned or can't be compared.
    pub learned: Option<[f32; LEARNED_FEATURES]>,
    /// The chord that explains it best, the asked one aside.
    pub other: String,
}

/// Describes what was heard of each span of a judged pass, and tells how far the guitar is off, in cents, if it can.
/// Spans in which nothing was heard are left out.
#[must_use]
pub fn chord_features(
    plan: &PassPlan,
    sound: &PassSound,
    pass: &PassVerdict,
    learned: Option<&Learned>,
) -> (Vec<DescribedSpan>, Option<f64>) {
    if plan.shapes.is_empty() || sound.samples.is_empty() {
        return (Vec::new(), None);
    }
    let heard_s: Vec<Option<f64>> = pass.strokes.iter().map(|stroke| stroke.heard_s).collect();
    let ends_s = plan.starts_s + plan.length_s;
    let look = |span: Span| looks(&span, &plan.strokes, &heard_s, ends_s).map(|looks| (span, looks));
    let spans: Vec<(Span, Looks)> = spans(&plan.strokes).into_iter().filter_map(look).collect();
    let mut ear = ChordEar::new(sound.rate);
    let cents = ear.tuning(sound, spans.iter().map(|(_, looks)| looks));
    let mut candidates: Vec<Option<Candidates>> = plan.shapes.iter().map(|_| None).collect();
    let mut known = learned.and_then(|learned| Others::new(learned, sound, pass));
    let (mut found, mut scored) = (Vec::new(), Vec::new());
    for (span, looks) in &spans {
        let heard = ear.hear(sound, looks, cents.unwrap_or(0.0));
        let candidates = candidates[span.shape].get_or_insert_with(|| Candidates::new(&plan.shapes, span.shape));
        let Some(score) = Scored::new(candidates, span.shape, &heard, looks, ear.strings(looks.length)) else {
            continue;
        };
        let asked = (span.shape, &plan.shapes[span.shape]);
        let (same, others) = (candidates.asked_keys.iter(), candidates.others.iter().map(|other| &other.keys));
        let weigh = |known: &mut Others<'_>| known.weigh(span.strokes.clone(), asked, same, others, score.best);
        let weighed: Option<Weighed> = known.as_mut().and_then(weigh);
        let best = weighed.map_or(score.best, |weighed| weighed.best);
        let other = candidates.others[best].name.clone();
        found.push((span.strokes.clone(), other, weighed.map(|weighed| weighed.described)));
        scored.push(score);
    }
    let described = beside_the_others(&scored, &plan.shapes);
    let span = |((strokes, other, learned), described)| DescribedSpan { strokes, described, learned, other };
    (found.into_iter().zip(described).map(span).collect(), cents)
}

/// Hears the chords of a judged pass: fills in its strokes' chords and the guitar's tuning. A wrong chord makes a clean
/// pass not clean. Gives the log-odds, span by span, that another chord was played.
pub(crate) fn hear_chords(
    plan: &PassPlan,
    sound: &PassSound,
    learned: Option<&Learned>,
    pass: &mut PassVerdict,
) -> Vec<f32> {
    let (spans, cents) = chord_features(plan, sound, pass, learned);
    pass.tuning_cents = cents;
    let odds: Vec<f32> = spans.iter().map(|span| decide::odds(&span.described, span.learned.as_ref())).collect();
    for (span, odds) in spans.into_iter().zip(&odds) {
        let finding = decide::finding(*odds);
        for stroke in &mut pass.strokes[span.strokes] {
            stroke.chord = finding;
            stroke.sounded_like = (finding == ChordFinding::Wrong).then(|| span.other.clone());
        }
    }
    let wrong = pass.strokes.iter().any(|stroke| stroke.chord == ChordFinding::Wrong);
    if wrong && pass.verdict == Verdict::Clean {
        pass.verdict = Verdict::NotClean;
    }
    odds
}

/// Looks at the sound of spans.
struct ChordEar {
    spectrograph: Spectrograph,
    strings: [Option<Strings>; LOOKS_S.len()],
    power: Vec<f32>,
    peaks: TuningSum,
}

impl ChordEar {
    fn new(rate: f64) -> Self {
        let spectrograph = Spectrograph::new(rate);
        let strings = [const { None }; LOOKS_S.len()];
        Self { spectrograph, strings, power: Vec::new(), peaks: TuningSum::default() }
    }

    fn look(&mut self, sound: &PassSound, at_s: f64, length: usize) -> bool {
        let sound = sound.between(at_s, at_s + LOOKS_S[length] + 0.01);
        self.spectrograph.look(sound, length, &mut self.power)
    }

    /// How far the guitar is off in cents, by all spans it was given so far.
    fn tuning<'b>(&mut self, sound: &PassSound, spans: impl Iterator<Item = &'b Looks>) -> Option<f64> {
        for looks in spans {
            for at_s in &looks.at_s {
                if self.look(sound, *at_s, looks.length) {
                    self.peaks.add(&self.power, self.spectrograph.bin_hz());
                }
            }
        }
        self.peaks.cents()
    }

    /// What is heard in a span.
    fn hear(&mut self, sound: &PassSound, looks: &Looks, cents: f64) -> Vec<Look> {
        let mut heard = Vec::with_capacity(looks.at_s.len());
        for at_s in &looks.at_s {
            if self.look(sound, *at_s, looks.length) {
                heard.push(self.spectrograph.heard(&self.power, looks.length, cents));
            }
        }
        heard
    }

    fn strings(&mut self, length: usize) -> &Strings {
        self.strings[length].get_or_insert_with(|| Strings::new(length))
    }
}
