//! One path from two stretches of sound.

use super::path::{BEFORE_STRONGEST_S, LARGEST_LAG_S, LARGEST_LEAD_S, OwnPath};
use super::solve::levinson;
use super::spectrum::{Spectra, Spectrum};

/// Rounds of filling in what can't be used, each followed by a new fit: what is left of an error falls by the share
/// that was filled in.
const ROUNDS: usize = 4;
/// With all in use only the noise is to be found.
const ROUNDS_OF_ALL: usize = 2;
/// Others are looked for when the fit has settled this far.
const OTHERS_AT_ROUND: usize = 2;
/// Noise beneath all that is assumed at first, as a share of what was played, and at the least.
const FIRST_LOADING: f64 = 1e-3;
const LEAST_LOADING: f64 = 1e-7;
/// Sounds of others are looked for in frames this long, in seconds.
const FRAME_S: f64 = 0.040;
/// A frame holds someone else when so much more is left of it than of the middle one, and more than this share of
/// what we sound in it: 10 and −6 dB, design choices of ours.
const LEFT_ABOVE_USUAL: f64 = 10.0;
const LEFT_OF_OWN: f64 = 0.25;

/// Microphone and playback on one grid of samples, both brightened by a first difference: strings fall by 9 to 11 dB
/// an octave, and the listener hears strokes by their bright side.
pub(crate) struct Pair {
    pub(crate) rate: f64,
    pub(crate) heard: Vec<f64>,
    pub(crate) played: Vec<f64>,
}

/// What to do about frames in which someone else sounds.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Others {
    /// They count nothing.
    LeaveOut,
    /// They count like all.
    Keep,
}

/// What a fit found.
pub(crate) struct Fitted {
    pub(crate) taps: Vec<f64>,
    /// The share of frames in which someone else was heard.
    pub(crate) others: f64,
}

impl Pair {
    pub(crate) fn new(heard: &[f32], played: &[f32], rate: f64) -> Self {
        Self { rate, heard: brightened(heard), played: brightened(played) }
    }

    /// The first of both, up to `end`.
    pub(crate) fn until(&self, end: usize) -> Self {
        Self { rate: self.rate, heard: self.heard[..end].to_vec(), played: self.played[..end].to_vec() }
    }

