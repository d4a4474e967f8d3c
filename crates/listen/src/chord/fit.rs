//! How well a shape explains what was heard.

use super::spectrum::{ROWS, Rows};
use super::strings::Strings;

/// Rounds of the fit; more change the score by less than 0.1.
const ROUNDS: usize = 30;
/// What is this far below the strongest row is not looked at, in decibels.
const FLOOR_DB: f32 = -32.0;
/// How far a partial's level strays from the model, in decibels: plucking points, bodies and beats between strings.
const STRAY_DB: f32 = 6.0;
/// A row's misfit counts at most this much, in deviations: one voice or one squeak is not the whole chord.
const MOST_MISFIT: f32 = 3.5;
/// A string this far below the shape's median does not sound, in decibels, and costs this much.
const DEAD_DB: f32 = -16.0;
const DEAD_COST: f32 = 4.0;
/// A string that should be mute and rings open costs this much.
const RINGING_COST: f32 = 3.0;

/// A shape's strings: what each sounds, and what those that are mute would sound open.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Voicing {
    pub sounding: Vec<u8>,
    pub mute: Vec<u8>,
}

/// What was heard of a span: powers of the semitones, the strongest 1.
pub(super) struct Heard {
    rows: Rows,
    decibels: Rows,
}

impl Heard {
    /// `None` when there was nothing.
    pub(super) fn new(mut rows: Rows) -> Option<Self> {
        let most = rows.iter().copied().fold(0.0, f32::max);
        if most <= 0.0 {
            return None;
        }
        let floor = floor();
        rows.iter_mut().for_each(|row| *row = *row / most + floor);
        Some(Self { decibels: rows.map(|row| 10.0 * row.log10()), rows })
    }
}

impl Heard {
    /// The rows in decibels below the strongest.
    pub(super) fn decibels(&self) -> &Rows {
        &self.decibels
    }
}

fn floor() -> f32 {
    10.0_f32.powf(FLOOR_DB / 10.0)
}

/// A fit.
pub(super) struct Fit {
    /// Higher is better: the logarithm of a likelihood, nearly.
    pub score: f32,
    /// Power of each row as the shape explains it.
    pub explained: Rows,
    /// How loud each string that should sound was, as a power.
    pub sounding: Vec<f32>,
}

/// Finds how loud each string was that would explain best what was heard, by multiplicative updates that lower the
/// Itakura–Saito distance (Févotte, Bertin & Durrieu 2009), and scores that in
/// decibels.
pub(super) fn fit(heard: &Heard, voicing: &Voicing, strings: &Strings, all_strings: bool) -> Fit {
    let keys = voicing.sounding.iter().chain(&voicing.mute);
    let spectra: Vec<&Rows> = keys.filter_map(|key| strings.at(*key)).collect();
    let sounding = voicing.sounding.len();
    let mut levels = vec![0.2_f32; spectra.len()];
    levels.iter_mut().skip(sounding).for_each(|level| *level = 0.01);
    let mut explained = sum(&spectra, &levels);
    for _ in 0..ROUNDS {
        for (spectrum, level) in spectra.iter().zip(&mut levels) {
            let (mut more, mut less) = (0.0_f32, 1e-9_f32);
            for row in 0..ROWS {
                let share = spectrum[row] / explained[row];
                more += share * heard.rows[row] / explained[row];
                less += share;
            }
            *level = (*level * (more / less).sqrt()).max(1e-7);
        }
        explained = sum(&spectra, &levels);
    }
    let misfit: f32 = (0..ROWS)
        .map(|row| ((heard.decibels[row] - 10.0 * explained[row].log10()) / STRAY_DB).clamp(-MOST_MISFIT, MOST_MISFIT))
        .map(|misfit| misfit * misfit / 2.0)
        .sum();
    let score = -misfit - cost(&levels, sounding, all_strings);
    levels.truncate(sounding);
    Fit { score, explained, sounding: levels }
}

fn sum(spectra: &[&Rows], levels: &[f32]) -> Rows {
    let mut rows = [floor(); ROWS];
    for (spectrum, level) in spectra.iter().zip(levels) {
        for (row, power) in rows.iter_mut().zip(*spectrum) {
            *row += level * power;
        }
    }
    rows
}

/// What is unlikely about these levels.
fn cost(levels: &[f32], sounding: usize, all_strings: bool) -> f32 {
    let mut sorted: Vec<f32> = levels[..sounding].to_vec();
    sorted.sort_by(f32::total_cmp);
    let usual = sorted.get(sorted.len() / 2).copied().unwrap_or(1.0);
    let below_db = |level: &f32| 10.0 * (level / usual).log10();
    let needed = if all_strings { 0 } else { sounding.saturating_sub(3) };
    let dead = levels[needed..sounding].iter().map(|level| (below_db(level) / DEAD_DB).clamp(0.0, 1.0).powi(2));
    let ringing = levels[sounding..].iter().map(|level| 1.0 - (below_db(level) / DEAD_DB).clamp(0.0, 1.0));
    DEAD_COST * dead.sum::<f32>() + RINGING_COST * ringing.sum::<f32>()
}
