//! Sudden rises of the prediction error: where something was struck.

use std::collections::VecDeque;

/// Ticks of about one millisecond averaged after and before a rise. Tuned on 144 takes made with fluidsynth.
const AFTER: usize = 4;
const BEFORE: usize = 12;
/// Ticks that give a rise its strength.
const STRENGTH: usize = 24;
/// A rise is the highest among its neighbours within so many ticks.
const NEIGHBOURS: usize = 4;
/// Ticks remembered: what the widest of the above needs on both sides.
const KEPT: usize = STRENGTH + NEIGHBOURS + 1 + NEIGHBOURS + STRENGTH;
const CENTRE: usize = STRENGTH + NEIGHBOURS;
/// Smallest rise worth a look, in decibels. The score decides later which are strokes.
const SMALLEST_RISE_DB: f32 = 2.5;
/// Below this nothing sounds: −120 dB re full scale.
const SILENCE: f32 = 1e-12;

/// A sudden rise: a string, several, or some noise.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Onset {
    /// When, in seconds on the take's clock.
    pub at_s: f64,
    /// How far the unexplained sound rose, in decibels.
    pub rise_db: f32,
    /// How much of that rise lasts, in decibels: over the next 24 ms against the 24 ms before.
    pub gain_db: f32,
    /// Its power over the next 24 ms, in decibels re full scale.
    pub strength_db: f32,
}

/// Finds rises in a stream of tick energies.
#[derive(Debug)]
pub(crate) struct Picker {
    ticks: VecDeque<f32>,
    rises: VecDeque<f32>,
}

impl Picker {
    pub(crate) fn new() -> Self {
        let mut ticks = VecDeque::with_capacity(KEPT + 1);
        ticks.resize(KEPT, 0.0);
        let mut rises = VecDeque::with_capacity(2 * NEIGHBOURS + 2);
        rises.resize(2 * NEIGHBOURS + 1, 0.0);
        Self { ticks, rises }
    }

    /// Forgets all it heard.
    pub(crate) fn reset(&mut self) {
        self.ticks.iter_mut().for_each(|tick| *tick = 0.0);
        self.rises.iter_mut().for_each(|rise| *rise = 0.0);
    }

    /// So many ticks ago lies the tick a rise is reported at.
    pub(crate) const LAG: usize = KEPT - 1 - CENTRE;

    /// Takes the mean square of one tick; gives the rise `LAG` ticks ago, if there is one: (rise, strength) in dB.
    pub(crate) fn push(&mut self, energy: f32) -> Option<(f32, f32, f32)> {
        self.ticks.pop_front();
        self.ticks.push_back(energy + SILENCE);
        // The newest rise that can be told lies NEIGHBOURS after the centre.
        self.rises.pop_front();
        self.rises.push_back(self.rise_at(CENTRE + NEIGHBOURS));
        let rise = self.rises[NEIGHBOURS];
        let highest = self.rises.iter().take(NEIGHBOURS).all(|other| *other < rise)
            && self.rises.iter().skip(NEIGHBOURS + 1).all(|other| *other <= rise);
        (highest && rise >= SMALLEST_RISE_DB).then(|| {
            let strength = decibels(self.mean(CENTRE, STRENGTH));
            (rise, strength - decibels(self.mean(CENTRE - STRENGTH, STRENGTH)), strength)
        })
    }

    fn rise_at(&self, tick: usize) -> f32 {
        decibels(self.mean(tick, AFTER)) - decibels(self.mean(tick - BEFORE, BEFORE))
    }

    #[expect(clippy::cast_precision_loss, reason = "a few dozen")]
    fn mean(&self, from: usize, count: usize) -> f32 {
        self.ticks.iter().skip(from).take(count).sum::<f32>() / count as f32
    }
}

pub(crate) fn decibels(power: f32) -> f32 {
    10.0 * power.max(SILENCE).log10()
}
