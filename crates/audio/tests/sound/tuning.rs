//! In tune: the first partial against equal temperament at A4 = 440 Hz (ISO 16).

use std::f64::consts::TAU;

use sixrung_audio::{Decibels, Instrument, Render, RenderOptions, Strings};
use sixrung_timeline::{Pitch, Tick};

use crate::hand_made::{OPEN, pluck, timeline};

/// Cents between the first partial of a key played at `rate` and its pitch.
fn cents_off(rate: u32, string: u8, key: u8) -> f64 {
    let expected = 440.0 * ((f64::from(key) - 69.0) / 12.0).exp2();
    1200.0 * (first_partial(&Instrument::guitar(), rate, string, key, expected) / expected).log2()
}

/// The first partial of a key in hertz, which lies near `expected`. Its phase is read twice, half a second apart,
/// through a Blackman–Harris window half a second long.
fn first_partial(instrument: &Instrument, rate: u32, string: u8, key: u8, expected: f64) -> f64 {
    let mut bar = timeline(1, rate, 120_000, vec![pluck(0, string, key, 0.8)]);
    (bar.passes, bar.cycle) = (Some(1), Tick(1920));
    let instrument = instrument.clone();
    let options =
        RenderOptions { kit: instrument.into(), click: Decibels::SILENCE, tail_s: 0.7, ..RenderOptions::default() };
    let sound = Render::new(bar, &options).expect("it ends").samples();
    let half = rate as usize / 2;
    let phase = |from: usize| {
        let (mut re, mut im) = (0.0, 0.0);
        for (index, frame) in sound.chunks_exact(2).enumerate().skip(from).take(half) {
            let within = TAU * (index - from) as f64 / half as f64;
            let window =
                0.35875 - 0.48829 * within.cos() + 0.14128 * (2.0 * within).cos() - 0.01168 * (3.0 * within).cos();
            // The angle at the expected frequency, reduced before it grows.
            let angle = TAU * (expected * index as f64 / f64::from(rate)).fract();
            re += window * f64::from(frame[0]) * angle.cos();
            im -= window * f64::from(frame[0]) * angle.sin();
        }
        im.atan2(re)
    };
    let from = 2 * half / 5;
    let turned = (phase(from + half) - phase(from) + 1.5 * TAU).rem_euclid(TAU) - TAU / 2.0;
    expected + turned / TAU / (half as f64 / f64::from(rate))
}

/// Every semitone from `lowest` to `highest`, each on the heaviest string that is not above it.
fn check(rate: u32, lowest: u8, highest: u8, tolerance_cents: f64) {
    let mut worst = 0.0_f64;
    for key in lowest..=highest {
        let string = (0_u8..).zip(OPEN).filter(|(_, open)| *open <= key).map(|(string, _)| string).last();
        let off = cents_off(rate, string.unwrap_or(0), key);
        assert!(off.abs() <= tolerance_cents, "key {key} at {rate} Hz: {off:.4} cents off");
        worst = worst.max(off.abs());
    }
    println!("{rate} Hz, keys {lowest} to {highest}: at most {worst:.5} cents off");
}

const E1: u8 = 28;
const E2: u8 = 40;
const E6: u8 = 88;

#[test]
fn every_pitch_is_in_tune_at_44100() {
    check(44_100, E2, E6, 0.05);
}

#[test]
fn every_pitch_is_in_tune_at_48000() {
    check(48_000, E2, E6, 0.05);
}

#[test]
fn every_pitch_is_in_tune_at_96000() {
    check(96_000, E2, E6, 0.05);
}

#[test]
fn low_tunings_and_unusual_rates_stay_within_a_cent() {
    check(48_000, E1, E2, 1.0);
    check(22_050, E1, E6, 1.0);
    check(192_000, E1, E1 + 6, 1.0);
    check(192_000, E6 - 6, E6, 1.0);
    check(8_000, E2, E6, 1.0);
}

/// Frequencies of the equally tempered scale at A4 = 440 Hz (ISO 16), in hertz to two decimals as handbooks print them
/// (from memory).
const HANDBOOK: [(u8, f64); 12] = [
    (40, 82.41),
    (43, 98.00),
    (45, 110.00),
    (48, 130.81),
    (50, 146.83),
    (55, 196.00),
    (59, 246.94),
    (60, 261.63),
    (64, 329.63),
    (69, 440.00),
    (76, 659.26),
    (88, 1318.51),
];

#[test]
fn pitches_sound_as_handbooks_print_them_on_steel_and_on_nylon() {
    for strings in [Strings::Steel, Strings::Nylon] {
        let guitar = Instrument::guitar().strung(strings);
        for (key, printed) in HANDBOOK {
            let string = (0_u8..).zip(OPEN).filter(|(_, open)| *open <= key).map(|(string, _)| string).last();
            let found = first_partial(&guitar, 48_000, string.expect("none is lower"), key, printed);
            let tolerance = 0.005 + printed * ((0.05_f64 / 1200.0).exp2() - 1.0);
            assert!((found - printed).abs() <= tolerance, "{strings:?}, key {key}: {found:.4} Hz for {printed}");
        }
    }
}

/// From a ukulele's four strings to an eight-string with F sharp at the bottom; each string open,
/// with a capo at the third fret, and at the twelfth.
#[test]
fn four_to_eight_strings_in_any_tuning_are_in_tune_with_and_without_a_capo() {
    let tunings: [&[u8]; 4] =
        [&[55, 60, 64, 69], &[38, 45, 50, 54, 57], &[35, 40, 45, 50, 55, 59, 64], &[30, 35, 40, 45, 50, 55, 59, 64]];
    for tuning in tunings {
        let open: Vec<Pitch> = tuning.iter().copied().map(Pitch).collect();
        let instrument = Instrument::new(&open).expect("four to eight strings");
        for (string, open) in (0_u8..).zip(tuning) {
            for capo in [0, 3, 12] {
                let key = open + capo;
                let expected = 440.0 * ((f64::from(key) - 69.0) / 12.0).exp2();
                let found = first_partial(&instrument, 44_100, string, key, expected);
                let off = 1200.0 * (found / expected).log2();
                assert!(off.abs() <= 0.05, "{tuning:?}, string {string}, capo {capo}: {off:.4} cents off");
            }
        }
    }
}
