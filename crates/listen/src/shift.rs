//! The one shift in time under which expected strokes and onsets fit best.

use crate::onset::Onset;

/// Fineness of the search, in seconds.
const STEP_S: f64 = 0.004;
/// Width of the bell that forgives a player's spread, as a standard deviation in seconds: between trained and
/// untrained players' tapping (2 to 6 % of a 500 ms beat; common figures, from memory).
const SPREAD_S: f64 = 0.035;
/// Onsets this much weaker than the middle one of the so many strongest that are expected count nothing: they are
/// ripples and room, not strums.
const FULL_RANGE_DB: f32 = 20.0;

/// A shift and how many strokes it explains.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Fit {
    pub(crate) shift_s: f64,
    pub(crate) strokes: f64,
}

/// All shifts tried.
#[derive(Debug)]
pub(crate) struct Fits(Vec<Fit>);

impl Fits {
    /// Tries every shift within `range` under which at least one expected time meets an onset.
    pub(crate) fn new(expected: &[f64], onsets: &[Onset], range: (f64, f64)) -> Self {
        let (Some(first), Some(last)) = (onsets.first(), onsets.last()) else { return Self(Vec::new()) };
        let (Some(begin), Some(end)) = (expected.first(), expected.last()) else { return Self(Vec::new()) };
        let curve = Curve::new(onsets, expected.len(), first.at_s, last.at_s);
        let from = (first.at_s - end).max(range.0);
        let to = (last.at_s - begin).min(range.1);
        let mut fits = Vec::new();
        let mut shift_s = from;
        while shift_s <= to {
            fits.push(Fit { shift_s, strokes: expected.iter().map(|at| curve.at(at + shift_s)).sum() });
            shift_s += STEP_S;
        }
        Self(fits)
    }

    pub(crate) fn best(&self) -> Option<Fit> {
        self.0.iter().copied().max_by(|one, other| one.strokes.total_cmp(&other.strokes))
    }

    /// The best that is not within `apart_s` of `shift_s`.
    pub(crate) fn best_elsewhere(&self, shift_s: f64, apart_s: f64) -> Option<Fit> {
        let elsewhere = self.0.iter().copied().filter(|fit| (fit.shift_s - shift_s).abs() > apart_s);
        elsewhere.max_by(|one, other| one.strokes.total_cmp(&other.strokes))
    }
}

/// Onsets smeared by a bell, the highest at each instant.
struct Curve {
    from_s: f64,
    values: Vec<f32>,
}

impl Curve {
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "grid")]
    fn new(onsets: &[Onset], strokes: usize, first_s: f64, last_s: f64) -> Self {
        let margin_s = 4.0 * SPREAD_S;
        let from_s = first_s - margin_s;
        let mut values = vec![0.0_f32; ((last_s - from_s + margin_s) / STEP_S).ceil() as usize + 1];
        let mut strengths: Vec<f32> = onsets.iter().map(|onset| onset.strength_db).collect();
        strengths.sort_unstable_by(|one, other| other.total_cmp(one));
        let strong_db = strengths[strengths.len().min(strokes) / 2];
        for onset in onsets {
            let weight = (1.0 + (onset.strength_db - strong_db) / FULL_RANGE_DB).clamp(0.0, 1.0);
            let centre = (onset.at_s - from_s) / STEP_S;
            let reach = margin_s / STEP_S;
            let range = (centre - reach).max(0.0) as usize..=((centre + reach) as usize).min(values.len() - 1);
            for index in range {
                let off = (index as f64 - centre) * STEP_S / SPREAD_S;
                values[index] = values[index].max(weight * (-0.5 * off * off).exp() as f32);
            }
        }
        Self { from_s, values }
    }

    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "negative becomes out of range below")]
    fn at(&self, time_s: f64) -> f64 {
        let index = (time_s - self.from_s) / STEP_S + 0.5;
        if index < 0.0 { 0.0 } else { self.values.get(index as usize).copied().map_or(0.0, f64::from) }
    }
}
