//! The tuner against strings of known pitch, made here partial by partial.

mod common;

use std::f64::consts::TAU;

use common::Dice;
use sixrung_lesson::{Pitch, Tuning};
use sixrung_listen::{Reading, Sounding, Tuner};

/// A plucked stiff string: partials at n·f0·√(1 + B·n²) (Fletcher 1964), the higher the shorter.
#[derive(Clone, Copy)]
struct Plucked {
    /// First partial in hertz.
    hertz: f64,
    stiffness: f64,
    /// How much less power the first partial has than a plucked string's, in decibels.
    weak_first_db: f64,
}

const STEEL: f64 = 6e-5;

fn string(key: u8, cents: f64) -> Plucked {
    // ISO 16: A4, key 69, is 440 Hz; twelve equal steps an octave.
    let hertz = 440.0 * ((f64::from(key) - 69.0 + cents / 100.0) / 12.0).exp2();
    Plucked { hertz, stiffness: STEEL, weak_first_db: 0.0 }
}

#[expect(clippy::cast_possible_truncation, reason = "samples")]
fn sound(plucked: Plucked, rate: u32, length_s: f64, noise: f64) -> Vec<f32> {
    let rate = f64::from(rate);
    let base = plucked.hertz / (1.0 + plucked.stiffness).sqrt();
    let mut dice = Dice(plucked.hertz.to_bits());
    (0..(length_s * rate) as u32)
        .map(|frame| {
            // A third of a second of the room first.
            let time = f64::from(frame) / rate - 0.3;
            let hiss = noise * dice.normal();
            if time < 0.0 {
                return hiss as f32;
            }
            let partials = (1..=12).map(f64::from).map(|number| {
                let hertz = number * base * (1.0 + plucked.stiffness * number * number).sqrt();
                let weak = if number == 1.0 { 10_f64.powf(-plucked.weak_first_db / 20.0) } else { 1.0 };
                let heard = if hertz < 0.45 * rate { weak / number } else { 0.0 };
                heard * (-number * time).exp() * (TAU * hertz * time + number).sin()
            });
            (0.2 * partials.sum::<f64>() + hiss) as f32
        })
        .collect()
}

fn hear(tuner: &mut Tuner, sound: &[f32]) -> Vec<Sounding> {
    sound.chunks(441).map(|block| tuner.feed(block)).collect()
}

fn tuner(rate: u32, tuning: &str) -> Tuner {
    let open = tuning.split(' ').map(|name| Pitch::parse(name).expect("a pitch")).collect();
    Tuner::new(rate, &Tuning::new(open).expect("4 to 8 strings"), 0).expect("a rate we take")
}

fn last(heard: &[Sounding]) -> Reading {
    match heard.last() {
        Some(Sounding::String(reading)) => *reading,
        other => panic!("no string: {other:?}"),
    }
}

const GUITAR: &str = "E2 A2 D3 G3 B3 E4";

fn check(tuning: &str, rate: u32, expected: (usize, f64), plucked: Plucked) {
    let heard = hear(&mut tuner(rate, tuning), &sound(plucked, rate, 1.2, 1e-5));
    let reading = last(&heard);
    assert_eq!(reading.string, expected.0, "{tuning} {} Hz at {rate}: {reading:?}", plucked.hertz);
    assert!((reading.cents - expected.1).abs() < 0.3, "{tuning} {} Hz at {rate}: {reading:?}", plucked.hertz);
    assert!(reading.is_steady, "{tuning} {} Hz at {rate}: {reading:?}", plucked.hertz);
}

#[test]
fn every_string_is_named_and_read_within_a_third_of_a_cent() {
    for (index, key) in [40, 45, 50, 55, 59, 64].into_iter().enumerate() {
        for cents in [-150.0, -40.0, 0.0, 7.0, 150.0] {
            check(GUITAR, 44_100, (index, cents), string(key, cents));
        }
    }
}

#[test]
fn any_rate_will_do() {
    for rate in [8_000, 11_025, 16_000, 22_050, 48_000, 96_000, 192_000] {
        check(GUITAR, rate, (0, -12.0), string(40, -12.0));
        check(GUITAR, rate, (5, 9.0), string(64, 9.0));
    }
}

#[test]
fn tunings_of_four_to_eight_strings_are_known_low_or_out_of_order() {
    check("B1 E2 A2 D3 G3 B3 E4", 48_000, (0, 11.0), string(35, 11.0));
    check("F#1 B1 E2 A2 D3 G3 B3 E4", 48_000, (0, -8.0), string(30, -8.0));
    // A ukulele's heaviest-written string is its second highest.
    check("G4 C4 E4 A4", 48_000, (0, -20.0), string(67, -20.0));
    check("G4 C4 E4 A4", 48_000, (3, 20.0), string(69, 20.0));
}

#[test]
fn the_period_of_a_stiff_string_is_not_its_pitch() {
    check(GUITAR, 44_100, (0, 0.0), Plucked { stiffness: 2e-4, ..string(40, 0.0) });
    check(GUITAR, 44_100, (2, 0.0), Plucked { stiffness: 0.0, ..string(50, 0.0) });
}

#[test]
fn a_string_whose_first_partial_hides_is_not_read_an_octave_up() {
    for key in [40, 45, 50, 55, 59, 64] {
        let string_of = |reading: Reading| reading.target.0;
        let plucked = Plucked { weak_first_db: 30.0, ..string(key, 4.0) };
        let heard = hear(&mut tuner(48_000, GUITAR), &sound(plucked, 48_000, 1.5, 1e-4));
        for reading in heard.iter().filter_map(|heard| match heard {
            Sounding::String(reading) => Some(*reading),
            _ => None,
        }) {
            assert_eq!(string_of(reading), key, "{reading:?}");
        }
        assert!((last(&heard).cents - 4.0).abs() < 1.0);
    }
}

