//! The metronome's sound: something struck, in three kinds.

use std::f64::consts::TAU;

use sixrung_timeline::ClickKind;

use crate::smooth::frames;

/// What is struck.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum ClickSound {
    /// A block of wood.
    #[default]
    Wood,
    /// A small bar of metal, which rings a little.
    Bell,
    /// A fingernail on a table: as short as a click can be.
    Tick,
}

/// The highest beat of a count-in with a pitch of its own; later ones sound like it.
const LAST_COUNT: u8 = 7;

/// Every kind, in the order of their tables.
pub(crate) fn kinds() -> impl Iterator<Item = ClickKind> {
    [ClickKind::Bar, ClickKind::Beat, ClickKind::Between].into_iter().chain((1..=LAST_COUNT).map(ClickKind::Count))
}

/// The place of a kind in [`kinds`].
///
/// # Real-time
/// Arithmetic only.
pub(crate) fn index(kind: ClickKind) -> u16 {
    match kind {
        ClickKind::Bar | ClickKind::Count(0) => 0,
        ClickKind::Beat => 1,
        ClickKind::Between => 2,
        ClickKind::Count(beat) => 2 + u16::from(beat.min(LAST_COUNT)),
    }
}

/// Peak, pitch of the lowest mode in hertz, and its decay time in seconds. A click is set by its peak, which must not
/// exceed −6 dBFS (a design choice of ours: it is never made as loud as the music by loudness).
fn voice(sound: ClickSound, kind: ClickKind) -> (f64, f64, f64) {
    let (peak, step) = match kind {
        ClickKind::Bar | ClickKind::Count(0) => (0.50, 0.0),
        ClickKind::Beat => (0.34, 0.0),
        ClickKind::Between => (0.14, 0.0),
        // Whole tones up from the beat: the count-in walks towards the first beat.
        ClickKind::Count(beat) => (0.34, 2.0 * f64::from(beat.min(LAST_COUNT))),
    };
    let is_first = index(kind) == 0;
    let (first_hz, later_hz, t60_s) = match sound {
        ClickSound::Wood => (1480.0, 1110.0, 0.048),
        ClickSound::Bell => (2093.0, 1568.0, 0.300),
        ClickSound::Tick => (3200.0, 2400.0, 0.012),
    };
    let t60_s = if kind == ClickKind::Between { 0.6 * t60_s } else { t60_s };
    (peak, (if is_first { first_hz } else { later_hz }) * (step / 12.0).exp2(), t60_s)
}

/// The modes of a bar with free ends lie at 1 : 2.756 : 5.404 (Euler–Bernoulli); level and decay relative to the first.
const MODES: [(f64, f64, f64); 3] = [(1.0, 1.0, 1.0), (2.756, 0.35, 0.5), (5.404, 0.12, 0.25)];

/// The samples of a click. The first is not zero: a click begins on its frame.
pub(crate) fn table(rate: u32, sound: ClickSound, kind: ClickKind) -> Box<[f32]> {
    let (peak, hertz, t60_s) = voice(sound, kind);
    let rate_hz = f64::from(rate);
    let hertz = hertz.min(0.35 * rate_hz);
    let attack = 0.0004 * rate_hz;
    let length = frames(rate, 1.2 * t60_s);
    let wave: Vec<f64> = (1..=length)
        .map(|frame| {
            let at = f64::from(frame);
            let modes: f64 = MODES
                .iter()
                .filter(|(ratio, ..)| ratio * hertz < 0.4 * rate_hz)
                .map(|(ratio, level, share)| {
                    level * (TAU * ratio * hertz * at / rate_hz).sin() * decay(at / rate_hz, t60_s * share)
                })
                .sum();
            let closing = (f64::from(length - frame) / (0.1 * f64::from(length))).min(1.0);
            modes * (at / attack).min(1.0) * closing
        })
        .collect();
    normalised(&wave, peak)
}

/// Fallen by 60 dB after `t60_s`.
pub(crate) fn decay(seconds: f64, t60_s: f64) -> f64 {
    10.0_f64.powf(-3.0 * seconds / t60_s)
}

/// `wave` with its largest sample at `peak`.
pub(crate) fn normalised(wave: &[f64], peak: f64) -> Box<[f32]> {
    let largest = wave.iter().fold(f64::MIN_POSITIVE, |largest, sample| largest.max(sample.abs()));
    #[expect(clippy::cast_possible_truncation, reason = "samples are single precision")]
    wave.iter().map(|sample| (sample / largest * peak) as f32).collect()
}

#[cfg(test)]
mod tests {
    use sixrung_timeline::ClickKind;

    use super::{ClickSound, LAST_COUNT, index, kinds, table};

    const SOUNDS: [ClickSound; 3] = [ClickSound::Wood, ClickSound::Bell, ClickSound::Tick];

    #[test]
    fn every_kind_has_its_place() {
        for (place, kind) in kinds().enumerate() {
            assert_eq!(usize::from(index(kind)), place, "{kind:?}");
        }
        assert_eq!(index(ClickKind::Count(200)), index(ClickKind::Count(LAST_COUNT)));
    }

    #[test]
    fn every_click_begins_on_its_frame_and_stays_under_its_peak() {
        for rate in [8_000, 44_100, 192_000] {
            for sound in SOUNDS {
                for kind in kinds() {
                    let samples = table(rate, sound, kind);
                    let peak = samples.iter().fold(0.0_f32, |peak, sample| peak.max(sample.abs()));
                    assert!(samples[0] != 0.0, "{sound:?} {kind:?} at {rate}");
                    assert!(peak <= 0.5 && peak > 0.1, "{sound:?} {kind:?} at {rate}: peak {peak}");
                    assert!(samples.iter().all(|sample| sample.is_finite()));
                }
            }
        }
    }
}
