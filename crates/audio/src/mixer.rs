//! Parts into one stereo sound, every gain smoothed.

use crate::limiter::Limiter;
use crate::smooth::{Smooth, frames};
use crate::string::bank::BLOCK;
use crate::units::{Decibels, Part};

/// How long a gain takes to its new place: at least 50 ms, so that no change startles (hearing caution) or zips.
const GAIN_RAMP_S: f64 = 0.05;
/// How long the whole sound takes to open or close.
pub(crate) const GATE_RAMP_S: f64 = 0.06;

/// A block of each part, left and right, in the order of [`Part::ALL`].
pub(crate) type Sounds = [[[f32; BLOCK]; 2]; Part::ALL.len()];

/// The mixing desk.
pub(crate) struct Mixer {
    parts: [Smooth; Part::ALL.len()],
    /// Brings the music of what plays to its loudness.
    level: Smooth,
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
        Self {
            parts: [open; Part::ALL.len()],
            level: open,
            master: open,
            mute: open,
            gate,
            limiter: Limiter::new(rate),
        }
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

    /// Moves the gain of all music that is levelled, as a factor.
    ///
    /// # Real-time
    /// Arithmetic only.
    pub(crate) fn set_level(&mut self, factor: f32) {
        self.level.go(factor);
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

    /// The next frames of the parts that are `heard`, left and right in the order of [`Part::ALL`], mixed and limited
    /// into `out`, which is at most [`BLOCK`] frames long.
    ///
    /// # Real-time
    /// Arithmetic on fixed arrays.
    pub(crate) fn mix(&mut self, parts: &Sounds, heard: [bool; Part::ALL.len()], out: &mut [[f32; 2]]) {
        let frames = out.len().min(BLOCK);
        let (mut sum, mut gains) = ([[0.0; BLOCK]; 2], [0.0; BLOCK]);
        let mut levels = [1.0; BLOCK];
        self.level.apply(&mut levels[..frames]);
        for (((part, gain), sounds), heard) in Part::ALL.into_iter().zip(&mut self.parts).zip(parts).zip(heard) {
            if !heard {
                gain.pass(frames);
                continue;
            }
            gains = if part.is_levelled() { levels } else { [1.0; BLOCK] };
            gain.apply(&mut gains[..frames]);
            add(sounds, &gains, &mut sum);
        }
        gains.fill(1.0);
        for gain in [&mut self.master, &mut self.mute, &mut self.gate] {
            gain.apply(&mut gains[..frames]);
        }
        let [left, right] = &sum;
        for (((frame, left), right), gain) in out.iter_mut().zip(left).zip(right).zip(&gains) {
            *frame = [left * gain, right * gain];
        }
        self.limiter.limit_all(&mut out[..frames]);
    }
}

/// Adds a part times `gains` to `sum`.
///
/// # Real-time
/// Arithmetic on fixed arrays.
fn add(part: &[[f32; BLOCK]; 2], gains: &[f32; BLOCK], sum: &mut [[f32; BLOCK]; 2]) {
    for (sum, side) in sum.iter_mut().zip(part) {
        for ((sum, gain), sample) in sum.iter_mut().zip(gains).zip(side) {
            *sum += gain * sample;
        }
    }
}
