//! Processing by short spectra: noise suppression and echo cancelling.

use std::f32::consts::PI;
use std::ops::Range;

use realfft::RealFftPlanner;
use realfft::num_complex::Complex;

use crate::dice::Dice;
use crate::level::{db, narrow, rms};
use crate::synth::RATE;

/// Frames of a spectrum and from one to the next: 21 and 5 ms.
const LENGTH: usize = 1024;
const HOP: usize = 256;
const BINS: usize = LENGTH / 2 + 1;

/// Noise suppression made for speech. The noise in each bin is taken to be what stays: its estimate falls at once and
/// rises by a few decibels a second, so that a ringing string becomes noise and is taken away. When the whole falls near the
/// noise, a gate closes within some tens of milliseconds.
pub(super) fn suppress(take: &[f32], dice: &mut Dice) -> Vec<f32> {
    let hops_a_second = f64::from(RATE) / HOP as f64;
    let rise = narrow(10.0_f64.powf(dice.between(8.0, 20.0) / 10.0 / hops_a_second));
    let over = narrow(dice.between(1.5, 4.0));
    let floor = db(-dice.between(18.0, 40.0));
    let (opens, closes_a_hop) = (narrow(dice.between(4.0, 10.0)), db(-dice.between(0.6, 2.0)));
    let mut noise = vec![f32::MAX; BINS];
    let mut smooth = vec![0.0_f32; BINS];
    let mut gate = 0.0_f32;
    by_spectra(&[take], |spectra| {
        let spectrum = &mut spectra[0];
        let (mut all, mut all_noise) = (0.0, 0.0);
        for ((value, smooth), noise) in spectrum.iter().zip(&mut smooth).zip(&mut noise) {
            *smooth = 0.6 * *smooth + 0.4 * value.norm_sqr();
            *noise = (*noise * rise).min(*smooth).max(1e-10);
            all += value.norm_sqr();
            all_noise += *noise;
        }
        gate = if all > opens * all_noise { 1.0 } else { gate * closes_a_hop };
        let open = if gate < 0.01 { 0.0 } else { gate };
        for ((value, smooth), noise) in spectrum.iter_mut().zip(&smooth).zip(&noise) {
            *value *= open * (1.0 - over * noise / smooth.max(1e-10)).max(0.0).sqrt().max(floor);
        }
    })
}

/// Echo cancelling: where what we play is expected to be heard about as loudly as all that is, the microphone is turned
/// down, bin by bin, and wholly while ours is the louder by its reckoning.
pub(super) fn cancel(take: &[f32], played: &[f32], playing: &Range<usize>, dice: &mut Dice) -> Vec<f32> {
    // How strongly ours is heard, by what comes before the player begins.
    let before = ..playing.start.min(take.len()).min(played.len());
    let gain = rms(&take[before]) / rms(&played[before]).max(1e-6);
    let over = gain * gain * db(2.0 * dice.between(6.0, 12.0));
    let floor = db(-dice.between(25.0, 45.0));
    let stays = narrow(0.5_f64.powf(HOP as f64 / f64::from(RATE) / dice.between(0.03, 0.08)));
    let mut echo = vec![0.0_f32; BINS];
    by_spectra(&[take, played], |spectra| {
        let (heard, ours) = spectra.split_at_mut(1);
        let (mut all, mut all_echo) = (0.0, 0.0);
        for ((value, ours), echo) in heard[0].iter().zip(&ours[0]).zip(&mut echo) {
            *echo = (*echo * stays).max(over * ours.norm_sqr());
            all += value.norm_sqr();
            all_echo += *echo;
        }
        let closed = all_echo > 2.0 * all;
        for (value, echo) in heard[0].iter_mut().zip(&echo) {
            let share = 1.0 - echo / value.norm_sqr().max(1e-10);
            *value *= if closed { floor } else { share.max(0.0).sqrt().max(floor) };
        }
    })
}

/// Cuts sounds into overlapping spectra, lets `change` alter the first, and puts that together again.
fn by_spectra(sounds: &[&[f32]], mut change: impl FnMut(&mut [Vec<Complex<f32>>])) -> Vec<f32> {
    let mut planner = RealFftPlanner::<f32>::new();
    let (forward, inverse) = (planner.plan_fft_forward(LENGTH), planner.plan_fft_inverse(LENGTH));
    #[expect(clippy::cast_precision_loss, reason = "a window")]
    let window: Vec<f32> = (0..LENGTH).map(|at| (PI * (at as f32 + 0.5) / LENGTH as f32).sin()).collect();
    let count = sounds[0].len();
    let mut out = vec![0.0; count + 2 * LENGTH];
    let mut spectra: Vec<Vec<Complex<f32>>> = sounds.iter().map(|_| forward.make_output_vec()).collect();
    let mut frame = forward.make_input_vec();
    // A squared sine window, LENGTH / HOP times over, sums to half of that; a transform there and back to LENGTH.
    #[expect(clippy::cast_precision_loss, reason = "a thousand")]
    let scale = 2.0 * HOP as f32 / LENGTH as f32 / LENGTH as f32;
    for from in (0..count + LENGTH).step_by(HOP) {
        for (sound, spectrum) in sounds.iter().zip(&mut spectra) {
            for (at, (sample, window)) in frame.iter_mut().zip(&window).enumerate() {
                let here = (from + at).checked_sub(LENGTH).and_then(|index| sound.get(index));
                *sample = here.copied().unwrap_or(0.0) * window;
            }
            forward.process(&mut frame, spectrum).expect("both are of the length that was planned");
        }
        change(&mut spectra);
        let [first, last] = [0, BINS - 1];
        (spectra[0][first].im, spectra[0][last].im) = (0.0, 0.0);
        inverse.process(&mut spectra[0], &mut frame).expect("both are of the length that was planned");
        for (at, (sample, window)) in frame.iter().zip(&window).enumerate() {
            out[from + at] += sample * window * scale;
        }
    }
    out[LENGTH..LENGTH + count].to_vec()
}
