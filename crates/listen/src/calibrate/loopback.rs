//! Our own sweeps in the microphone.

use super::probe::Probe;
use super::recording::Recording;
use super::sweep::{Arrival, LENGTH_S, Sweep};
use super::{Measurement, NotMeasured, agree};
use crate::median::median;
use crate::own::LARGEST_LAG_S;

/// A sweep stands so far above the middle of its own correlation, as an amplitude (15 dB): the largest of thirty
/// thousand values of noise stands 12 dB above the middle one (Rayleigh's distribution).
const CLEARLY: f64 = 5.6;
/// Where all together show the place, one sweep needs less there (9 dB).
const CLEARLY_AT_PLACE: f64 = 2.8;
/// This near to the common place, in seconds.
const PLACE_S: f64 = 0.003;
/// Single measurements farther off than this, in seconds, are thrown out: a sound server's stamps wander by 2 to 3 ms.
const APART_S: f64 = 0.005;
/// Those kept may spread so far, in seconds: an eighth of the narrowest timing window.
const LARGEST_SPREAD_S: f64 = 0.005;
/// The sweep's band is looked at in so many parts, and one is heard where it stands this far above the noise, as a
/// The most by which drivers' time stamps can make a sweep seem heard before it was played, in seconds: 8 ms were seen
/// with a sound server's own loopback.
const LARGEST_LEAD_S: f64 = 0.020;
/// power, and not so far below the strongest. Design choices of ours: 10 and 30 dB.
const BANDS: usize = 10;
const BAND_ABOVE_NOISE: f64 = 10.0;
const BAND_BELOW_STRONGEST: f64 = 1e-3;

/// What our own sweeps tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Loopback {
    /// The round trip.
    pub trip: Measurement,
    /// How far the sweeps stand above the room's noise in their correlation, in decibels: the median, 120 at most.
    pub above_noise_db: f64,
    /// How strongly each sweep was heard, in decibels re the first; silence is −120.
    pub levels_db: Vec<f64>,
    /// The highest pitch that comes through, in hertz, up to the sweep's own highest.
    pub highest_hz: f64,
    /// The highest there was to come through.
    pub asked_hz: f64,
}

/// One sweep as looked for.
struct Look<'a> {
    first_s: f64,
    start_s: f64,
    heard: &'a [f32],
    envelope: Vec<f64>,
    noise: f64,
}

impl Look<'_> {
    /// From the sound's start on the output's clock to an arrival.
    fn lag_s(&self, arrival: Arrival) -> f64 {
        self.first_s - self.start_s + arrival.lag_s
    }
}

pub(super) fn find(recording: &Recording, probe: &Probe) -> Result<Loopback, NotMeasured> {
    let sweep = Sweep::new(f64::from(recording.rate()));
    let looks: Vec<Look<'_>> =
        probe.starts_s().iter().filter_map(|start_s| look(recording, &sweep, *start_s)).collect();
    let asked = probe.starts_s().len();
    let clear = |look: &Look<'_>, arrival: Arrival, least: f64| arrival.strength >= least * look.noise;
    let mut arrivals: Vec<Option<Arrival>> = looks
        .iter()
        .map(|look| sweep.arrival(&look.envelope).filter(|arrival| clear(look, *arrival, CLEARLY)))
        .collect();
    if arrivals.iter().flatten().count() * 2 < asked {
        let Some(place_s) = common_place(&looks, recording.rate()) else {
            return Err(NotMeasured::NotHeard { heard: 0, asked });
        };
        for (look, arrival) in looks.iter().zip(&mut arrivals) {
            *arrival =
                near(look, &sweep, place_s, recording.rate()).filter(|arrival| clear(look, *arrival, CLEARLY_AT_PLACE));
        }
    }
    let heard = || looks.iter().zip(&arrivals).filter_map(|(look, arrival)| Some((look, (*arrival)?)));
    let trip = agree(heard().map(|(look, arrival)| look.lag_s(arrival)).collect(), asked, APART_S, LARGEST_SPREAD_S)?;
    let mut above: Vec<f64> = heard().map(|(look, arrival)| decibels(arrival.strength / look.noise)).collect();
    let levels: Vec<f64> =
        looks.iter().zip(&arrivals).map(|(_, arrival)| arrival.map_or(0.0, |arrival| arrival.strength)).collect();
    let first = levels.iter().copied().find(|level| *level > 0.0).unwrap_or(1.0);
    Ok(Loopback {
        trip,
        above_noise_db: median(&mut above).unwrap_or(0.0).min(120.0),
        levels_db: levels.iter().map(|level| decibels(level / first)).collect(),
        highest_hz: highest_hz(heard(), recording, &sweep),
        asked_hz: sweep.highest_hz(),
    })
}

