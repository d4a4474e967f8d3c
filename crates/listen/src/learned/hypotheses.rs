//! What a shape would sound like with each thing that can go wrong on one string.

use sixrung_lesson::Pitch;

use super::form::{LearnedShape, LearnedWindow};
use super::grid::{POINTS, WINDOWS};
use super::partials::{Partials, share_out};
use super::segments::decibels;
use crate::verdict::StringFault;

/// A dead string keeps this share of its power: its first moment, and what other strings make it ring.
const DEAD_KEEPS: f64 = 0.03;
/// A string may be struck so much softer or harder than when it was learned, as a power ratio (−6 and +4 dB), without
/// anything being wrong. A design choice of ours: strokes of one player vary by that from string to string.
const SOFTER: f64 = 0.25;
const HARDER: f64 = 2.5;
/// A string that should be mute rings as loud as the others, or with this share of their power (−8 dB): often it is
/// only brushed. A design choice of ours.
const STRAY_RING: [f64; 2] = [1.0, 0.15];
/// How far a finger strays, in semitones.
const STRAYS: [i8; 4] = [-2, -1, 1, 2];
/// Assumed beneath all bands, relative to the stroke's whole: −54 dB. What lies lower is never the matter.
pub(super) const FLOOR: f64 = 4e-6;

/// Something a string does.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Deed {
    /// Nothing wrong: softer or louder than usual.
    Level,
    /// A fault.
    Fault(StringFault),
}

/// One string, what it does, and what that adds to the shape's power in each band of each window (or takes from it).
#[derive(Clone, Debug)]
pub(super) struct Hypothesis {
    /// Index, the heaviest first.
    pub(super) string: usize,
    pub(super) deed: Deed,
    /// One entry a learned window.
    pub(super) changes: Vec<Vec<f64>>,
}

/// A window as it was learned, ready to compare with.
#[derive(Clone, Debug)]
pub(super) struct Known {
    /// Index in [`WINDOWS`].
    pub(super) window: usize,
    /// Power in each band, of 1 on the whole.
    pub(super) mean: Vec<f64>,
    /// Variance of a band's level, in square decibels.
    pub(super) variance: Vec<f64>,
    /// What each band weighs.
    pub(super) weights: Vec<f64>,
}

/// All windows of a shape and all hypotheses.
pub(super) fn of(shape: &LearnedShape) -> (Vec<Known>, Vec<Hypothesis>) {
    let known: Vec<Known> = shape.windows.iter().filter_map(Known::new).collect();
    let pitches: Vec<_> = shape.strings.iter().map(|key| key.map(Pitch)).collect();
    let shared: Vec<_> = known.iter().map(|known| share_out(&known.mean, &pitches, known.window)).collect();
    let mut all = Vec::new();
    for (string, pitch) in pitches.iter().enumerate() {
        let open = Pitch(shape.open[string]);
        let mut add = |deed, change: &dyn Fn(usize) -> Vec<f64>| {
            all.push(Hypothesis { string, deed, changes: (0..known.len()).map(change).collect() });
        };
        let Some(pitch) = *pitch else {
            for share in STRAY_RING {
                add(Deed::Fault(StringFault::ShouldBeMuted), &|index| {
                    let power = share * usual_power(&shared[index].0);
                    Partials::of(open, known[index].window).scaled_to(power).bands()
                });
            }
            continue;
        };
        // What the string has of each band, and another sound in its place.
        let own = |index: usize| own_power(&known[index], &shared[index], string);
        let times = |factor: f64| move |power: f64| factor * power;
        for factor in [SOFTER - 1.0, HARDER - 1.0] {
            add(Deed::Level, &|index| own(index).into_iter().map(times(factor)).collect());
        }
        let silent = times(DEAD_KEEPS - 1.0);
        add(Deed::Fault(StringFault::Dead), &|index| own(index).into_iter().map(silent).collect());
        for stray in STRAYS {
            let Some(other) = pitch.0.checked_add_signed(stray).filter(|other| *other >= open.0) else { continue };
            add(Deed::Fault(StringFault::WrongFret), &|index| {
                let mut bands: Vec<f64> = own(index).into_iter().map(silent).collect();
                if let Some(partials) = &shared[index].0[string] {
                    partials.at(Pitch(other), known[index].window).add_to(&mut bands);
                }
                bands
            });
        }
    }
    (known, all)
}

