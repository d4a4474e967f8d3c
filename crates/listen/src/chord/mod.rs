//! Whether the chord asked for was sounding, and which one it sounded like instead.
//!
//! Runs of strokes on one shape ([`spans`]) → looks at the sound of their strokes → power of each semitone, pooled over
//! the looks ([`spectrum`]), in the guitar's own tuning ([`tuning`]) → how well the asked shape and others explain it
//! ([`fit`]) → right, wrong or unsure ([`decide`]).

mod book;
mod decide;
mod fit;
mod spans;
mod spectrum;
mod strings;
mod tuning;

use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::verdict::{ChordFinding, PassVerdict, Verdict};

use decide::Candidates;
use spans::{LOOKS_S, Looks, Span, looks, spans};
use spectrum::{Look, Spectrograph};
use strings::Strings;
use tuning::TuningSum;

/// Hears the chords of a judged pass: fills in its strokes' chords and the guitar's tuning. A wrong chord makes a clean
/// pass not clean.
pub(crate) fn hear_chords(plan: &PassPlan, sound: &PassSound, pass: &mut PassVerdict) {
    if plan.shapes.is_empty() || sound.samples.is_empty() {
        return;
    }
    let heard_s: Vec<Option<f64>> = pass.strokes.iter().map(|stroke| stroke.heard_s).collect();
    let ends_s = plan.starts_s + plan.length_s;
    let look = |span: Span| looks(&span, &plan.strokes, &heard_s, ends_s).map(|looks| (span, looks));
    let spans: Vec<(Span, Looks)> = spans(&plan.strokes).into_iter().filter_map(look).collect();
    let mut ear = ChordEar::new(sound);
    pass.tuning_cents = ear.tuning(&spans);
    let cents = pass.tuning_cents.unwrap_or(0.0);
    let mut candidates: Vec<Option<Candidates>> = plan.shapes.iter().map(|_| None).collect();
    for (span, looks) in &spans {
        let heard = ear.hear(looks, cents);
        let candidates = candidates[span.shape].get_or_insert_with(|| Candidates::new(&plan.shapes, span.shape));
        let decision = candidates.decide(&heard, ear.strings(looks.length), looks.all_strings);
        for stroke in &mut pass.strokes[span.strokes.clone()] {
            stroke.chord = decision.finding;
            stroke.sounded_like.clone_from(&decision.sounded_like);
        }
    }
    let wrong = pass.strokes.iter().any(|stroke| stroke.chord == ChordFinding::Wrong);
    if wrong && pass.verdict == Verdict::Clean {
        pass.verdict = Verdict::NotClean;
    }
}

struct ChordEar<'a> {
    sound: &'a PassSound,
    spectrograph: Spectrograph,
    strings: [Option<Strings>; LOOKS_S.len()],
    power: Vec<f32>,
}

impl<'a> ChordEar<'a> {
    fn new(sound: &'a PassSound) -> Self {
        let spectrograph = Spectrograph::new(sound.rate);
        Self { sound, spectrograph, strings: [const { None }; LOOKS_S.len()], power: Vec::new() }
    }

    fn look(&mut self, at_s: f64, length: usize) -> bool {
        let sound = self.sound.between(at_s, at_s + LOOKS_S[length] + 0.01);
        self.spectrograph.look(sound, length, &mut self.power)
    }

    fn tuning(&mut self, spans: &[(Span, Looks)]) -> Option<f64> {
        let mut sum = TuningSum::default();
        for (_, looks) in spans {
            for at_s in &looks.at_s {
                if self.look(*at_s, looks.length) {
                    sum.add(&self.power, self.spectrograph.bin_hz());
                }
            }
        }
        sum.cents()
    }

    /// What is heard in a span.
    fn hear(&mut self, looks: &Looks, cents: f64) -> Vec<Look> {
        let mut heard = Vec::with_capacity(looks.at_s.len());
        for at_s in &looks.at_s {
            if self.look(*at_s, looks.length) {
                heard.push(self.spectrograph.heard(&self.power, looks.length, cents));
            }
        }
        heard
    }

    fn strings(&mut self, length: usize) -> &Strings {
        self.strings[length].get_or_insert_with(|| Strings::new(length))
    }
}
