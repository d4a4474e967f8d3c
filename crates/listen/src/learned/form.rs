//! What was learned, as it is kept: versioned, readable, a few ten thousand characters.

use serde::{Deserialize, Serialize};
use sixrung_lesson::Pitch;

use super::grid::POINTS;
use super::{attack, grid};
use crate::plan::PlannedShape;

/// The form this version writes and reads. Numbers mean nothing under another.
pub const LEARNED_VERSION: u32 = 1;

/// How one player's shapes and strokes sound on one guitar.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Learned {
    /// [`LEARNED_VERSION`].
    pub version: u32,
    /// The shapes heard.
    pub shapes: Vec<LearnedShape>,
    /// What tells down from up; `None` when the learned strokes could not be told apart themselves.
    pub direction: Option<LearnedDirection>,
}

/// One shape, clean.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearnedShape {
    /// Its chord's name as the lesson writes it.
    pub name: String,
    /// MIDI key of each string, the heaviest first; `None` is a string that stays mute.
    pub strings: Vec<Option<u8>>,
    /// MIDI key of each open string, capo included, the heaviest first.
    pub open: Vec<u8>,
    /// Its spectra, the shortest stretch after the stroke first.
    pub windows: Vec<LearnedWindow>,
    /// The attack half-way between its down- and up-strokes, in decibels; empty when no up-strokes were heard.
    pub attack_db: Vec<f64>,
}

/// A stretch of sound after a stroke, as it was over the strokes heard.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearnedWindow {
    /// From the stroke's first string to its begin, in milliseconds.
    pub from_ms: u32,
    /// Its length in milliseconds.
    pub length_ms: u32,
    /// How many strokes it was learned from.
    pub strokes: u32,
    /// Mean power in bands a quarter of a semitone apart, in decibels relative to the stroke's whole.
    pub mean_db: Vec<f64>,
    /// Standard deviation of each band's level, in decibels.
    pub spread_db: Vec<f64>,
}

/// A line between down and up: a stroke's attack, less its shape's, times the weights, plus the bias, is above 0 for
/// an up-stroke.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LearnedDirection {
    /// The attack half-way between down and up over all shapes, in decibels.
    pub attack_db: Vec<f64>,
    /// One weight a feature, per decibel, scaled so that down- and up-strokes lie at −1 and 1 on the average.
    pub weights: Vec<f64>,
    /// What is added.
    pub bias: f64,
    /// Standard deviation of a stroke around its own class, on the same scale, each learned stroke left out in turn.
    pub spread: f64,
}

impl Learned {
    /// Whether it is of this version and its parts have the sizes they must.
    #[must_use]
    pub fn is_sound(&self) -> bool {
        let finite = |values: &[f64]| values.iter().all(|value| value.is_finite());
        let window = |window: &LearnedWindow| {
            grid::WINDOWS.iter().any(|known| known.is(window))
                && window.mean_db.len() == POINTS
                && window.spread_db.len() == POINTS
                && finite(&window.mean_db)
                && finite(&window.spread_db)
        };
        let shape = |shape: &LearnedShape| {
            shape.strings.len() == shape.open.len()
                && shape.windows.iter().all(window)
                && (shape.attack_db.is_empty() || shape.attack_db.len() == attack::FEATURES)
                && finite(&shape.attack_db)
        };
        let direction = |direction: &LearnedDirection| {
            direction.attack_db.len() == attack::FEATURES
                && direction.weights.len() == attack::FEATURES
                && finite(&direction.attack_db)
                && finite(&direction.weights)
                && finite(&[direction.bias, direction.spread])
        };
        self.version == LEARNED_VERSION
            && self.shapes.iter().all(shape)
            && self.direction.as_ref().is_none_or(direction)
    }

    /// What was learned of a shape: it must sound the same pitches on the same strings, whatever it is called.
    #[must_use]
    pub fn shape(&self, shape: &PlannedShape) -> Option<&LearnedShape> {
        self.shapes.iter().find(|learned| learned.sounds(shape))
    }
}

impl LearnedShape {
    fn sounds(&self, shape: &PlannedShape) -> bool {
        let key = |pitch: &Option<Pitch>| pitch.map(|pitch| pitch.0);
        self.strings.iter().copied().eq(shape.strings.iter().map(key))
            && self.open.iter().copied().eq(shape.open.iter().map(|pitch| pitch.0))
    }
}
