//! Strokes whose shape and direction are known, to what is kept of them.

use std::fmt;

use sixrung_lesson::Direction;

use super::attack::FEATURES;
use super::discriminant::{Line, mean};
use super::form::{LEARNED_VERSION, Learned, LearnedDirection, LearnedShape, LearnedWindow};
use super::grid::{POINTS, WINDOWS};
use super::hypotheses::FLOOR;
use super::segments::{decibels, rounded};
use crate::plan::PlannedShape;

/// A window is learned from at least so many strokes.
const FEWEST_STROKES: usize = 3;
/// A band's spread is believed as if this many strokes more had been heard with the usual spread. Usual: between close
/// and across a room in made takes (seeds 7001 and 7002).
const USUAL_STROKES: f64 = 5.0;
const USUAL_SPREAD_DB: f64 = 2.0;
/// A shape's own attack counts as much as the mean of all shapes after so many up-strokes.
const USUAL_UP_STROKES: f64 = 3.0;
/// Strokes that lie further around their own class than this (their classes are 2 apart) can't be told apart.
const WIDEST_SPREAD: f64 = 0.7;

/// Why nothing was learned: never the player's fault, always to be played again.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LearnError {
    /// Fewer strokes were heard than asked for.
    TooFew {
        /// Heard.
        heard: u32,
        /// Asked for.
        asked: u32,
    },
    /// More strokes were heard than asked for.
    TooMany {
        /// Heard.
        heard: u32,
        /// Asked for.
        asked: u32,
    },
    /// The strokes of a shape, by its name, differ too much: one was another chord, or one stroke was counted twice.
    NotAlike {
        /// The shape's chord.
        shape: String,
    },
    /// Strokes of a shape, by its name, follow each other so fast that strings can't be told.
    TooFast {
        /// The shape's chord.
        shape: String,
    },
}

impl fmt::Display for LearnError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::TooFew { heard, asked } => write!(f, "{heard} strokes were heard where {asked} were asked for"),
            Self::TooMany { heard, asked } => {
                write!(f, "more strokes were heard ({heard}) than the {asked} asked for")
            }
            Self::NotAlike { shape } => write!(f, "the strokes of `{shape}` do not sound alike"),
            Self::TooFast { shape } => write!(f, "the strokes of `{shape}` follow each other too fast"),
        }
    }
}

impl std::error::Error for LearnError {}

/// One stroke heard while learning.
#[derive(Clone, Debug)]
pub(super) struct Example {
    pub(super) shape: usize,
    pub(super) direction: Direction,
    /// Power in each band of each window it was left alone for.
    pub(super) spectra: [Option<Vec<f64>>; WINDOWS.len()],
    pub(super) attack: Option<Vec<f64>>,
}

/// All examples to what is kept; shapes without any are left out.
pub(super) fn learn(shapes: &[PlannedShape], examples: &[Example]) -> Result<Learned, LearnError> {
    let attacks = Attacked::new(examples, shapes.len());
    let shape = |(index, shape): (usize, &PlannedShape)| {
        let windows: Vec<_> = (0..WINDOWS.len()).filter_map(|window| learn_window(index, window, examples)).collect();
        if windows.is_empty() {
            return Err(LearnError::TooFast { shape: shape.name.clone() });
        }
        Ok(LearnedShape {
            name: shape.name.clone(),
            strings: shape.strings.iter().map(|pitch| pitch.map(|pitch| pitch.0)).collect(),
            open: shape.open.iter().map(|pitch| pitch.0).collect(),
            windows,
            attack_db: attacks.as_ref().map_or_else(Vec::new, |attacks| attacks.shapes[index].clone()),
        })
    };
    let direction = attacks.as_ref().and_then(|attacks| attacks.direction(examples));
    let heard = |(index, _): &(usize, &PlannedShape)| examples.iter().any(|example| example.shape == *index);
    let shapes = shapes.iter().enumerate().filter(heard).map(shape).collect::<Result<_, _>>()?;
    Ok(Learned { version: LEARNED_VERSION, shapes, direction })
}

