//! A telephone's band.

use realfft::RealFftPlanner;

use crate::level::narrow;
use crate::synth::RATE;

/// The band a telephone carries, in hertz, and the width over which it begins and ends (ITU-T G.712's mask, roughly).
const LOW_HZ: f64 = 300.0;
const HIGH_HZ: f64 = 3400.0;
const EDGE_HZ: f64 = 150.0;
/// The compression of eight-bit telephone samples (ITU-T G.711, µ-law).
const MU: f32 = 255.0;

/// 300 to 3,400 Hz, in eight bits.
pub(super) fn telephone(take: &[f32]) -> Vec<f32> {
    let length = take.len().next_power_of_two().max(2);
    let mut planner = RealFftPlanner::<f32>::new();
    let mut samples: Vec<f32> = take.iter().map(|sample| in_eight_bits(*sample)).collect();
    samples.resize(length, 0.0);
    let forward = planner.plan_fft_forward(length);
    let mut spectrum = forward.make_output_vec();
    forward.process(&mut samples, &mut spectrum).expect("both are of the length that was planned");
    #[expect(clippy::cast_precision_loss, reason = "minutes of samples")]
    let hertz = |bin: usize| bin as f64 * f64::from(RATE) / length as f64;
    for (bin, value) in spectrum.iter_mut().enumerate() {
        let inside = (hertz(bin) - LOW_HZ).min(HIGH_HZ - hertz(bin)) / EDGE_HZ;
        *value *= narrow(inside.clamp(-1.0, 0.0) + 1.0);
    }
    planner.plan_fft_inverse(length).process(&mut spectrum, &mut samples).expect("as planned");
    #[expect(clippy::cast_precision_loss, reason = "minutes of samples")]
    let scale = 1.0 / length as f32;
    samples[..take.len()].iter().map(|sample| sample * scale).collect()
}

fn in_eight_bits(sample: f32) -> f32 {
    let small = (1.0 + MU * sample.abs().min(1.0)).ln() / (1.0 + MU).ln();
    let step = (small * 127.0).round() / 127.0;
    sample.signum() * ((1.0 + MU).powf(step) - 1.0) / MU
}
