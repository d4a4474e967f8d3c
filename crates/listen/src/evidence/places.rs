//! The places of a pass described as the ear describes them, for growing its trees.

use sixrung_lesson::Criterion;

use super::choose::{Found, Likely};
use super::extras::{EXTRA_FEATURES, extra_features};
use super::features::strum_features;
use super::slots::{SLOT_FEATURES, slot_features};
use crate::onset::Onset;
use crate::plan::PassPlan;
use crate::sound::PassSound;
use crate::window::{bias_limit_s, window_s};

/// What was found of a pass before anything is decided.
pub struct Places<'a>(Found<'a>);

impl std::fmt::Debug for Places<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Places").finish_non_exhaustive()
    }
}

impl<'a> Places<'a> {
    /// The onsets of a pass and its sound. `odds` are the log-odds of each onset that it is a stroke, and that it is a
    /// stroke's first string, by trees that never saw it; the ear's own trees tell them when `None`.
    #[must_use]
    pub fn new(onsets: &'a [Onset], sound: &PassSound, plan: &'a PassPlan, odds: Option<&[[f32; 2]]>) -> Self {
        let described = strum_features(onsets, sound, plan);
        let likely = match odds {
            None => Likely::by_trees(described),
            Some(odds) => Likely {
                odds: odds.iter().map(|odds| odds[0]).collect(),
                first_odds: odds.iter().map(|odds| odds[1]).collect(),
                described,
            },
        };
        assert_eq!(likely.odds.len(), onsets.len(), "odds of each onset");
        Self(Found::new(onsets, likely, plan).0)
    }

    /// What lies in the place of each expected stroke.
    #[must_use]
    pub fn strokes(&self, criterion: &Criterion) -> Vec<[f32; SLOT_FEATURES]> {
        let strokes = &self.0.plan.strokes;
        let windows_s: Vec<f64> = strokes.iter().map(|stroke| window_s(criterion.level, stroke.slot_s)).collect();
        slot_features(&self.0, &windows_s, bias_limit_s(criterion.level))
    }

    /// What may be a stroke nobody asked for, with when it began, in seconds; `is_played` says which of the expected
    /// ones were played.
    #[must_use]
    pub fn extras(&self, is_played: &[bool]) -> Vec<(f64, [f32; EXTRA_FEATURES])> {
        let extras = extra_features(&self.0, is_played);
        extras.into_iter().map(|(first, described)| (self.0.onsets[first].at_s, described)).collect()
    }
}
