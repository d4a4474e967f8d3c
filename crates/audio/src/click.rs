//! The metronome's sound: a struck block of wood.

use std::f64::consts::TAU;

use sixrung_timeline::ClickKind;

use crate::smooth::frames;

/// Every kind, in the order of their tables.
pub(crate) const KINDS: [ClickKind; 3] = [ClickKind::Bar, ClickKind::Beat, ClickKind::Between];

/// The place of a kind in [`KINDS`].
///
/// # Real-time
/// A constant.
pub(crate) const fn index(kind: ClickKind) -> u16 {
    match kind {
        ClickKind::Bar => 0,
        ClickKind::Beat => 1,
        ClickKind::Between => 2,
    }
}

/// Peak, pitch of the lowest mode in hertz, and its decay time in seconds. A click is set by its peak, which must not
/// exceed −6 dBFS (a design choice of ours: it is never made as loud as the music by loudness).
const fn voice(kind: ClickKind) -> (f64, f64, f64) {
    match kind {
        ClickKind::Bar => (0.50, 1480.0, 0.050),
        ClickKind::Beat => (0.34, 1110.0, 0.045),
        ClickKind::Between => (0.14, 1110.0, 0.028),
    }
}

/// The modes of a bar with free ends lie at 1 : 2.756 : 5.404 (Euler–Bernoulli); level and decay relative to the first.
const MODES: [(f64, f64, f64); 3] = [(1.0, 1.0, 1.0), (2.756, 0.35, 0.5), (5.404, 0.12, 0.25)];

/// The samples of a click. The first is not zero: a click begins on its frame.
pub(crate) fn table(rate: u32, kind: ClickKind) -> Box<[f32]> {
    let (peak, hertz, t60_s) = voice(kind);
    let rate_hz = f64::from(rate);
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
