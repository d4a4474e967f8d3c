//! Stiffness: partial k of a real string lies at `k·f0·√(1 + B·k²)`, above k·f0 (Fletcher 1964).
//!
//! First-order allpasses `(a + z⁻¹) / (1 + a·z⁻¹)` in the loop delay the low partials more than the high (Jaffe &
//! Smith 1983).

use std::f64::consts::{PI, TAU};

/// Samples of phase delay of one allpass at `omega` radians a sample.
pub(crate) fn delay(a: f64, omega: f64) -> f64 {
    (omega + 2.0 * (-a * omega.sin()).atan2(1.0 + a * omega.cos())) / omega
}

/// The coefficient with which `stages` allpasses give the inharmonicity `b` to a string of `f0` hertz, beside what
/// `other`, the phase delay of the loop's other filters, gives already. Met exactly at one partial near 2.5 kHz: a
/// first-order allpass can't follow the law all the way up.
pub(crate) fn solve(rate: f64, f0: f64, b: f64, stages: usize, other: impl Fn(f64) -> f64) -> f64 {
    let period = rate / f0;
    let partial = (2500.0 / f0).round().clamp(6.0, 20.0);
    let stretch = ((1.0 + b * partial * partial) / (1.0 + b)).sqrt();
    let (first, upper) = (TAU / period, TAU / period * partial * stretch);
    if stages == 0 || upper > 0.8 * PI {
        return 0.0;
    }
    #[expect(clippy::cast_precision_loss, reason = "a handful of stages")]
    let stages = stages as f64;
    let wanted = period * (1.0 - 1.0 / stretch) - (other(first) - other(upper));
    let given = |dc_delay: f64| {
        let a = coefficient(dc_delay);
        stages * (delay(a, first) - delay(a, upper))
    };
    // More than this share of the period would leave too little for the rest of the loop.
    let (mut low, mut high) = (1.0, (0.3 * period / stages).max(1.0));
    for _ in 0..50 {
        let middle = 0.5 * (low + high);
        if given(middle) < wanted { low = middle } else { high = middle }
    }
    coefficient(low)
}

/// The coefficient of the allpass that delays 0 Hz by `dc_delay` samples.
fn coefficient(dc_delay: f64) -> f64 {
    (1.0 - dc_delay) / (1.0 + dc_delay)
}
