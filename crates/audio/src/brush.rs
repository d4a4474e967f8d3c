//! Brushes on a drum: a sweep that swells and ebbs, and a tap.

use std::f64::consts::TAU;

use sixrung_timeline::Brush;

use crate::band::Band;
use crate::click::{decay, normalised};
use crate::noise::Noise;
use crate::smooth::frames;

/// The place of a brush's table among the brushes'.
pub(crate) const fn index(brush: Brush) -> u16 {
    match brush {
        Brush::Sweep => 0,
        Brush::Tap => 1,
    }
}

/// Both, in the order of their tables.
pub(crate) const BRUSHES: [Brush; 2] = [Brush::Sweep, Brush::Tap];

/// A drum's first mode in hertz, heard under a tap; its overtones at 1.59 and 2.14 (an ideal round membrane, Fletcher &
/// Rossing).
const SKIN_HZ: f64 = 190.0;
const SKIN: [(f64, f64); 3] = [(1.0, 1.0), (1.594, 0.6), (2.136, 0.4)];

/// The samples of a brush at full velocity. Lengths, bands and peaks are design choices of ours.
pub(crate) fn table(rate: u32, brush: Brush) -> Box<[f32]> {
    let rate_hz = f64::from(rate);
    let (length_s, peak, band) = match brush {
        Brush::Sweep => (0.26, 0.055, (1800.0, 6000.0)),
        Brush::Tap => (0.16, 0.16, (900.0, 7000.0)),
    };
    let length = frames(rate, length_s);
    let mut noise = Noise::new(u32::from(index(brush)) + 77);
    let mut rough = Band::<1>::new(rate_hz, band);
    let wave: Vec<f64> = (1..=length)
        .map(|frame| {
            let at_s = f64::from(frame) / rate_hz;
            let scrape = rough.filter(noise.next());
            match brush {
                Brush::Sweep => scrape * (TAU / 2.0 * f64::from(frame) / f64::from(length)).sin().powi(2),
                Brush::Tap => {
                    let skin: f64 = SKIN
                        .iter()
                        .map(|(ratio, level)| level * (TAU * SKIN_HZ * ratio * at_s).sin() * decay(at_s, 0.11 / ratio))
                        .sum();
                    let rise = (at_s / 0.0012).min(1.0);
                    rise * (scrape * decay(at_s, 0.09) + 0.12 * skin)
                }
            }
        })
        .collect();
    normalised(&wave, peak)
}

#[cfg(test)]
mod tests {
    use super::{BRUSHES, index, table};

    #[test]
    fn brushes_keep_their_places_and_end_in_silence() {
        for (place, brush) in BRUSHES.into_iter().enumerate() {
            assert_eq!(usize::from(index(brush)), place);
            for rate in [8_000, 48_000, 192_000] {
                let sound = table(rate, brush);
                assert!(sound.iter().all(|sample| sample.is_finite() && sample.abs() < 0.2));
                let last = sound[sound.len() - 8..].iter().fold(0.0_f32, |last, sample| last.max(sample.abs()));
                assert!(last < 0.002, "{brush:?} at {rate} ends with {last}");
            }
        }
    }
}
