//! How strongly something begins, moment by moment: the rise of loudness over bands of the ear's width.
//!
//! After Ellis, "Beat tracking by dynamic programming", Journal of New Music Research 36 (2007): a spectrum every 4 ms,
//! 40 mel bands in decibels, the rises summed over bands, what is slow taken out, smoothed over 20 ms. Written from
//! memory of the paper.

use realfft::RealFftPlanner;

/// Values a second.
pub const ONSETS_A_SECOND: f64 = 250.0;

/// An attack shows in a spectrum before its middle reaches it: by so much, in seconds, as the tests' clicks tell, at 22 to
/// 48 kHz alike (they are placed within 1 ms by it). Found in the middle of what they scatter by.
pub(crate) const EARLY_S: f64 = 0.011;

/// Onsets are looked for below half of about this rate, in hertz: drums and plucks have all they need there.
const ENOUGH_HZ: u32 = 11_000;
/// Length of a spectrum, in seconds (Ellis: 32 ms).
const WINDOW_S: f64 = 0.032;
const BANDS: usize = 40;
/// Lowest band's lower edge, in hertz.
const LOWEST_HZ: f64 = 40.0;
/// What lies so far below the loudest, in decibels, is silence.
const RANGE_DB: f32 = 80.0;
/// So many of the last spectra reach beyond the end: half a window's length, and one.
const BEYOND_END: usize = 5;
/// Where no rise is as high as this, summed over bands in 4 ms, nothing begins: 1 dB in each. A design choice; the
/// tests' hum rises by far less, their drums by hundreds.
const LEAST_RISE_DB: f32 = 40.0;
/// Standard deviation of the smoothing, in seconds (Ellis: a Gaussian 20 ms wide).
const SMOOTH_S: f64 = 0.010;
/// The mean over this long is taken out, in seconds: a high-pass at about 0.4 Hz.
const SLOW_S: f64 = 1.25;

/// Onset strength of a mono sound at `rate` frames a second: value `k` tells of what begins some 11 ms after `k / 250`
/// seconds. Its standard deviation is 1; a sound in which nothing begins gives zeros. Samples that are no numbers are
/// silence.
///
/// `go_on` is told the share done, 0 to 1, now and then, and stops the work by saying false: `None` then.
pub fn onset_strength(mono: &[f32], rate: u32, go_on: &mut dyn FnMut(f32) -> bool) -> Option<Vec<f32>> {
    let (samples, rate) = thinned(mono, rate);
    let bands = spectrogram(&samples, rate, go_on)?;
    let mut rises = rises(&bands);
    flatten(&mut rises);
    let smoothed = smooth(&rises);
    Some(scale(smoothed))
}

/// Every so many frames averaged, as long as the rate stays high enough.
#[expect(clippy::cast_precision_loss, reason = "a handful of frames")]
fn thinned(mono: &[f32], rate: u32) -> (Vec<f32>, f64) {
    let every = (rate / ENOUGH_HZ).max(1) as usize;
    let sane = |sample: &f32| if sample.is_finite() { *sample } else { 0.0 };
    let samples = mono.chunks(every).map(|chunk| chunk.iter().map(sane).sum::<f32>() / every as f32);
    (samples.collect(), f64::from(rate) / every as f64)
}

/// Decibels in each band, every 4 ms; the middle of spectrum `k` lies at `k / 250` seconds.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "positions in a recording and bins of a short spectrum"
)]
fn spectrogram(samples: &[f32], rate: f64, go_on: &mut dyn FnMut(f32) -> bool) -> Option<Vec<[f32; BANDS]>> {
    let wanted = (rate * WINDOW_S).round() as usize;
    let size = wanted.next_power_of_two().max(64);
    let fft = RealFftPlanner::<f32>::new().plan_fft_forward(size);
    let (mut input, mut output) = (fft.make_input_vec(), fft.make_output_vec());
    let edges = edges(rate, size);
    let frames = (samples.len() as f64 / rate * ONSETS_A_SECOND).ceil() as usize;
    let mut all = Vec::with_capacity(frames);
    for frame in 0..frames {
        if frame % 2048 == 0 && !go_on(frame as f32 / frames as f32) {
            return None;
        }
        let middle = (frame as f64 * rate / ONSETS_A_SECOND).round() as isize;
        input.fill(0.0);
        for (index, out) in input.iter_mut().enumerate().take(wanted) {
            let place = middle - (wanted / 2) as isize + index as isize;
            let sample = usize::try_from(place).ok().and_then(|place| samples.get(place)).copied().unwrap_or(0.0);
            let phase = std::f32::consts::TAU * (index as f32 + 0.5) / wanted as f32;
            *out = sample * (0.5 - 0.5 * phase.cos());
        }
        // The lengths are the planner's own.
        if fft.process(&mut input, &mut output).is_err() {
            return None;
        }
        let mut bands = [0.0_f32; BANDS];
        for (band, level) in bands.iter_mut().enumerate() {
            let (from, to) = (edges[band], edges[band + 1]);
            let power: f32 = output[from..to].iter().map(realfft::num_complex::Complex::norm_sqr).sum();
            *level = 10.0 * power.max(1e-12).log10();
        }
        all.push(bands);
    }
    let loudest = all.as_flattened().iter().fold(f32::MIN, |loudest, level| loudest.max(*level));
    all.as_flattened_mut().iter_mut().for_each(|level| *level = level.max(loudest - RANGE_DB));
    Some(all)
}

