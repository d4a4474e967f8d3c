//! Whether a string really sounds an octave lower than its period says.
//!
//! Real low strings ring with nearly all of their power in partial 2 (FluidR3's steel E2 after a second: the odd
//! partials hold 2 %), and the period measure then reads the octave. What odd partials are left give it away.

use super::partials::Pair;
use super::stiff::StiffString;

/// Odd partials looked at.
const LOOKED_AT: u32 = 4;
/// They must stand this far over what lies between them, in power: noise stands nowhere.
const OVER_NOISE: f64 = 4.0;
/// Their share of the even partials' power, when the lower octave is what one expects.
const EXPECTED_SHARE: f64 = 0.002;

/// Whether partials of `near` halved sound between its own, in the window `pair` has taken.
pub(super) fn sounds_below(pair: &Pair, rate: f64, near: &StiffString) -> bool {
    let power_at = |place: f64| pair.turn(near.partial_hz(place), rate).power;
    let (mut even, mut odd, mut between) = (0.0, 0.0, 0.0);
    for number in (1..=LOOKED_AT).map(f64::from) {
        even += power_at(number);
        odd += power_at(number - 0.5);
        between += 0.5 * (power_at(number - 0.75) + power_at(number - 0.25));
    }
    odd > OVER_NOISE * between && odd - between > EXPECTED_SHARE * even
}