#[test]
fn a_string_keeps_its_name_when_its_third_partial_outlasts_the_others() {
    // FluidR3's steel A2 is for moments nearly all partial 3, the pitch of E4.
    #[expect(clippy::cast_possible_truncation, reason = "samples")]
    let sound: Vec<f32> = (0..48_000 * 3)
        .map(|frame| {
            let time = f64::from(frame) / 48_000.0 - 0.3;
            let partial = |number: f64| {
                let decay = if number == 3.0 { 0.2 } else { 1.5 };
                (-decay * time).exp() * (TAU * number * 110.0 * time + number).sin() / number
            };
            if time < 0.0 { 0.0 } else { (0.2 * (1..=7).map(f64::from).map(partial).sum::<f64>()) as f32 }
        })
        .collect();
    let heard = hear(&mut tuner(48_000, GUITAR), &sound);
    for heard in &heard {
        assert!(!matches!(heard, Sounding::String(reading) if reading.string != 1), "{heard:?}");
    }
    assert!(last(&heard).cents.abs() < 0.5);
}

#[test]
fn a_gap_keeps_the_note() {
    let plucked = sound(string(45, 6.0), 44_100, 2.0, 1e-5);
    let mut tuner = tuner(44_100, GUITAR);
    hear(&mut tuner, &plucked[..44_100]);
    tuner.gap();
    // A tenth of a second is gone.
    let reading = last(&hear(&mut tuner, &plucked[48_510..80_000]));
    assert!((reading.cents - 6.0).abs() < 0.3, "{reading:?}");
}

#[test]
fn a_quarter_second_is_enough_for_two_cents() {
    for key in [40, 45, 50, 55, 59, 64] {
        let heard = hear(&mut tuner(44_100, GUITAR), &sound(string(key, 31.0), 44_100, 0.3 + 0.25, 1e-4));
        assert!((last(&heard).cents - 31.0).abs() < 2.0, "{key}: {:?}", last(&heard));
    }
}

#[test]
fn noise_ten_decibels_down_costs_no_more_than_a_cent() {
    for key in [40, 45, 50, 55, 59, 64] {
        let heard = hear(&mut tuner(44_100, GUITAR), &sound(string(key, -17.0), 44_100, 0.8, 0.03));
        assert!((last(&heard).cents + 17.0).abs() < 1.0, "{key}: {:?}", last(&heard));
    }
}

#[test]
fn the_capo_raises_every_string() {
    let mut tuner = Tuner::new(44_100, &Tuning::standard_guitar(), 3).expect("a rate we take");
    let reading = last(&hear(&mut tuner, &sound(string(43, 5.0), 44_100, 1.0, 1e-5)));
    assert_eq!((reading.string, reading.target), (0, Pitch(43)));
}

#[test]
fn a_pinned_string_is_followed_past_its_neighbour() {
    // A new B string, three semitones slack, is a G string but for what the player says.
    let slack = sound(string(59, -300.0), 44_100, 1.2, 1e-5);
    let mut tuner = tuner(44_100, GUITAR);
    assert_eq!(last(&hear(&mut tuner, &slack)).string, 3);
    tuner.pin(Some(4));
    tuner.feed(&vec![0.0; 44_100]);
    let reading = last(&hear(&mut tuner, &slack));
    assert_eq!(reading.string, 4);
    assert!((reading.cents + 300.0).abs() < 0.3, "{reading:?}");
}

#[test]
fn nothing_is_read_where_nothing_rings() {
    let never_a_string = |name: &str, sound: &[f32]| {
        let heard = hear(&mut tuner(48_000, GUITAR), sound);
        let strings = heard.iter().filter(|heard| matches!(heard, Sounding::String(_))).count();
        assert_eq!(strings, 0, "{name}");
    };
    never_a_string("silence", &vec![0.0; 96_000]);
    never_a_string("no number", &vec![f32::NAN; 96_000]);
    let mut dice = Dice(5);
    #[expect(clippy::cast_possible_truncation, reason = "samples")]
    let hiss: Vec<f32> = (0..144_000).map(|at| (dice.normal() * if at > 48_000 { 0.1 } else { 0.01 }) as f32).collect();
    never_a_string("hiss that swells", &hiss);
    for mains in [50.0, 60.0] {
        for loudest in [1.0, 2.0, 3.0] {
            // Hum with one strong harmonic, from the start and switched on.
            for starts in [0, 24_000] {
                #[expect(clippy::cast_possible_truncation, reason = "samples")]
                let hum: Vec<f32> = (0..192_000)
                    .map(|frame| {
                        let time = f64::from(frame) / 48_000.0;
                        let tone = |n: f64, level: f64| level * (TAU * mains * n * time).sin();
                        let hum = tone(1.0, 0.02) + tone(2.0, 0.01) + tone(3.0, 0.01) + tone(loudest, 0.1);
                        (if frame < starts { 0.0 } else { hum }) as f32
                    })
                    .collect();
                never_a_string(&format!("{mains} Hz, harmonic {loudest}, from {starts}"), &hum);
            }
        }
    }
}

#[test]
fn blocks_of_any_length_read_the_same() {
    let plucked = sound(string(45, -3.0), 48_000, 1.0, 1e-4);
    let whole = tuner(48_000, GUITAR).feed(&plucked);
    let mut single = tuner(48_000, GUITAR);
    for sample in &plucked {
        single.feed(std::slice::from_ref(sample));
    }
    assert_eq!(single.sounding(), whole);
}
