//! One string at one pitch: the numbers its loop runs on.
//!
//! Extended Karplus–Strong (Karplus & Strong 1983; Jaffe & Smith 1983): a delay line closed through a loss filter,
//! dispersion allpasses and a fractional delay. The loop is in tune when its parts' phase delays at the fundamental
//! add up to one period: `rate/f0 = N + τ_loss(ω0) + Σ τ_dispersion(ω0) + τ_fraction(ω0)`.

use std::f64::consts::TAU;

use super::dispersion;
use super::loss::Loss;

/// Dispersion allpasses in every loop. Strings that need fewer run the rest as plain one-sample delays.
pub(crate) const STAGES: usize = 2;
/// Allpasses in every loop: the dispersion and the fractional delay.
pub(crate) const ALLPASSES: usize = STAGES + 1;

/// What makes one string sound unlike another.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Character {
    /// Decay time of the open string's fundamental, in seconds.
    pub t60_s: f64,
    /// Decay time at 3 kHz, in seconds.
    pub treble_t60_s: f64,
    /// Inharmonicity B of the open string.
    pub inharmonicity: f64,
    /// Dispersion allpasses used, up to [`STAGES`].
    pub stages: usize,
    /// Where the pluck's spectrum begins to fall, in hertz.
    pub excitation_hz: f64,
    /// How steeply, as a multiple of 12 dB an octave.
    pub fall: f64,
    /// Where the pick strikes, as a share of the string's length from the bridge.
    pub pick: f64,
}

/// What else touches a string while it is struck.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Touch {
    /// Nothing: it rings.
    Open,
    /// The edge of the palm, at the bridge.
    Palm,
}

/// Decay times under a palm, at the fundamental and at 3 kHz, in seconds, and how much duller the pluck is. The first
/// after the samples `PalmMuted Guitar` of the Debian package fluid-soundfont-gm (an electric guitar's: their octave
/// around 250 Hz decays in 0.4 to 1.5 s); the others are design choices of ours.
const PALM: (f64, f64, f64) = (0.9, 0.12, 0.7);

impl Character {
    /// The string with this touch on it.
    pub(crate) fn touched(&self, touch: Touch) -> Self {
        match touch {
            Touch::Open => *self,
            Touch::Palm => Self {
                t60_s: self.t60_s.min(PALM.0),
                treble_t60_s: self.treble_t60_s.min(PALM.1),
                excitation_hz: PALM.2 * self.excitation_hz,
                ..*self
            },
        }
    }
}

/// A tuned loop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Loop {
    /// Whole samples of delay, at least 1.
    pub delay: usize,
    /// One period in samples, for whoever shapes the excitation.
    pub period: f64,
    /// Loss: gain of the input.
    pub input: f32,
    /// Loss: gain of its last output.
    pub feedback: f32,
    /// Allpass coefficients in order; the last is the fractional delay.
    pub allpass: [f32; ALLPASSES],
}

impl Loop {
    /// The loop that sounds `f0` hertz at `rate`, on the string of this `character` whose open pitch is `open`
    /// hertz. `None` when the pitch is too high for the rate (the loop would have no length left).
    pub(crate) fn design(rate: f64, f0: f64, open: f64, character: &Character) -> Option<Self> {
        let omega = TAU * f0 / rate;
        // B grows with the square of the shortening: 2^(fret/6). Decay shortens with length (a design choice of ours).
        let shortening = (f0 / open).max(1.0);
        let loss =
            Loss::design(rate, f0, character.t60_s / shortening.sqrt(), character.treble_t60_s / shortening.sqrt());
        let inharmonicity = character.inharmonicity * shortening * shortening;
        let a = dispersion::solve(rate, f0, inharmonicity, character.stages, |omega| loss.delay(omega));
        let mut allpass = [0.0; ALLPASSES];
        allpass[..character.stages.min(STAGES)].fill(a);
        let (input, feedback) = loss.coefficients();
        let coefficients = Coefficients { input, feedback, allpass };
        coefficients.tune(rate / f0, omega)
    }
}

struct Coefficients {
    input: f64,
    feedback: f64,
    allpass: [f64; ALLPASSES],
}

impl Coefficients {
    /// Closes the loop at `period` samples: whole samples in the delay line, the rest in the last allpass, solved
    /// exactly at the fundamental: `η = sin((1−d)ω/2) / sin((1+d)ω/2)` with d between ½ and 1½.
    fn tune(&self, period: f64, omega: f64) -> Option<Loop> {
        // The filters run in single precision: what they are tuned to must be the rounded coefficients.
        let [input, feedback] = [self.input, self.feedback].map(single);
        let mut allpass = self.allpass.map(single);
        let p = f64::from(feedback);
        let loss = (p * omega.sin()).atan2(1.0 - p * omega.cos()) / omega;
        let spread: f64 = allpass[..STAGES].iter().map(|&a| dispersion::delay(f64::from(a), omega)).sum();
        let rest = period - loss - spread;
        let whole = (rest - 0.5).floor();
        if whole < 1.0 {
            return None;
        }
        let fraction = rest - whole;
        allpass[STAGES] = single(((1.0 - fraction) * omega / 2.0).sin() / ((1.0 + fraction) * omega / 2.0).sin());
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "between 1 and one period")]
        Some(Loop { delay: whole as usize, period, input, feedback, allpass })
    }
}

#[expect(clippy::cast_possible_truncation, reason = "coefficients lie between -1 and 1")]
fn single(coefficient: f64) -> f32 {
    coefficient as f32
}