fn look<'a>(recording: &'a Recording, sweep: &Sweep, start_s: f64) -> Option<Look<'a>> {
    let (first_s, heard) = recording.from(start_s - LARGEST_LEAD_S, LARGEST_LEAD_S + LARGEST_LAG_S + LENGTH_S)?;
    let envelope = sweep.envelope(heard);
    let noise = median(&mut envelope.clone())?.max(1e-12);
    Some(Look { first_s, start_s, heard, envelope, noise })
}

/// Where all sweeps together stand out, in seconds after their starts: their envelopes, each by its own noise, added.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "samples")]
fn common_place(looks: &[Look<'_>], rate: u32) -> Option<f64> {
    let length = looks.iter().map(|look| look.envelope.len()).min()?;
    let mut sum = vec![0.0; length];
    // Stamps wander: each is widened to its largest value nearby.
    let reach = (0.001 * f64::from(rate)) as usize;
    for look in looks {
        for (index, sum) in sum.iter_mut().enumerate() {
            let around = &look.envelope[index.saturating_sub(reach)..(index + reach + 1).min(length)];
            *sum += (around.iter().copied().fold(0.0, f64::max) / look.noise).min(CLEARLY);
        }
    }
    let (top, _) = sum.iter().enumerate().max_by(|one, other| one.1.total_cmp(other.1))?;
    Some(top as f64 / f64::from(rate))
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, clippy::cast_precision_loss, reason = "samples")]
fn near(look: &Look<'_>, sweep: &Sweep, place_s: f64, rate: u32) -> Option<Arrival> {
    let rate = f64::from(rate);
    let from = ((place_s - PLACE_S).max(0.0) * rate) as usize;
    let to = (((place_s + PLACE_S) * rate) as usize).min(look.envelope.len());
    let arrival = sweep.arrival(look.envelope.get(from..to)?)?;
    Some(Arrival { lag_s: arrival.lag_s + from as f64 / rate, ..arrival })
}

/// The upper edge of the highest part of the band that comes through, the parts' powers added over all sweeps.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "samples")]
fn highest_hz<'a>(heard: impl Iterator<Item = (&'a Look<'a>, Arrival)>, recording: &Recording, sweep: &Sweep) -> f64 {
    let (mut own, mut noise) = ([0.0; BANDS], [0.0; BANDS]);
    for (look, arrival) in heard {
        let place = (arrival.lag_s * f64::from(recording.rate())).round() as usize;
        // Beside the sweep and its room: half the largest lag on.
        let half = look.envelope.len() / 2;
        let beside = (place + half) % look.envelope.len();
        add(&mut own, sweep.bands(look.heard, place, BANDS).as_deref());
        add(&mut noise, sweep.bands(look.heard, beside, BANDS).as_deref());
    }
    let strongest = own.iter().copied().fold(0.0, f64::max);
    let comes_through =
        |band: usize| own[band] > BAND_ABOVE_NOISE * noise[band] && own[band] > BAND_BELOW_STRONGEST * strongest;
    let highest = (0..BANDS).rev().find(|band| comes_through(*band)).unwrap_or(0);
    sweep.edges_hz(BANDS)[highest]
}

fn add(sums: &mut [f64; BANDS], amplitudes: Option<&[f64]>) {
    for (sum, amplitude) in sums.iter_mut().zip(amplitudes.into_iter().flatten()) {
        *sum += amplitude * amplitude;
    }
}

fn decibels(amplitude: f64) -> f64 {
    20.0 * amplitude.max(1e-6).log10()
}