    /// The lag at which a path should begin, by the strongest likeness of both.
    #[expect(clippy::cast_possible_truncation, reason = "half a second of samples")]
    pub(crate) fn lag(&self) -> i64 {
        let samples = |seconds: f64| (seconds * self.rate).round() as i64;
        let (first, last) = (-samples(LARGEST_LEAD_S), samples(LARGEST_LAG_S));
        let count = usize::try_from(last - first).unwrap_or(0);
        let spectra = Spectra::new(self.heard.len(), 2 * count);
        let cross = spectra.correlation(&spectra.of(&self.heard), &spectra.of(&self.played), first, count);
        let strongest = (first..).zip(&cross).max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()));
        (strongest.map_or(0, |(lag, _)| lag) - samples(BEFORE_STRONGEST_S)).max(first)
    }

    /// What is heard of what is played along a path, over the whole stretch.
    pub(crate) fn along(&self, taps: &[f64], lag: i64) -> Vec<f64> {
        let spectra = Spectra::new(self.played.len(), reach(taps.len(), lag));
        spectra.convolution(taps, lag, &spectra.of(&self.played), self.heard.len())
    }

    /// The same pair with what comes along `path` taken off.
    pub(crate) fn without(self, path: &OwnPath) -> Self {
        let taps: Vec<f64> = path.taps.iter().map(|tap| f64::from(*tap)).collect();
        let own = self.along(&taps, path.lag);
        let heard = self.heard.iter().zip(own).map(|(heard, own)| heard - own).collect();
        Self { heard, ..self }
    }

    /// The best path of `count` taps from `lag` on, by the samples of `heard` from `usable_from` on. What lies before
    /// and beyond, and what others sound in, is filled in with what the path itself says, a few times over. The noise
    /// assumed beneath is found in the same rounds (MacKay, Neural Computation 1992: the evidence's fixed point).
    pub(crate) fn fit(&self, lag: i64, count: usize, usable_from: usize, others: Others) -> Fitted {
        let length = self.heard.len();
        let reach = reach(count, lag);
        let spectra = Spectra::new(length + reach, reach);
        let played = spectra.of(&self.played);
        let auto = spectra.correlation(&played, &played, 0, count);
        let mut usable = vec![true; length];
        usable[..usable_from.min(length)].fill(false);
        let mut loading = FIRST_LOADING * auto[0];
        let mut fitted = Fitted { taps: vec![0.0; count], others: 0.0 };
        let mut filled = vec![0.0; length + reach];
        let rounds = if others == Others::LeaveOut { ROUNDS } else { ROUNDS_OF_ALL };
        for round in 0..rounds {
            let own = spectra.convolution(&fitted.taps, lag, &played, length + reach);
            if round == OTHERS_AT_ROUND {
                fitted.others = self.leave_out_others(&own, usable_from, &mut usable);
            }
            for (index, filled) in filled.iter_mut().enumerate() {
                *filled = if usable.get(index) == Some(&true) { self.heard[index] } else { own[index] };
            }
            if round > 0 {
                loading = self.loading(&own, &usable, &fitted.taps).max(LEAST_LOADING * auto[0]);
            }
            fitted.taps = solve(&spectra, &spectra.of(&filled), &played, &auto, loading, lag, count);
        }
        fitted
    }

    /// Noise power over the power of one tap.
    #[expect(clippy::cast_precision_loss, reason = "counts")]
    fn loading(&self, own: &[f64], usable: &[bool], taps: &[f64]) -> f64 {
        let (mut noise, mut samples) = (0.0, 0_u32);
        for ((heard, own), usable) in self.heard.iter().zip(own).zip(usable) {
            if *usable {
                noise += (heard - own).powi(2);
                samples += 1;
            }
        }
        let tap = taps.iter().map(|tap| tap * tap).sum::<f64>() / taps.len() as f64;
        if samples == 0 || tap <= 0.0 { f64::MAX.sqrt() } else { noise / f64::from(samples) / tap }
    }

    /// Marks frames as not usable in which more is left than our own sound and the usual noise explain. The share of
    /// such frames.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "counts")]
    fn leave_out_others(&self, own: &[f64], from: usize, usable: &mut [bool]) -> f64 {
        let length = ((FRAME_S * self.rate) as usize).max(1);
        let frame = |at: usize| at..(at + length).min(self.heard.len());
        let starts = || (from..self.heard.len()).step_by(length);
        let power = |at: usize| {
            let left: f64 = frame(at).map(|index| (self.heard[index] - own[index]).powi(2)).sum();
            (left, own[frame(at)].iter().map(|own| own * own).sum::<f64>())
        };
        let powers: Vec<(f64, f64)> = starts().map(power).collect();
        let mut left: Vec<f64> = powers.iter().map(|power| power.0).collect();
        left.sort_unstable_by(f64::total_cmp);
        let usual = left.get(left.len() / 2).copied().unwrap_or(0.0);
        let mut others = 0_u32;
        for (at, (left, own)) in starts().zip(&powers) {
            if *left > LEFT_ABOVE_USUAL * usual && *left > LEFT_OF_OWN * own {
                usable[frame(at)].fill(false);
                others += 1;
            }
        }
        f64::from(others) / powers.len().max(1) as f64
    }
}

/// How far the longest lag of a path reaches.
#[expect(clippy::cast_possible_truncation, reason = "thousands")]
fn reach(count: usize, lag: i64) -> usize {
    count + lag.unsigned_abs() as usize
}

fn solve(
    spectra: &Spectra,
    heard: &Spectrum,
    played: &Spectrum,
    auto: &[f64],
    loading: f64,
    lag: i64,
    count: usize,
) -> Vec<f64> {
    let cross = spectra.correlation(heard, played, lag, count);
    let mut loaded = auto.to_vec();
    loaded[0] += loading;
    levinson(&loaded, &cross)
}

fn brightened(sound: &[f32]) -> Vec<f64> {
    let before = std::iter::once(0.0).chain(sound.iter().map(|sample| f64::from(*sample)));
    sound.iter().zip(before).map(|(now, before)| f64::from(*now) - before).collect()
}
