//! Whether a sound ends where a telephone's band does.

use realfft::RealFftPlanner;

use crate::hann::hann;
use crate::median::median;
use crate::sound::PassSound;

/// Below and above the end of a telephone's band, in hertz: it carries 300 to 3,400 (ITU-T G.712).
const BELOW_HZ: (f64, f64) = (2900.0, 3350.0);
const ABOVE_HZ: (f64, f64) = (3800.0, 4800.0);
/// Struck strings fall from the one to the other by at most 5 dB in the takes as recorded, 10 in a delay that jumps,
/// and a telephone's by 56 to 79.
const CLIFF_DB: f64 = 25.0;
/// Length of a look, in samples: 64 to 100 ms.
const LENGTH: usize = 1024;
/// Fewer strokes tell nothing.
const LEAST_STROKES: usize = 2;

/// Whether there is a cliff at the end of a telephone's band under most strokes. A sound whose working rate can't hold
/// more than that band tells nothing: at 48 kHz that is so, at 11 to 15 and 22 kHz it is not.
pub(super) fn is_narrow(sound: &PassSound, strums_s: &[f64]) -> bool {
    if sound.rate < 2.0 * ABOVE_HZ.1 {
        return false;
    }
    let forward = RealFftPlanner::<f32>::new().plan_fft_forward(LENGTH);
    let window = hann(LENGTH);
    let (mut input, mut spectrum) = (forward.make_input_vec(), forward.make_output_vec());
    #[expect(clippy::cast_precision_loss, reason = "a thousand")]
    let bin_hz = sound.rate / LENGTH as f64;
    let mut cliffs = Vec::new();
    for at_s in strums_s {
        #[expect(clippy::cast_precision_loss, reason = "a thousand")]
        let heard = sound.between(*at_s, at_s + (LENGTH as f64 + 1.0) / sound.rate);
        let Some(heard) = heard.get(..LENGTH) else { continue };
        for ((input, sample), window) in input.iter_mut().zip(heard).zip(&window) {
            *input = sample * window;
        }
        if forward.process(&mut input, &mut spectrum).is_err() {
            continue;
        }
        let mean = |(from_hz, to_hz): (f64, f64)| {
            #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a bin")]
            let bin = |hertz: f64| (hertz / bin_hz).round() as usize;
            let bins = &spectrum[bin(from_hz)..bin(to_hz)];
            #[expect(clippy::cast_precision_loss, reason = "a count of bins")]
            let count = bins.len() as f64;
            bins.iter().map(|value| f64::from(value.norm_sqr())).sum::<f64>() / count
        };
        cliffs.push(10.0 * (mean(BELOW_HZ).max(1e-14) / mean(ABOVE_HZ).max(1e-14)).log10());
    }
    cliffs.len() >= LEAST_STROKES && median(&mut cliffs).is_some_and(|cliff| cliff > CLIFF_DB)
}
