//! The player's taps on the guitar to our clicks.

use super::probe::{CLICKS_TO_FIND_THE_BEAT, Probe};
use super::recording::Recording;
use super::{Measurement, NotMeasured, agree};
use crate::listener::Listener;
use crate::median::{median, median_f32};
use crate::onset::Onset;

/// Taps this much weaker than the middle one are none: strings that ring along, our own click in a headphone. As an
/// onset's strength in decibels; a design choice of ours.
const WEAKER_DB: f32 = 14.0;
/// A tap rises at least so far above what was before, in decibels: as a clear strum does.
const LEAST_RISE_DB: f32 = 9.0;
/// Of two rises nearer together than this, in seconds, the second is the hand's rebound.
const REBOUND_S: f64 = 0.12;
/// Taps farther from the middle one than this, in seconds, are thrown out: three times what untrained tapping spreads.
const APART_S: f64 = 0.110;
/// Those kept may spread so far, in seconds: untrained players' tapping spreads 4 to 6 % of a beat of 600 ms (common
/// figures, from memory), and this is 7 %.
const LARGEST_SPREAD_S: f64 = 0.042;
/// How early players tap to a click they hear without delay, in seconds: up to 80 ms (practice research, second-hand).
const EARLIEST_S: f64 = 0.100;

pub(super) fn find(recording: &Recording, probe: &Probe) -> Result<Measurement, NotMeasured> {
    let clicks = probe.starts_s();
    let asked = clicks.len().saturating_sub(CLICKS_TO_FIND_THE_BEAT);
    let taps_s = taps(recording);
    if taps_s.len() * 2 < asked {
        return Err(NotMeasured::NotHeard { heard: taps_s.len(), asked });
    }
    let every_s = clicks.windows(2).map(|pair| pair[1] - pair[0]).fold(f64::INFINITY, f64::min);
    // Each tap belongs to the last click it can belong to: none comes earlier than players anticipate.
    let lag = |tap_s: &f64| {
        let index = clicks.iter().rposition(|click| tap_s - click >= -EARLIEST_S)?;
        let lag_s = tap_s - clicks[index];
        (index >= CLICKS_TO_FIND_THE_BEAT && lag_s < every_s - EARLIEST_S).then_some(lag_s)
    };
    let lags_s: Vec<f64> = taps_s.iter().filter_map(lag).collect();
    agree(around_one_place(lags_s, every_s), asked, APART_S, LARGEST_SPREAD_S)
}

/// Lags on a circle of one beat, cut open where it is farthest from their middle: a player who is early by as much as
/// others are late is not torn apart.
fn around_one_place(mut lags_s: Vec<f64>, every_s: f64) -> Vec<f64> {
    let Some(around) = median(&mut lags_s) else { return lags_s };
    for lag in &mut lags_s {
        *lag -= ((*lag - around) / every_s).round() * every_s;
    }
    lags_s
}

/// Sudden, strong rises, on the output's clock.
fn taps(recording: &Recording) -> Vec<f64> {
    let Some(mut listener) = Listener::new(recording.rate()) else { return Vec::new() };
    let mut onsets: Vec<Onset> = listener.feed(0, recording.samples()).onsets.to_vec();
    onsets.retain(|onset| onset.rise_db >= LEAST_RISE_DB);
    let mut strengths: Vec<f32> = onsets.iter().map(|onset| onset.strength_db).collect();
    // The middle of the stronger half: rebounds and rattles are many and weak.
    strengths.sort_unstable_by(f32::total_cmp);
    let half = strengths.len() / 2;
    let Some(usual_db) = median_f32(&mut strengths[half..]) else { return Vec::new() };
    let mut taps_s: Vec<f64> = Vec::new();
    for onset in onsets.iter().filter(|onset| onset.strength_db >= usual_db - WEAKER_DB) {
        let Some(at_s) = recording.time_s(onset.at_s * f64::from(recording.rate())) else { continue };
        if taps_s.last().is_none_or(|last| at_s - last >= REBOUND_S) {
            taps_s.push(at_s);
        }
    }
    taps_s
}
