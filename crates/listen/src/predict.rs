//! What the last moments do not explain: the error of a short-term linear prediction.
//!
//! Ringing strings, hum and whistles are predictable; a newly struck string is not. So the prediction error rises at
//! a stroke even while the same chord rings on (onsets by linear prediction: Lee & Kuo, ICASSP 2006; Glover, Lazzarini
//! & Timoney, EURASIP JASP 2011). The predictor is Burg's (Burg 1967; Kay & Marple, Proc. IEEE 1981, §II.E).

use crate::sums::dot;

/// Length of the stretch the predictor is fitted to, in seconds. Tuned on 144 takes made with fluidsynth.
const FIT_S: f64 = 0.100;
/// Poles of the predictor. Tuned with it.
const ORDER: usize = 140;
/// How often it is fitted anew, in seconds.
const REFIT_S: f64 = 0.012;
/// A predictor that leaves this share of the power (−50 dB) is good enough: a further pole would fit rounding errors.
const EXPLAINED_SHARE: f32 = 1e-5;
/// White noise assumed beneath the signal, as a share of its power: keeps a pure tone's fit stable.
const FLOOR_SHARE: f32 = 1e-6;

/// Turns samples into prediction errors, a block at a time.
#[derive(Debug)]
pub(crate) struct Predictor {
    fit: usize,
    step: usize,
    /// `fit` old samples, then up to `step` new ones.
    history: Vec<f32>,
    forward: Vec<f32>,
    backward: Vec<f32>,
    /// Reversed, so that the error is a plain dot product with the past.
    coefficients: Vec<f32>,
    scratch: Vec<f32>,
    errors: Vec<f32>,
}

impl Predictor {
    pub(crate) fn new(working_rate: f64) -> Self {
        let fit = samples(FIT_S * working_rate);
        let step = samples(REFIT_S * working_rate);
        let mut history = Vec::with_capacity(fit + step);
        history.resize(fit, 0.0);
        Self {
            fit,
            step,
            history,
            forward: vec![0.0; fit],
            backward: vec![0.0; fit],
            coefficients: vec![0.0; ORDER],
            scratch: vec![0.0; ORDER],
            errors: vec![0.0; step],
        }
    }

    /// Forgets all it heard.
    pub(crate) fn reset(&mut self) {
        self.history.clear();
        self.history.resize(self.fit, 0.0);
    }

    /// Takes one sample; on every `step`-th gives the errors of the last `step` samples.
    pub(crate) fn push(&mut self, sample: f32) -> Option<&[f32]> {
        self.history.push(sample);
        if self.history.len() < self.fit + self.step {
            return None;
        }
        self.fit_burg();
        for (index, error) in self.errors.iter_mut().enumerate() {
            let now = self.fit + index;
            *error = self.history[now] - dot(&self.history[now - ORDER..now], &self.coefficients);
        }
        self.history.copy_within(self.step.., 0);
        self.history.truncate(self.fit);
        Some(&self.errors)
    }

    /// Burg's recursion over the old samples; leaves the predictor in `coefficients`.
    #[expect(clippy::cast_precision_loss, reason = "a few hundred samples")]
    fn fit_burg(&mut self) {
        let old = &self.history[..self.fit];
        self.forward.copy_from_slice(old);
        self.backward.copy_from_slice(old);
        self.coefficients.fill(0.0);
        // The sum of both error powers, kept by recursion (Andersen 1978) instead of summed anew at each stage.
        let total = 2.0 * dot(old, old);
        let floor = FLOOR_SHARE * total + 1e-12 * self.fit as f32;
        let mut powers = total - old[0] * old[0] - old[self.fit - 1] * old[self.fit - 1];
        for stage in 0..ORDER {
            if powers < EXPLAINED_SHARE * total {
                break;
            }
            // Both slices line up f[n] with b[n−1]; every stage is one shorter.
            let (f, b) = (&mut self.forward[stage + 1..], &mut self.backward[..self.fit - stage - 1]);
            let reflection = 2.0 * dot(f, b) / (powers + floor);
            for (f, b) in f.iter_mut().zip(b.iter_mut()) {
                let was = *f;
                *f -= reflection * *b;
                *b -= reflection * was;
            }
            let (first, last) = (f.first().copied().unwrap_or(0.0), b.last().copied().unwrap_or(0.0));
            powers = (1.0 - reflection * reflection) * powers - first * first - last * last;
            step_up(&mut self.coefficients, &mut self.scratch, stage, reflection);
        }
        self.coefficients.reverse();
    }
}

/// Levinson's step: adds one pole to `coefficients[..stage]`, nearest past first.
fn step_up(coefficients: &mut [f32], scratch: &mut [f32], stage: usize, reflection: f32) {
    scratch[..stage].copy_from_slice(&coefficients[..stage]);
    for index in 0..stage {
        coefficients[index] -= reflection * scratch[stage - 1 - index];
    }
    coefficients[stage] = reflection;
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred")]
fn samples(count: f64) -> usize {
    count.round() as usize
}
