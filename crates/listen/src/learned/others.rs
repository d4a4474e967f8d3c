//! What speaks for another chord in a span of strokes, by how the asked shape sounds in this player's hands.
//!
//! A shape that was learned too is compared by its own spectra; any other follows from the asked one, string by string:
//! a string taken away, moved to another pitch as loud as it was, or added as loud as the others usually are.

use std::ops::Range;

use super::fill::{alone_s, whole_stroke};
use super::form::{Learned, LearnedShape};
use super::grid::Spectra;
use super::hypotheses::{Deed, as_other};
use super::strings::{StringEar, Stroke};
use crate::plan::PlannedShape;
use crate::sound::PassSound;
use crate::verdict::{PassVerdict, StringFault};

/// How many numbers say what was found of a span.
pub const LEARNED_FEATURES: usize = 5;

/// Strings of the asked shape that may differ from what was learned before it is another chord.
const MOST_DEEDS: usize = 2;

/// What each string of a shape sounds, the heaviest first.
pub(crate) type Keys = Vec<Option<u8>>;

/// What was found of a span.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Weighed {
    /// Index of the other shape that fits best.
    pub(crate) best: usize,
    /// By how much the best other shape explains the span better than the asked one as it was learned; than the asked
    /// one with up to two strings softer, dead or ringing; and by how much better than the asked one the other does
    /// that the score alone holds for the likeliest: log-likelihoods. Then how badly the asked shape and the best other
    /// are explained at all, a band.
    pub(crate) described: [f32; LEARNED_FEATURES],
}

/// Compares the spans of one pass with the shapes a player was heard to play.
pub(crate) struct Others<'a> {
    learned: &'a Learned,
    sound: &'a PassSound,
    pass: &'a PassVerdict,
    alone_s: Vec<f64>,
    spectra: Spectra,
    /// Of each shape asked for, once it was: `None` in it when it was not learned.
    ears: Vec<(usize, Option<OthersEar>)>,
}

impl<'a> Others<'a> {
    /// `None` when what was learned means nothing.
    pub(crate) fn new(learned: &'a Learned, sound: &'a PassSound, pass: &'a PassVerdict) -> Option<Self> {
        let of = || Self {
            learned,
            sound,
            pass,
            alone_s: alone_s(pass),
            spectra: Spectra::new(sound.rate, 0.0),
            ears: Vec::new(),
        };
        learned.is_sound().then(of)
    }

    /// Weighs a span of strokes on `asked`, the pass's shape `index`, against `others`; `same` count as asked for, and
    /// `likeliest` is the index of the one the score alone holds for the likeliest other. `None` when the shape was not
    /// learned or no stroke was left alone for long enough.
    pub(crate) fn weigh<'b>(
        &mut self,
        strokes: Range<usize>,
        (index, asked): (usize, &PlannedShape),
        same: impl Iterator<Item = &'b Keys>,
        others: impl Iterator<Item = &'b Keys>,
        likeliest: usize,
    ) -> Option<Weighed> {
        if !self.ears.iter().any(|ear| ear.0 == index) {
            self.ears.push((index, OthersEar::new(self.learned, asked, same, others)));
        }
        let ear = self.ears.iter().find(|ear| ear.0 == index)?.1.as_ref()?;
        let pairs = self.pass.strokes[strokes.clone()].iter().zip(&self.alone_s[strokes]);
        let whole: Vec<Stroke> = pairs.filter_map(whole_stroke).collect();
        ear.weigh(&mut self.spectra, self.sound, &whole, likeliest)
    }
}

/// Power in each band of each window.
type Bands = Vec<Vec<f64>>;

/// One learned shape that is asked for, beside others.
struct OthersEar {
    ear: StringEar,
    /// Shapes that count as the asked one, and the others.
    asked: Vec<Bands>,
    others: Vec<Bands>,
}

impl OthersEar {
    /// `None` when the asked shape was not learned.
    fn new<'a>(
        learned: &Learned,
        asked: &PlannedShape,
        same: impl Iterator<Item = &'a Keys>,
        others: impl Iterator<Item = &'a Keys>,
    ) -> Option<Self> {
        let shape = learned.shape(asked)?;
        let ear = StringEar::new(shape);
        let is_it = |other: &&LearnedShape, keys: &Keys| other.strings == *keys && other.open == shape.open;
        let bands = |keys: &Keys| {
            let known = learned.shapes.iter().find(|other| is_it(other, keys));
            known.and_then(|known| ear.bands_of(known)).unwrap_or_else(|| as_other(shape, ear.known(), keys))
        };
        Some(Self { asked: same.map(bands).collect(), others: others.map(bands).collect(), ear })
    }

    fn weigh(&self, spectra: &mut Spectra, sound: &PassSound, strokes: &[Stroke], likeliest: usize) -> Option<Weighed> {
        let pooled = self.ear.pool(spectra, sound, strokes);
        if pooled.is_empty() {
            return None;
        }
        let fit = |bands: &Bands| self.ear.fit(&pooled, bands, None);
        let asked = self.asked.iter().map(fit).fold(f64::NEG_INFINITY, f64::max);
        let tolerant = asked.max(self.ear.tolerant_fit(&pooled, MOST_DEEDS, &is_no_other_chord));
        let fits: Vec<f64> = self.others.iter().map(fit).collect();
        let (best, other) = fits.iter().copied().enumerate().max_by(|one, other| one.1.total_cmp(&other.1))?;
        let weight = self.ear.weight(&pooled);
        let likeliest = *fits.get(likeliest)?;
        let found = [other - asked, other - tolerant, likeliest - asked, -asked / weight, -other / weight];
        #[expect(clippy::cast_possible_truncation, reason = "log-likelihoods")]
        let described = found.map(|number| number as f32);
        described.iter().all(|number| number.is_finite()).then_some(Weighed { best, described })
    }
}

/// Whether the asked chord is still the asked one with this on one of its strings.
fn is_no_other_chord(deed: Deed) -> bool {
    matches!(deed, Deed::Level | Deed::Fault(StringFault::Dead | StringFault::ShouldBeMuted))
}
