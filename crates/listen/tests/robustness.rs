//! What is no guitar is never clean, and nothing makes the ear fall over.

mod common;

use std::f64::consts::TAU;

use common::{Dice, add_noise, frames, plan, strummed};
use proptest::prelude::{ProptestConfig, any, prop, proptest};
use sixrung_listen::{Reason, TakeOptions, TakeVerdict, Verdict, judge_take};

const RATE: u32 = 16_000;
const LENGTH_S: f64 = 8.0;

fn judged(sound: &[f32], starts_at_s: Option<f64>) -> TakeVerdict {
    let options = TakeOptions { starts_at_s, ..TakeOptions::default() };
    judge_take(sound, RATE, &[plan(16, 0.4, 0.2)], &options).expect("a rate we take")
}

#[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "samples")]
fn sound(of: impl Fn(f64) -> f64) -> Vec<f32> {
    (0..frames(LENGTH_S * f64::from(RATE))).map(|frame| of(frame as f64 / f64::from(RATE)) as f32).collect()
}

/// Syllables four a second: a buzz of 110 Hz through two formants, and a hiss before each.
fn speech() -> Vec<f32> {
    let mut voiced = sound(|time| {
        let syllable = (TAU * 2.0 * time).sin().powi(2);
        let buzz = |k: f64| (TAU * 110.0 * k * time).sin() * (-((110.0 * k - 600.0) / 300.0).powi(2)).exp();
        0.1 * syllable * (1..20).map(|k| buzz(f64::from(k))).sum::<f64>()
    });
    let mut hiss = vec![0.0; voiced.len()];
    add_noise(&mut hiss, 0.02, 5);
    for (frame, (voice, hiss)) in voiced.iter_mut().zip(hiss).enumerate() {
        *voice += if frame % 4000 < 600 { hiss } else { 0.0 };
    }
    voiced
}

#[test]
fn silence_noise_hum_tones_and_speech_are_never_clean() {
    let mut noise = sound(|_| 0.0);
    add_noise(&mut noise, 0.1, 1);
    let hum = |hertz: f64| sound(move |time| 0.3 * (TAU * hertz * time).sin() + 0.1 * (TAU * 3.0 * hertz * time).sin());
    let check = |name: &str, sound: &[f32], allowed: &[Verdict]| {
        let verdict = judged(sound, Some(0.5)).passes[0].verdict;
        assert!(allowed.contains(&verdict), "{name}: {verdict:?}");
        let found = judged(sound, None);
        assert!(found.passes.iter().all(|pass| pass.verdict != Verdict::Clean), "{name}");
    };
    let unheard = [Reason::Silence, Reason::TooFaint].map(Verdict::NotJudged);
    check("silence", &sound(|_| 0.0), &unheard);
    check("offset", &sound(|_| 0.4), &unheard);
    check("noise", &noise, &unheard);
    check("hum 50", &hum(50.0), &unheard);
    check("hum 60", &hum(60.0), &unheard);
    check("whistle", &sound(|time| 0.3 * (TAU * 1000.0 * time).sin()), &unheard);
    let or_not_clean = [unheard.as_slice(), &[Verdict::NotClean]].concat();
    check("speech", &speech(), &or_not_clean);
}

#[test]
fn an_overdriven_take_and_one_with_bad_samples_are_not_judged() {
    let times: Vec<f64> = (0..16).map(|index| 0.5 + 0.4 * f64::from(index)).collect();
    let played = strummed(&times, RATE, LENGTH_S);
    assert_eq!(judged(&played, Some(0.5)).passes[0].verdict, Verdict::Clean);
    let overdriven: Vec<f32> = played.iter().map(|sample| (sample * 20.0).clamp(-1.0, 1.0)).collect();
    assert_eq!(judged(&overdriven, Some(0.5)).passes[0].verdict, Verdict::NotJudged(Reason::Clipped));
    for bad in [f32::NAN, f32::INFINITY, f32::NEG_INFINITY] {
        let mut with_bad = played.clone();
        with_bad[50_000] = bad;
        assert_eq!(judged(&with_bad, Some(0.5)).passes[0].verdict, Verdict::NotJudged(Reason::BadSamples));
    }
    let cut = &played[..played.len() / 2];
    assert_eq!(judged(cut, Some(0.5)).passes[0].verdict, Verdict::NotJudged(Reason::TooShort));
}

#[test]
fn noise_is_never_clean_where_few_strokes_are_asked_for() {
    for seed in 0..8 {
        for strokes in [1, 2, 4] {
            for deviation in [0.003, 0.03, 0.1] {
                let mut noise = sound(|_| 0.0);
                add_noise(&mut noise, deviation, seed);
                let options = TakeOptions { starts_at_s: Some(0.5), ..TakeOptions::default() };
                let take = judge_take(&noise, RATE, &[plan(strokes, 1.0, 0.5)], &options).expect("a rate we take");
                let verdict = take.passes[0].verdict;
                assert!(matches!(verdict, Verdict::NotJudged(_)), "{strokes} strokes, seed {seed}: {verdict:?}");
            }
        }
    }
}

#[test]
fn strokes_far_from_their_places_are_not_taken_for_silence() {
    for strokes in [1, 2, 4] {
        for tenths in 0..9 {
            let late_s = 0.1 * f64::from(tenths);
            let times: Vec<f64> = (0..strokes).map(|index| 0.5 + late_s + f64::from(index)).collect();
            let options = TakeOptions { starts_at_s: Some(0.5), ..TakeOptions::default() };
            let sound = strummed(&times, RATE, LENGTH_S);
            let take = judge_take(&sound, RATE, &[plan(strokes, 1.0, 0.5)], &options).expect("a rate we take");
            let verdict = take.passes[0].verdict;
            let reason = [Reason::Silence, Reason::TooFaint].map(Verdict::NotJudged);
            assert!(!reason.contains(&verdict), "{strokes} strokes {late_s:.1} s late: {verdict:?}");
            assert!(late_s < 0.15 || verdict != Verdict::Clean, "{strokes} strokes {late_s:.1} s late");
        }
    }
}

