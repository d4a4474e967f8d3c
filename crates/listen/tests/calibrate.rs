//! The round trip is found in noise, beside other sounds and with sweeps lost, and refused where it can't be told.

mod common;

use common::{Dice, add_noise, frames};
use sixrung_listen::{Loopback, Measurement, NotMeasured, Probe, Recording};

const BLOCK: usize = 512;

/// The probe as a microphone at `rate` hears it, each sound as late as `lag_s` of its number says, and as loud.
fn heard(probe: &Probe, rate: u32, sounds: impl Fn(usize) -> (f64, f32)) -> Vec<f32> {
    let mut heard = vec![0.0; frames((probe.length_s() + 0.5) * f64::from(rate))];
    let played = probe.sound(rate);
    for (number, start_s) in probe.starts_s().iter().enumerate() {
        let (lag_s, gain) = sounds(number);
        let from = frames(start_s * f64::from(rate));
        let at = frames((start_s + lag_s) * f64::from(rate));
        for frame in 0..frames(0.025 * f64::from(rate)) {
            heard[at + frame] += gain * played[from + frame];
        }
    }
    heard
}

fn recorded(heard: &[f32], rate: u32) -> Recording {
    let mut recording = Recording::new(rate).expect("a rate we take");
    for (index, block) in heard.chunks(BLOCK).enumerate() {
        #[expect(clippy::cast_precision_loss, reason = "seconds of samples")]
        recording.take_in(Some((index * BLOCK) as f64 / f64::from(rate)), block);
    }
    recording
}

fn loopback(heard: &[f32], rate: u32) -> Result<Loopback, NotMeasured> {
    recorded(heard, rate).loopback(&Probe::loopback())
}

/// To a tenth of a sample at 48 kHz and half of one elsewhere, where the test places sounds on whole samples.
fn check(found: &Result<Loopback, NotMeasured>, lag_ms: f64, within_ms: f64) {
    let found = found.as_ref().expect("a round trip");
    assert!((found.trip.ms - lag_ms).abs() <= within_ms, "{found:?}, wanted {lag_ms}");
    assert!(found.trip.spread_ms <= within_ms, "{found:?}");
}

#[test]
fn a_round_trip_is_found_at_any_rate_and_lag() {
    for rate in [16_000, 44_100, 48_000, 96_000] {
        for lag_ms in [-12.0, 0.0, 3.0, 42.0, 290.0, 590.0] {
            let heard = heard(&Probe::loopback(), rate, |_| (lag_ms / 1000.0, 0.1));
            check(&loopback(&heard, rate), lag_ms, 0.04);
        }
    }
}

#[test]
fn noise_as_loud_as_the_sweeps_hides_nothing() {
    for seed in 0..4 {
        let mut heard = heard(&Probe::loopback(), 48_000, |_| (0.0375, 0.2));
        // The sweep's own power over its length: 0.2 · 0.25 / √2.
        add_noise(&mut heard, 0.035, seed);
        check(&loopback(&heard, 48_000), 37.5, 0.05);
    }
}

#[test]
fn sounds_of_the_room_and_lost_sweeps_are_thrown_out() {
    let mut dice = Dice(7);
    let mut heard = heard(&Probe::loopback(), 48_000, |number| (0.060, if number % 4 == 3 { 0.0 } else { 0.1 }));
    for _ in 0..30 {
        // Knocks, five times as loud as the sweeps.
        let at = frames(dice.uniform() * 8.0 * 48_000.0);
        for frame in 0..2_000 {
            heard[at + frame] +=
                0.12 * (-0.003 * f64::from(u32::try_from(frame).expect("few"))).exp() as f32 * dice.normal() as f32;
        }
    }
    check(&loopback(&heard, 48_000), 60.0, 0.3);
}

#[test]
fn a_wall_stronger_than_the_direct_sound_is_not_taken_for_it() {
    let probe = Probe::loopback();
    let direct = heard(&probe, 48_000, |_| (0.020, 0.05));
    let wall = heard(&probe, 48_000, |_| (0.026, 0.09));
    let both: Vec<f32> = direct.iter().zip(wall).map(|(one, other)| one + other).collect();
    check(&loopback(&both, 48_000), 20.0, 0.1);
}

