//! Beats found by the program: a tempo by autocorrelation, then the row of beats that fits both tempo and onsets best.
//!
//! Ellis, "Beat tracking by dynamic programming", Journal of New Music Research 36 (2007), equations from memory.

use sixrung_timeline::Tempo;

use crate::map::Anchor;
use crate::onsets::{EARLY_S, ONSETS_A_SECOND, onset_strength};

/// Tempi that are looked for, in beats a minute.
const SLOWEST_BPM: f64 = 30.0;
const FASTEST_BPM: f64 = 300.0;
/// Without a word from the lesson, beats around two a second are the likeliest, less so by octaves (Ellis: 120 and 1.4
/// octaves of lag; narrowed to 0.9 as in Ellis's later code, from memory).
const USUAL_BPM: f64 = 120.0;
const USUAL_OCTAVES: f64 = 0.9;
/// Where the lesson names a tempo, the recording's is near it: half or twice it is more than two deviations away.
const NAMED_OCTAVES: f64 = 0.25;
/// How much a beat off the tempo costs against onset strength (Ellis: 680 at onsets of deviation 1; 400 where the
/// players may drift, as in his published figures, from memory).
const TIGHTNESS: f32 = 400.0;
/// A recording shorter than this, in seconds, tells no beat.
const SHORTEST_S: f64 = 3.0;
/// A beat's own onset is looked for this near, in values of 4 ms.
const NEAR: usize = 3;

/// Beats proposed for a recording.
#[derive(Clone, Debug, PartialEq)]
pub struct Proposal {
    /// The tempo of the whole, by a straight line through all beats.
    pub tempo: Tempo,
    /// Every beat, in seconds, from the first that is heard; never empty.
    pub beats_s: Vec<f64>,
    /// How much stronger onsets are on the beats than elsewhere, in standard deviations: below about 1 nobody should
    /// trust it.
    pub strength: f32,
}

impl Proposal {
    /// A few anchors that tell where all beats lie to within `tolerance_s` seconds, the first beat being beat 0.
    #[must_use]
    pub fn anchors(&self, tolerance_s: f64) -> Vec<Anchor> {
        let beats: Vec<Anchor> = (0..).zip(&self.beats_s).map(|(beat, at_s)| Anchor { beat, at_s: *at_s }).collect();
        crate::map::BeatMap::thinned(&beats, tolerance_s)
    }
}

/// Finds beats in a mono sound at `rate` frames a second; `near` is the tempo the lesson names, if it does.
///
/// `None` when the sound is shorter than three seconds, nothing begins in it, or `go_on` (told the share done) says
/// false.
pub fn propose(mono: &[f32], rate: u32, near: Option<Tempo>, go_on: &mut dyn FnMut(f32) -> bool) -> Option<Proposal> {
    #[expect(clippy::cast_precision_loss, reason = "a length")]
    let seconds = mono.len() as f64 / f64::from(rate.max(1));
    if seconds < SHORTEST_S || rate < 8_000 {
        return None;
    }
    let onsets = onset_strength(mono, rate, go_on)?;
    let period = period(&onsets, near)?;
    let beats = beats(&onsets, period);
    let on = heard(&onsets, &beats);
    if on.len() < 4 {
        return None;
    }
    let beats_s: Vec<f64> = on.iter().map(|beat| begins_s(refined(&onsets, *beat))).collect();
    let tempo = Tempo::from_bpm(60.0 / slope(&beats_s))?;
    #[expect(clippy::cast_precision_loss, reason = "for a mean")]
    let strength = on.iter().map(|beat| onsets[*beat]).sum::<f32>() / on.len() as f32
        - onsets.iter().sum::<f32>() / onsets.len() as f32;
    Some(Proposal { tempo, beats_s, strength })
}

