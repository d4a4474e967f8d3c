//! From a coarse period to a fine pitch: each longer window starts from what the shorter one found.

use super::octave;
use super::partials::Pair;
use super::period::PeriodFinder;
use super::stiff::{PARTIALS, Partial, StiffString};
use super::strings::cents;

/// Windows in seconds. The first is as short as the lowest bass string allows (six rounds of B1); each later one asks
/// less than half a turn's knowledge of the one before; the last is what a steady hand at the peg still feels as now.
const WINDOWS_S: [f64; 5] = [0.1, 0.16, 0.25, 0.4, 0.64];
/// How like itself a string must sound a round later. McLeod & Wyvill's clarity of a string at 3 dB over noise.
const CLEAR: f32 = 0.6;
/// Partials the first fit looks at: stiffness has not moved these far from where the period puts them.
const FIRST_PARTIALS: usize = 4;
/// A partial this far over its neighbourhood is one, in power.
const OVER_NOISE: f64 = 4.0;
/// How far a real string's partials lie from the law of the stiff string, in cents: the bridge pulls at them.
const LAW_CENTS: f64 = 0.3;
/// Longer windows are left out when the pitch moves: when they differ by so many standard deviations, and this much.
const MOVED_DEVIATIONS: f64 = 3.0;
const MOVED_CENTS: f64 = 1.0;
/// A strong partial 2 or 3 is what the period measure may take for the string.
const BELOW: [u32; 2] = [2, 3];
/// The window octaves are told by.
const TELLS_OCTAVES: usize = 2;
/// Partials lie below this share of the sample rate: the decimator's pass band.
const HIGHEST_SHARE: f64 = 0.42;

/// What a climb found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Found {
    pub(super) string: StiffString,
    /// The window it comes from, counted from the shortest.
    pub(super) rung: usize,
}

/// The windows and their finder.
#[derive(Debug)]
pub(super) struct Ladder {
    rate: f64,
    finder: PeriodFinder,
    windows: [Pair; WINDOWS_S.len()],
}

impl Ladder {
    /// For sound of `rate` samples a second with strings down to `lowest_hz`.
    pub(super) fn new(rate: f64, lowest_hz: f64) -> Self {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "thousands")]
        let windows = WINDOWS_S.map(|seconds| Pair::new((seconds * rate) as usize));
        Self { rate, finder: PeriodFinder::new(rate, lowest_hz), windows }
    }

    /// Samples in the longest window.
    pub(super) fn longest(&self) -> usize {
        self.windows[WINDOWS_S.len() - 1].length
    }

    /// Samples in the shortest window.
    pub(super) fn shortest(&self) -> usize {
        self.windows[0].length
    }

    /// The string that sounds at the end of `sound`, all of which it has sounded; `None` when no pitch is clear.
    /// `expects` says of a frequency whether it is what one would rather hear than its overtones.
    pub(super) fn climb(&mut self, sound: &[f32], expects: impl Fn(f64) -> bool) -> Option<Found> {
        let shortest = self.shortest();
        if sound.len() < shortest {
            return None;
        }
        let period = self.finder.find(&sound[sound.len() - shortest..]).filter(|period| period.clarity >= CLEAR)?;
        let mut guess = StiffString::guess(period.hertz);
        if !expects(period.hertz)
            && let Some(below) = BELOW.into_iter().find(|below| expects(period.hertz / f64::from(*below)))
        {
            // A longer window tells partials of the lower pitch apart, once there is one.
            let rung = usize::from(sound.len() >= self.windows[TELLS_OCTAVES].length) * TELLS_OCTAVES;
            self.windows[rung].take(sound);
            if octave::sounds_below(&self.windows[rung], self.rate, &guess, below) {
                guess = StiffString::guess(period.hertz / f64::from(below));
            }
        }
        let first = measure(&mut self.windows[0], sound, self.rate, &guess, FIRST_PARTIALS)?;
        let string = measure(&mut self.windows[0], sound, self.rate, &first, PARTIALS)?;
        let mut best = Found { string, rung: 0 };
        for (rung, window) in self.windows.iter_mut().enumerate().skip(1) {
            if sound.len() < window.length {
                break;
            }
            let Some(string) = measure(window, sound, self.rate, &best.string, PARTIALS) else { break };
            let apart = cents(string.partial_hz(1.0), best.string.partial_hz(1.0)).abs();
            let doubt = string.deviation_cents.hypot(best.string.deviation_cents);
            if apart > (MOVED_DEVIATIONS * doubt).max(MOVED_CENTS) {
                break;
            }
            best = Found { string, rung };
        }
        Some(best)
    }
}

/// The string that explains the partials near where `near` has them.
fn measure(window: &mut Pair, sound: &[f32], rate: f64, near: &StiffString, count: usize) -> Option<StiffString> {
    window.take(sound);
    let between = |half: f64| window.turn(near.partial_hz(half), rate).power;
    let mut partials = [Partial { number: 0, hertz: 0.0, deviation: 0.0 }; PARTIALS];
    let mut found = 0;
    let mut below = between(0.5);
    for number in (1_u32..).take(count) {
        let place = f64::from(number);
        let expected = near.partial_hz(place);
        if expected > HIGHEST_SHARE * rate {
            break;
        }
        let turn = window.turn(expected, rate);
        let above = between(place + 0.5);
        let ratio = turn.power / (0.5 * (below + above)).max(f64::MIN_POSITIVE);
        below = above;
        if ratio < OVER_NOISE {
            continue;
        }
        let noise = window.deviation_hz(ratio, rate) / turn.hertz;
        let law = LAW_CENTS / 1200.0 * std::f64::consts::LN_2;
        partials[found] = Partial { number, hertz: turn.hertz, deviation: noise.hypot(law) };
        found += 1;
    }
    StiffString::fit(&partials[..found])
}