#[expect(clippy::cast_precision_loss, reason = "dozens")]
fn learn_window(shape: usize, window: usize, examples: &[Example]) -> Option<LearnedWindow> {
    let own = examples.iter().filter(|example| example.shape == shape && example.direction == Direction::Down);
    let spectra: Vec<&[f64]> = own.filter_map(|example| example.spectra[window].as_deref()).collect();
    if spectra.len() < FEWEST_STROKES {
        return None;
    }
    let count = spectra.len() as f64;
    let power = mean(&spectra);
    let spread = |point: usize| {
        let levels: Vec<f64> = spectra.iter().map(|spectrum| decibels(spectrum[point] + FLOOR)).collect();
        let middle = levels.iter().sum::<f64>() / count;
        let squares: f64 = levels.iter().map(|level| (level - middle).powi(2)).sum();
        let usual = USUAL_STROKES * USUAL_SPREAD_DB * USUAL_SPREAD_DB;
        rounded(((usual + squares) / (USUAL_STROKES + count - 1.0)).sqrt())
    };
    let (from_ms, length_ms) = WINDOWS[window].milliseconds();
    Some(LearnedWindow {
        from_ms,
        length_ms,
        strokes: u32::try_from(spectra.len()).unwrap_or(u32::MAX),
        mean_db: power.iter().map(|power| rounded(decibels(power.max(1e-9)))).collect(),
        spread_db: (0..POINTS).map(spread).collect(),
    })
}

/// Attacks of all shapes, each half-way between down and up.
struct Attacked {
    whole: Vec<f64>,
    shapes: Vec<Vec<f64>>,
}

impl Attacked {
    /// `None` when one direction was never heard.
    fn new(examples: &[Example], shapes: usize) -> Option<Self> {
        let whole = half_way(examples, |_| true)?.0;
        let of_shape = |shape| match half_way(examples, |example| example.shape == shape) {
            Some((own, ups)) => {
                let blend =
                    |(own, whole): (&f64, &f64)| (ups * own + USUAL_UP_STROKES * whole) / (ups + USUAL_UP_STROKES);
                own.iter().zip(&whole).map(blend).map(rounded).collect()
            }
            None => whole.clone(),
        };
        let shapes = (0..shapes).map(of_shape).collect();
        Some(Self { whole: whole.into_iter().map(rounded).collect(), shapes })
    }

    fn direction(&self, examples: &[Example]) -> Option<LearnedDirection> {
        let rows: Vec<(bool, Vec<f64>)> = examples
            .iter()
            .filter_map(|example| {
                let attack = example.attack.as_ref()?;
                let centre = &self.shapes[example.shape];
                let row = attack.iter().zip(centre).map(|(level, centre)| level - centre).collect();
                Some((example.direction == Direction::Up, row))
            })
            .collect();
        let line_without = |left_out: Option<usize>| {
            let class = |up: bool| -> Vec<&[f64]> {
                let kept = rows.iter().enumerate().filter(|(index, row)| Some(*index) != left_out && row.0 == up);
                kept.map(|(_, row)| row.1.as_slice()).collect()
            };
            Line::between(&class(false), &class(true))
        };
        let line = line_without(None)?;
        let mut squares = 0.0;
        for (index, (up, row)) in rows.iter().enumerate() {
            let side = line_without(Some(index))?.side(row);
            squares += (side - if *up { 1.0 } else { -1.0 }).powi(2);
        }
        #[expect(clippy::cast_precision_loss, reason = "dozens")]
        let spread = (squares / rows.len() as f64).sqrt();
        let weights = line.weights.iter().map(|weight| (weight * 1e6).round() / 1e6).collect();
        (spread <= WIDEST_SPREAD).then(|| LearnedDirection {
            attack_db: self.whole.clone(),
            weights,
            bias: (line.bias * 1e6).round() / 1e6,
            spread: rounded(spread),
        })
    }
}

/// Half-way between the mean down and the mean up attack, and the count of up-strokes.
#[expect(clippy::cast_precision_loss, reason = "dozens")]
fn half_way(examples: &[Example], which: impl Fn(&Example) -> bool) -> Option<(Vec<f64>, f64)> {
    let of = |direction| -> Vec<&[f64]> {
        let own = examples.iter().filter(|example| which(example) && example.direction == direction);
        own.filter_map(|example| example.attack.as_deref()).collect()
    };
    let (downs, ups) = (of(Direction::Down), of(Direction::Up));
    if downs.is_empty() || ups.is_empty() {
        return None;
    }
    let (down, up) = (mean(&downs), mean(&ups));
    Some(((0..FEATURES).map(|index| f64::midpoint(down[index], up[index])).collect(), ups.len() as f64))
}