/// The likeliest distance of beats, in values.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "lags of seconds at most"
)]
fn period(onsets: &[f32], near: Option<Tempo>) -> Option<f64> {
    let lag = |bpm: f64| 60.0 * ONSETS_A_SECOND / bpm;
    let (shortest, longest) = (lag(FASTEST_BPM) as usize, (lag(SLOWEST_BPM) as usize).min(onsets.len() / 2));
    let likely = |at: f64| match near {
        Some(near) => ((at / lag(near.bpm())).log2() / NAMED_OCTAVES).powi(2),
        None => ((at / lag(USUAL_BPM)).log2() / USUAL_OCTAVES).powi(2),
    };
    let alike = |lag: usize| -> f64 {
        onsets.iter().zip(&onsets[lag..]).map(|(a, b)| f64::from(a * b)).sum::<f64>() / (onsets.len() - lag) as f64
    };
    let raw: Vec<f64> = (0..=2 * longest + 1).map(|lag| if lag < onsets.len() { alike(lag) } else { 0.0 }).collect();
    // What repeats after a beat repeats after two as well (Ellis's TPS2): half the weight for that.
    let score = |at: usize| {
        let twice = raw[2 * at - 1..=2 * at + 1].iter().copied().fold(f64::MIN, f64::max);
        (raw[at] + 0.5 * twice) * (-0.5 * likely(at as f64)).exp()
    };
    let best = (shortest.max(2)..longest).max_by(|a, b| score(*a).total_cmp(&score(*b)))?;
    if raw[best] <= 1e-6 {
        return None;
    }
    // A parabola through the three highest.
    let (low, mid, high) = (raw[best - 1], raw[best], raw[best + 1]);
    let bend = low - 2.0 * mid + high;
    let shift = if bend < 0.0 { (0.5 * (low - high) / bend).clamp(-0.5, 0.5) } else { 0.0 };
    Some(best as f64 + shift)
}

/// The best row of beats: each adds its onset and loses by how far its distance from the last is off the period.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "lags of seconds at most"
)]
fn beats(onsets: &[f32], period: f64) -> Vec<usize> {
    let (near, far) = ((period / 2.0).round() as usize, (2.0 * period).round() as usize);
    let cost: Vec<f32> = (0..=far).map(|lag| TIGHTNESS * ((lag.max(1) as f64 / period).ln().powi(2)) as f32).collect();
    let mut best = vec![0.0_f32; onsets.len()];
    let mut before = vec![usize::MAX; onsets.len()];
    for at in 0..onsets.len() {
        let mut top = 0.0_f32;
        for lag in near.max(1)..=far.min(at) {
            let score = best[at - lag] - cost[lag];
            if score > top {
                (top, before[at]) = (score, at - lag);
            }
        }
        best[at] = onsets[at] + top;
    }
    let from = onsets.len().saturating_sub(far);
    let mut at = (from..onsets.len()).max_by(|a, b| best[*a].total_cmp(&best[*b])).unwrap_or(0);
    let mut row = Vec::new();
    loop {
        row.push(at);
        if before[at] == usize::MAX {
            break;
        }
        at = before[at];
    }
    row.reverse();
    row
}

/// Beats without those before the first and after the last that is heard: silence has none.
fn heard<'a>(onsets: &[f32], beats: &'a [usize]) -> &'a [usize] {
    let strong: Vec<f32> = beats.iter().map(|beat| onsets[*beat]).collect();
    let mut sorted = strong.clone();
    sorted.sort_by(f32::total_cmp);
    let enough = 0.3 * sorted.get(sorted.len() / 2).copied().unwrap_or(0.0);
    let is_heard = |strength: &f32| *strength > enough.max(0.05);
    let (Some(first), Some(last)) = (strong.iter().position(is_heard), strong.iter().rposition(is_heard)) else {
        return &[];
    };
    &beats[first..=last]
}

/// When what an onset tells of begins; the very first one is that of a recording cut to its first beat.
fn begins_s(onset: f64) -> f64 {
    if onset <= 0.0 { 0.0 } else { onset / ONSETS_A_SECOND + EARLY_S }
}

/// A beat's onset between values: the highest near it, and a parabola through its neighbours.
#[expect(clippy::cast_precision_loss, reason = "positions in a recording")]
fn refined(onsets: &[f32], beat: usize) -> f64 {
    let range = beat.saturating_sub(NEAR)..(beat + NEAR + 1).min(onsets.len());
    let top = range.max_by(|a, b| onsets[*a].total_cmp(&onsets[*b])).unwrap_or(beat);
    let (Some(low), Some(high)) = (top.checked_sub(1).map(|at| onsets[at]), onsets.get(top + 1)) else {
        return top as f64;
    };
    let bend = f64::from(low - 2.0 * onsets[top] + high);
    let shift = if bend < 0.0 { (0.5 * f64::from(low - high) / bend).clamp(-0.5, 0.5) } else { 0.0 };
    top as f64 + shift
}

/// Seconds a beat, by the median of the slopes between beats a quarter of the row apart: a few wrong ones do no harm.
#[expect(clippy::cast_precision_loss, reason = "beats of a song")]
fn slope(beats_s: &[f64]) -> f64 {
    let apart = (beats_s.len() / 4).max(1);
    let mut slopes: Vec<f64> = beats_s.windows(apart + 1).map(|row| (row[apart] - row[0]) / apart as f64).collect();
    slopes.sort_by(f64::total_cmp);
    slopes[slopes.len() / 2]
}
