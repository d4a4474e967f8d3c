//! Whether a string really sounds an octave, or an octave and a fifth, lower than its period says.
//!
//! Real low strings ring with nearly all of their power in partial 2 or 3 (FluidR3's steel E2 after a second: the odd
//! partials hold 2 %), and the period measure then reads that partial. What others are left give it away.

use super::partials::Pair;
use super::stiff::StiffString;

/// Partials looked at.
const LOOKED_AT: u32 = 4;
/// Those between must stand this far over what lies between them in turn, in power: noise stands nowhere.
const OVER_NOISE: f64 = 4.0;
/// Their share of the others' power, when the lower pitch is what one expects.
const EXPECTED_SHARE: f64 = 0.002;

/// Whether partials of `near` at `1 / below` of its pitch sound between its own, in the window `pair` has taken.
pub(super) fn sounds_below(pair: &Pair, rate: f64, near: &StiffString, below: u32) -> bool {
    let power_at = |place: f64| pair.turn(near.partial_hz(place), rate).power;
    let parts = f64::from(below);
    let (mut own, mut between, mut empty) = (0.0, 0.0, 0.0);
    for number in (0..LOOKED_AT).map(f64::from) {
        own += power_at(number + 1.0);
        between += (1..below).map(|part| power_at(number + f64::from(part) / parts)).sum::<f64>();
        // As many empty places as there are partials between.
        let places = (0..below).map(|part| power_at(number + (f64::from(part) + 0.5) / parts));
        empty += places.sum::<f64>() * (parts - 1.0) / parts;
    }
    between > OVER_NOISE * empty && between - empty > EXPECTED_SHARE * own
}