/// Power in each band of each window of the shape with other pitches on its strings: one that stays keeps its own, one
/// that moves is as loud as it was, a new one as loud as the others usually are.
pub(super) fn as_other(shape: &LearnedShape, known: &[Known], strings: &[Option<u8>]) -> Vec<Vec<f64>> {
    let pitches: Vec<_> = shape.strings.iter().map(|key| key.map(Pitch)).collect();
    let of_window = |known: &Known| {
        let shared = share_out(&known.mean, &pitches, known.window);
        let mut bands = known.mean.clone();
        for (string, (old, new)) in pitches.iter().zip(strings.iter().map(|key| key.map(Pitch))).enumerate() {
            if *old == new {
                continue;
            }
            if old.is_some() {
                let own = own_power(known, &shared, string);
                bands.iter_mut().zip(own).for_each(|(band, own)| *band -= (1.0 - DEAD_KEEPS) * own);
            }
            let Some(new) = new else { continue };
            match &shared.0[string] {
                Some(partials) => partials.at(new, known.window).add_to(&mut bands),
                None => {
                    Partials::of(new, known.window).scaled_to(usual_power(&shared.0)).add_to(&mut bands);
                }
            }
        }
        bands
    };
    known.iter().map(of_window).collect()
}

/// The middle of the strings' powers.
fn usual_power(strings: &[Option<Partials>]) -> f64 {
    let mut powers: Vec<f64> = strings.iter().flatten().map(Partials::power).collect();
    powers.sort_unstable_by(f64::total_cmp);
    powers.get(powers.len() / 2).copied().unwrap_or(0.0)
}

/// What one string has of the power heard, band by band.
fn own_power(known: &Known, shared: &(Vec<Option<Partials>>, f64), string: usize) -> Vec<f64> {
    let mut whole = vec![shared.1; POINTS];
    shared.0.iter().flatten().for_each(|partials| partials.add_to(&mut whole));
    let own = shared.0[string].as_ref().map_or_else(|| vec![0.0; POINTS], Partials::bands);
    own.iter().zip(whole).zip(&known.mean).map(|((own, whole), heard)| heard * own / whole).collect()
}

impl Known {
    fn new(learned: &LearnedWindow) -> Option<Self> {
        let window = WINDOWS.iter().position(|window| window.is(learned))?;
        Some(Self {
            window,
            mean: learned.mean_db.iter().map(|level| 10.0_f64.powf(level / 10.0)).collect(),
            variance: learned.spread_db.iter().map(|spread| spread * spread).collect(),
            weights: (0..POINTS).map(|point| WINDOWS[window].weight(point)).collect(),
        })
    }

    /// How well a stroke's levels fit what is expected, as a log-likelihood: each band's error is normal with heavy
    /// tails (Student's t with four degrees of freedom), after the best loudness and tilt of the whole stroke.
    pub(super) fn fit(&self, heard_db: &[f64], expected: &[f64]) -> f64 {
        let errors: Vec<f64> =
            heard_db.iter().zip(expected).map(|(heard, power)| heard - decibels(power.max(0.0) + FLOOR)).collect();
        let mut trust = vec![1.0; POINTS];
        let mut likelihood = 0.0;
        for _ in 0..ROUNDS {
            let (level, tilt) = self.level_and_tilt(&errors, &trust);
            likelihood = 0.0;
            for (point, error) in errors.iter().enumerate() {
                let rest = error - level - tilt * octaves(point);
                let squares = rest * rest / self.variance[point] / TAILS;
                trust[point] = 1.0 / (1.0 + squares);
                likelihood -= 0.5 * TAILS * self.weights[point] * squares.ln_1p();
            }
        }
        likelihood
    }

    /// The straight line over octaves that the errors lie around: least squares, the tilt held near 0.
    fn level_and_tilt(&self, errors: &[f64], trust: &[f64]) -> (f64, f64) {
        let (mut n, mut x, mut xx, mut y, mut xy) = (0.0, 0.0, 1.0 / (LARGEST_TILT_DB * LARGEST_TILT_DB), 0.0, 0.0);
        for (point, error) in errors.iter().enumerate() {
            let weight = self.weights[point] * trust[point] / self.variance[point];
            let at = octaves(point);
            n += weight;
            x += weight * at;
            xx += weight * at * at;
            y += weight * error;
            xy += weight * at * error;
        }
        let determinant = n * xx - x * x;
        ((y * xx - x * xy) / determinant, (n * xy - x * y) / determinant)
    }
}

/// Degrees of freedom of the errors' heavy tails, and rounds of reweighting. Usual choices (Lange, Little & Taylor,
/// JASA 1989).
const TAILS: f64 = 4.0;
const ROUNDS: usize = 3;
/// A harder stroke is brighter: standard deviation of the tilt in decibels an octave. A design choice of ours.
const LARGEST_TILT_DB: f64 = 0.5;

/// Octaves from the middle of the bands.
#[expect(clippy::cast_precision_loss, reason = "a few hundred")]
fn octaves(point: usize) -> f64 {
    (point as f64 - POINTS as f64 / 2.0) * 25.0 / 1200.0
}
