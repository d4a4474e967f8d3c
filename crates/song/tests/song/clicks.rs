//! Targets from the project's own figures: duration to the frame, clicks within 0.1 ms of each other's place, no more
//! than 1.2 times as long.

use sixrung_song::{PhaseVocoder, Stretch, StretchError, Stretcher as _};

use crate::made;
use crate::measure;

const RATE: u32 = 48_000;

/// The click as it is made.
pub(crate) fn template(rate: u32) -> Vec<f64> {
    made::clicks(&[0.0], 0.012, rate).iter().map(|frame| f64::from(frame[0])).collect()
}

#[test]
#[expect(
    clippy::cast_precision_loss,
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "test samples"
)]
fn clicks_lie_where_they_belong_at_every_rung() {
    let at_s = made::even(122.0, 0.4, 14.0);
    for rate in [44_100, RATE] {
        let sound = made::clicks(&at_s, 15.0, rate);
        for speed in [0.5, 0.6, 0.7, 0.85, 1.0] {
            let stretch = Stretch { times: 1.0 / speed, semitones: 0.0 };
            let slowed = PhaseVocoder.stretch(&sound, rate, stretch, &mut |_| true).expect("in range");
            let wanted = (sound.len() as f64 / speed).round() as usize;
            assert_eq!(
                slowed.len(),
                wanted,
                "speed {speed}: {} ppm off",
                (slowed.len() as f64 / wanted as f64 - 1.0) * 1e6
            );
            let places: Vec<f64> = at_s.iter().map(|at| made::frames(*at, rate) as f64 / speed).collect();
            let found = measure::clicks(&slowed, rate, &places, &template(rate));
            println!("{rate} Hz, speed {speed}: {found:?}");
            assert!(found.jitter_ms <= 0.1, "{rate} Hz, speed {speed}: {found:?}");
            assert!(found.worst_ms <= 0.1, "{rate} Hz, speed {speed}: {found:?}");
            assert!(found.smear <= 1.2, "{rate} Hz, speed {speed}: {found:?}");
        }
    }
}

#[test]
fn at_its_own_tempo_and_pitch_a_sound_is_left_as_it_is() {
    let sound = made::drums(&made::even(100.0, 0.1, 2.0), 2.0, RATE, 5);
    let same = Stretch { times: 1.0, semitones: 0.0 };
    assert_eq!(PhaseVocoder.stretch(&sound, RATE, same, &mut |_| true).as_deref(), Ok(&sound[..]));
}

#[test]
fn it_stops_when_told_and_refuses_what_cannot_be() {
    let sound = made::silence(2.0, RATE);
    let half = Stretch { times: 2.0, semitones: 0.0 };
    let mut asked = 0;
    let stopped = PhaseVocoder.stretch(&sound, RATE, half, &mut |_| {
        asked += 1;
        asked < 3
    });
    assert_eq!((stopped, asked), (Err(StretchError::Cancelled), 3));
    for (times, semitones, rate) in
        [(0.1, 0.0, RATE), (9.0, 0.0, RATE), (1.0, 13.0, RATE), (f64::NAN, 0.0, RATE), (2.0, f64::NAN, RATE)]
    {
        let stretch = Stretch { times, semitones };
        let refused = PhaseVocoder.stretch(&sound, rate, stretch, &mut |_| true);
        assert!(matches!(refused, Err(StretchError::Range(..))), "{times} {semitones}: {refused:?}");
    }
    let shifted = Stretch { times: 1.0, semitones: 2.0 };
    assert!(PhaseVocoder.stretch(&sound, 8_000, shifted, &mut |_| true).is_err());
}

/// Equal temperament: a semitone is the twelfth root of two (ISO 16 gives A4 = 440 Hz).
#[test]
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "test samples")]
fn a_semitone_is_a_semitone_and_the_length_stays() {
    for (semitones, times) in [(2.0, 1.0), (-3.0, 1.0), (5.0, 1.4), (0.0, 2.0)] {
        let sine = |n: usize| (std::f64::consts::TAU * 440.0 * n as f64 / f64::from(RATE)).sin() as f32 * 0.5;
        let sound: Vec<[f32; 2]> = (0..4 * RATE as usize).map(|n| [sine(n); 2]).collect();
        let stretch = Stretch { times, semitones };
        let shifted = PhaseVocoder.stretch(&sound, RATE, stretch, &mut |_| true).expect("in range");
        assert!((shifted.len() as f64 - sound.len() as f64 * times).abs() <= 0.5);
        // Crossings of zero, upward, in the middle.
        let middle = &shifted[RATE as usize..shifted.len() - RATE as usize];
        let ups: Vec<f64> = (1..middle.len())
            .filter(|n| middle[n - 1][0] < 0.0 && middle[*n][0] >= 0.0)
            .map(|n| n as f64 - f64::from(middle[n][0]) / f64::from(middle[n][0] - middle[n - 1][0]))
            .collect();
        let periods = (ups.len() - 1) as f64;
        let hertz = periods * f64::from(RATE) / (ups[ups.len() - 1] - ups[0]);
        let cents = 1200.0 * (hertz / 440.0).log2() - 100.0 * semitones;
        println!("{semitones} semitones, {times} times: {cents:.2} cents off");
        assert!(cents.abs() < 3.0, "{semitones} semitones, {times} times: {hertz} Hz, {cents} cents off");
    }
}