/// Bins where bands begin and end, evenly on the mel scale (O'Shaughnessy: 2595 log10(1 + f/700)); each band has one
/// bin at least.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "bins of a short spectrum"
)]
fn edges(rate: f64, size: usize) -> [usize; BANDS + 1] {
    let mel = |hertz: f64| 2595.0 * (1.0 + hertz / 700.0).log10();
    let hertz = |mel: f64| 700.0 * (10.0_f64.powf(mel / 2595.0) - 1.0);
    let (low, high) = (mel(LOWEST_HZ), mel(rate / 2.0));
    let mut edges = [0; BANDS + 1];
    let mut least = 1;
    for (band, edge) in edges.iter_mut().enumerate() {
        let at = hertz(low + (high - low) * band as f64 / BANDS as f64);
        *edge = ((at * size as f64 / rate).round() as usize).max(least).min(size / 2);
        least = *edge + 1;
    }
    edges
}

/// The sum over bands of how much louder each became. Before a recording there is silence: one cut to its first beat
/// begins with a rise, as high as the highest in it at most.
fn rises(bands: &[[f32; BANDS]]) -> Vec<f32> {
    let risen = |now: &[f32; BANDS], before: &[f32; BANDS]| -> f32 {
        now.iter().zip(before).map(|(now, before)| (now - before).max(0.0)).sum()
    };
    let mut rises = vec![0.0; bands.len()];
    for (rise, pair) in rises.iter_mut().skip(1).zip(bands.windows(2)) {
        *rise = risen(&pair[1], &pair[0]);
    }
    // Where the window reaches beyond the end, a sound that is cut off spills into every band: no onset.
    let spilt = rises.len().saturating_sub(BEYOND_END);
    rises[spilt..].fill(0.0);
    let highest = rises.iter().copied().fold(0.0, f32::max);
    if highest < LEAST_RISE_DB {
        return vec![0.0; bands.len()];
    }
    let loudest = bands.as_flattened().iter().copied().fold(f32::MIN, f32::max);
    if let (Some(first), Some(rise)) = (bands.first(), rises.first_mut()) {
        *rise = risen(first, &[loudest - RANGE_DB; BANDS]).min(highest);
    }
    rises
}

/// Takes the mean around each value out of it.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "a second")]
fn flatten(values: &mut [f32]) {
    let reach = (SLOW_S / 2.0 * ONSETS_A_SECOND) as usize;
    let mut sums = vec![0.0_f64];
    for value in &*values {
        sums.push(sums[sums.len() - 1] + f64::from(*value));
    }
    for (index, value) in values.iter_mut().enumerate() {
        let (from, to) = (index.saturating_sub(reach), (index + reach + 1).min(sums.len() - 1));
        *value -= ((sums[to] - sums[from]) / (to - from) as f64) as f32;
    }
}

/// A Gaussian.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "a few values")]
fn smooth(values: &[f32]) -> Vec<f32> {
    const REACH: usize = 8;
    let sigma = (SMOOTH_S * ONSETS_A_SECOND) as f32;
    let weight = |distance: usize| (-0.5 * (distance as f32 / sigma).powi(2)).exp();
    let weights: Vec<f32> = (0..=2 * REACH).map(|place| weight(place.abs_diff(REACH))).collect();
    let around = |index: usize| {
        let taps = weights.iter().enumerate();
        let sum = taps.filter_map(|(tap, weight)| {
            let at = (index + tap).checked_sub(REACH)?;
            values.get(at).map(|value| weight * value)
        });
        sum.sum::<f32>().max(0.0)
    };
    (0..values.len()).map(around).collect()
}

/// To a standard deviation of 1.
#[expect(clippy::cast_precision_loss, reason = "for a mean")]
fn scale(mut values: Vec<f32>) -> Vec<f32> {
    let count = values.len().max(1) as f32;
    let mean = values.iter().sum::<f32>() / count;
    let deviation = (values.iter().map(|value| (value - mean).powi(2)).sum::<f32>() / count).sqrt();
    let by = if deviation > 1e-6 { 1.0 / deviation } else { 0.0 };
    values.iter_mut().for_each(|value| *value *= by);
    values
}