#[test]
fn a_guitar_alone_at_another_tempo_is_not_clean() {
    let times: Vec<f64> = (0..20).map(|index| 0.5 + 0.33 * f64::from(index)).collect();
    assert_eq!(judged(&strummed(&times, RATE, LENGTH_S), Some(0.5)).passes[0].verdict, Verdict::NotClean);
}

/// Adds `hit` at each of these times.
fn hits(times_s: impl Iterator<Item = f64>, hit: impl Fn(&mut Dice, f64) -> f64, seed: u64) -> Vec<f32> {
    let mut dice = Dice(seed);
    let mut sound = vec![0.0_f32; frames(LENGTH_S * f64::from(RATE))];
    for at_s in times_s {
        let from = frames(at_s * f64::from(RATE)).min(sound.len());
        for (frame, sample) in sound[from..].iter_mut().enumerate().take(8_000) {
            #[expect(clippy::cast_possible_truncation, clippy::cast_precision_loss, reason = "samples")]
            let one = hit(&mut dice, frame as f64 / f64::from(RATE)) as f32;
            *sample += one;
        }
    }
    sound
}

/// Every so many seconds, at random.
fn at_random(every_s: f64, seed: u64) -> Vec<f64> {
    let mut dice = Dice(seed);
    let mut at_s = 0.0;
    std::iter::from_fn(|| {
        at_s -= every_s * (1.0 - dice.uniform()).ln();
        (at_s < LENGTH_S).then_some(at_s)
    })
    .collect()
}

fn clap(dice: &mut Dice, time: f64) -> f64 {
    0.3 * dice.normal() * (-time / 0.008).exp()
}

fn drum(dice: &mut Dice, time: f64) -> f64 {
    let skin = (TAU * (55.0 * time - 0.3 * (-time / 0.02).exp())).sin() * (-time / 0.08).exp();
    0.5 * skin + 0.15 * dice.normal() * (-time / 0.04).exp()
}

/// 300 to 3,400 Hz of it, roughly: two first-order passes each way.
fn telephone(sound: &[f32]) -> Vec<f32> {
    let (mut low, mut high) = ([0.0_f32; 2], [0.0_f32; 2]);
    let through = |sample: &f32| {
        low[0] += 0.7 * (sample - low[0]);
        low[1] += 0.7 * (low[0] - low[1]);
        high[0] += 0.11 * (low[1] - high[0]);
        high[1] += 0.11 * (low[1] - high[0] - high[1]);
        ((low[1] - high[0] - high[1]) * 100.0).round() / 100.0
    };
    sound.iter().map(through).collect()
}

#[test]
fn applause_drums_and_a_telephone_are_never_clean() {
    for seed in 0..4 {
        for every_s in [0.004, 0.03, 0.2] {
            let verdict = judged(&hits(at_random(every_s, seed).into_iter(), clap, seed), Some(0.5)).passes[0].verdict;
            assert_ne!(verdict, Verdict::Clean, "applause, a clap every {every_s} s, {seed}");
        }
        for beat_s in [0.23, 0.31, 0.53] {
            let beats = (0..40).map(|beat| f64::from(beat) * beat_s);
            let verdict = judged(&hits(beats, drum, seed), Some(0.5)).passes[0].verdict;
            assert_ne!(verdict, Verdict::Clean, "drums every {beat_s} s, {seed}");
        }
    }
    assert_ne!(judged(&telephone(&speech()), Some(0.5)).passes[0].verdict, Verdict::Clean);
}

#[test]
fn strokes_all_at_the_wrong_time_and_one_long_tone_are_not_clean() {
    for late_s in [0.11, 0.2, 0.27] {
        let times: Vec<f64> = (0..16).map(|index| 0.5 + late_s + 0.4 * f64::from(index)).collect();
        let verdict = judged(&strummed(&times, RATE, LENGTH_S), Some(0.5)).passes[0].verdict;
        assert_ne!(verdict, Verdict::Clean, "{late_s} s late");
    }
    for hertz in [82.4, 196.0, 880.0] {
        let tone = sound(|time| 0.3 * (-time / 4.0).exp() * (TAU * hertz * time).sin());
        assert_ne!(judged(&tone, Some(0.5)).passes[0].verdict, Verdict::Clean, "{hertz} Hz");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn no_samples_make_it_panic_or_be_clean(
        seed in any::<u64>(),
        parts in prop::collection::vec((any::<f32>(), 0_usize..20_000, 0_u8..4), 0..8),
        start_s in prop::option::of(-1.0..10.0_f64),
    ) {
        let mut dice = Dice(seed);
        let mut samples = Vec::new();
        for (value, length, kind) in parts {
            #[expect(clippy::cast_possible_truncation, reason = "samples")]
            samples.extend((0..length).map(|_| match kind {
                0 => value,
                1 => value * (dice.uniform() as f32 - 0.5),
                2 => dice.normal() as f32,
                _ => f32::from_bits(value.to_bits() ^ (dice.uniform() * 4e9) as u32),
            }));
        }
        let judged = judged(&samples, start_s);
        assert!(judged.passes.iter().all(|pass| pass.verdict != Verdict::Clean));
    }
}
