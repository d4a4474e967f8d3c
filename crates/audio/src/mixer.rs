//! Parts into one stereo sound, every gain smoothed.

use crate::limiter::Limiter;
use crate::smooth::{Smooth, frames};
use crate::units::{Decibels, Part};

/// How long a gain takes to its new place: at least 50 ms, so that no change startles (hearing caution) or zips.
const GAIN_RAMP_S: f64 = 0.05;
/// How long the whole sound takes to open or close.
pub(crate) const GATE_RAMP_S: f64 = 0.06;

/// The mixing desk.
pub(crate) struct Mixer {
    parts: [Smooth; Part::ALL.len()],
    master: Smooth,
    mute: Smooth,
    gate: Smooth,
    limiter: Limiter,
}

impl Mixer {
    /// All gains at 0 dB, the gate closed.
    pub(crate) fn new(rate: u32) -> Self {
        let open = Smooth::new(1.0, frames(rate, GAIN_RAMP_S));
        let gate = Smooth::new(0.0, frames(rate, GATE_RAMP_S));
        Self { parts: [open; Part::ALL.len()], master: open, mute: open, gate, limiter: Limiter::new(rate) }
    }

    /// Frames between the mix and the speakers.
    pub(crate) fn latency(&self) -> u64 {
        self.limiter.latency()
    }

    /// Moves a part's gain.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn set_gain(&mut self, part: Part, gain: Decibels) {
        self.parts[part.index()].go(gain.factor());
    }

    /// Moves the gain of everything.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn set_master(&mut self, gain: Decibels) {
        self.master.go(gain.factor());
    }

    /// Silences everything, the gains kept for later.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn mute(&mut self) {
        self.mute.go(0.0);
    }

    /// Takes the silence back.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn unmute(&mut self) {
        self.mute.go(1.0);
    }

    /// Opens the gate.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn open(&mut self) {
        self.gate.go(1.0);
    }

    /// Closes the gate.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn close(&mut self) {
        self.gate.go(0.0);
    }

    /// Whether nothing can be heard through the gate.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn is_closed(&self) -> bool {
        self.gate.rests_at(0.0)
    }

    /// One frame of the parts, in the order of [`Part::ALL`], mixed and limited.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn mix(&mut self, parts: [[f32; 2]; Part::ALL.len()]) -> [f32; 2] {
        let mut sum = [0.0_f32; 2];
        for (gain, part) in self.parts.iter_mut().zip(parts) {
            let gain = gain.next();
            sum = [sum[0] + gain * part[0], sum[1] + gain * part[1]];
        }
        let all = self.master.next() * self.mute.next() * self.gate.next();
        self.limiter.limit(sum.map(|sample| sample * all))
    }
}