#[test]
fn what_can_not_be_told_is_refused_with_the_reason() {
    let probe = Probe::loopback();
    let mut silence = heard(&probe, 48_000, |_| (0.0, 0.0));
    add_noise(&mut silence, 0.01, 1);
    assert!(matches!(loopback(&silence, 48_000), Err(NotMeasured::NotHeard { .. })));
    assert!(matches!(loopback(&vec![0.0; silence.len()], 48_000), Err(NotMeasured::NotHeard { .. })));
    let wandering = heard(&probe, 48_000, |number| (0.1 + 0.03 * f64::from(u32::try_from(number).expect("few")), 0.1));
    assert!(matches!(loopback(&wandering, 48_000), Err(NotMeasured::Wandering { .. })));
    let loud: Vec<f32> = wandering.iter().map(|sample| (sample * 1e4).clamp(-1.0, 1.0)).collect();
    assert_eq!(loopback(&loud, 48_000), Err(NotMeasured::Clipped));
    assert_eq!(loopback(&silence[..200_000], 48_000), Err(NotMeasured::TooShort));
    silence[1000] = f32::NAN;
    assert_eq!(loopback(&silence, 48_000), Err(NotMeasured::Gap));
    assert!(Recording::new(4_000).is_none());
}

#[test]
fn what_of_the_band_comes_through_is_told_and_how_the_level_goes() {
    let whole = heard(&Probe::loopback(), 48_000, |_| (0.05, 0.1));
    let mut noisy = whole.clone();
    add_noise(&mut noisy, 1e-4, 3);
    assert!(loopback(&noisy, 48_000).is_ok_and(|found| found.highest_hz > 9_900.0));
    // A telephone's band: every sixth sample, held.
    let mut narrow = heard(&Probe::loopback(), 8_000, |_| (0.05, 0.1));
    add_noise(&mut narrow, 1e-4, 3);
    let found = loopback(&narrow, 8_000).expect("a round trip");
    assert!(found.highest_hz < 3_700.0, "{found:?}");
    let fading =
        heard(&Probe::loopback(), 48_000, |number| (0.05, 0.1 * 0.5_f32.powi(i32::try_from(number).expect("few"))));
    let found = loopback(&fading, 48_000).expect("a round trip");
    assert!((found.levels_db[4] + 24.1).abs() < 0.5, "{found:?}");
}

/// Taps on a guitar's body: a thud and a little wood, each `late_s` after its click.
fn tapped(late_s: impl Fn(usize) -> Option<f64>) -> Result<Measurement, NotMeasured> {
    let probe = Probe::tap_along();
    let mut heard = vec![0.0_f32; frames((probe.length_s() + 0.5) * 48_000.0)];
    add_noise(&mut heard, 0.0005, 9);
    let mut dice = Dice(11);
    for (number, click_s) in probe.starts_s().iter().enumerate() {
        let Some(late_s) = late_s(number) else { continue };
        let at = frames((click_s + late_s) * 48_000.0);
        for frame in 0..4_800 {
            let time = f64::from(u32::try_from(frame).expect("few")) / 48_000.0;
            let thud = (-time / 0.03).exp() * (std::f64::consts::TAU * 110.0 * time).sin();
            let knock = (-time / 0.004).exp() * dice.normal();
            heard[at + frame] += (0.2 * thud + 0.1 * knock) as f32;
        }
    }
    recorded(&heard, 48_000).tapped(&probe)
}

#[test]
fn taps_to_clicks_give_the_round_trip_less_the_players_anticipation() {
    let spread = |number: usize| 0.012 * (number as f64 * 2.4).sin();
    for (round_trip_s, ahead_s) in [(0.030, 0.030), (0.120, 0.020), (0.250, 0.050), (0.010, 0.060)] {
        let found = tapped(|number| Some(round_trip_s - ahead_s + spread(number))).expect("a round trip");
        let wanted = (round_trip_s - ahead_s) * 1000.0;
        assert!((found.ms - wanted).abs() < 8.0, "{found:?}, wanted {wanted}");
        assert!((3.0..25.0).contains(&found.spread_ms), "{found:?}");
    }
    // Three taps left out, two astray.
    let found = tapped(|number| match number {
        6 | 9 | 13 => None,
        8 | 15 => Some(0.27),
        _ => Some(0.08 + spread(number)),
    });
    assert!(found.as_ref().is_ok_and(|found| (found.ms - 80.0).abs() < 8.0), "{found:?}");
}

#[test]
fn taps_that_follow_no_click_are_no_round_trip() {
    assert!(matches!(tapped(|number| (number % 3 == 0).then_some(0.05)), Err(NotMeasured::NotHeard { .. })));
    let astray = tapped(|number| Some(0.5 * ((number * 7 % 10) as f64 / 10.0)));
    assert!(matches!(astray, Err(NotMeasured::Wandering { .. })), "{astray:?}");
}
