//! Our own sound in the microphone: removed along the way it was learned to take, and never taken for the player's.

mod common;

use std::sync::Arc;

use common::{Dice, add_noise, frames, plan, strummed};
use sixrung_listen::{PassPlan, Reason, TakeOptions, TakeVerdict, Verdict, judge_take};

const RATE: u32 = 48_000;
/// Four clicks half a second apart, then the pass.
const STARTS_S: f64 = 2.5;
const STROKES: u32 = 12;
const EVERY_S: f64 = 0.5;
const LENGTH_S: f64 = 9.5;

fn stroke_times(mut off_s: impl FnMut() -> f64) -> Vec<f64> {
    (0..STROKES).map(|index| STARTS_S + EVERY_S * f64::from(index) + off_s()).collect()
}

/// Wooden clicks at 0.5, 1, 1.5 and 2 s: the lowest two modes of a bar with free ends, 1 : 2.756 (Euler–Bernoulli).
fn add_clicks(sound: &mut [f32]) {
    for click in 1..=4 {
        let from = frames(f64::from(click) * 0.5 * f64::from(RATE));
        for (index, sample) in (0_u32..4_800).zip(&mut sound[from..]) {
            let time_s = f64::from(index) / f64::from(RATE);
            let mode =
                |hertz: f64, fall_s: f64| (-time_s / fall_s).exp() * (std::f64::consts::TAU * hertz * time_s).sin();
            let wave = 0.3 * (time_s / 0.0004).min(1.0) * (mode(1_110.0, 0.0065) + 0.35 * mode(3_059.0, 0.0033));
            #[expect(clippy::cast_possible_truncation, reason = "samples")]
            let wave = wave as f32;
            *sample += wave;
        }
    }
}

/// What we play: a count-in, then every stroke on time.
fn played(clicks: bool) -> Vec<f32> {
    let mut sound = strummed(&stroke_times(|| 0.0), RATE, LENGTH_S);
    if clicks {
        add_clicks(&mut sound);
    }
    sound
}

/// A player's strums, 12 ms of spread.
fn player(seed: u64) -> Vec<f32> {
    let mut dice = Dice(seed);
    strummed(&stroke_times(|| 0.012 * dice.normal()), RATE, LENGTH_S)
}

/// Through a room: 21 ms late, a decay of 60 dB in 0.3 s beneath the direct sound.
fn through_room(dry: &[f32], level_db: f64) -> Vec<f32> {
    let mut dice = Dice(77);
    let mut path = vec![(frames(0.021 * f64::from(RATE)), 1.0)];
    for _ in 0..300 {
        let at_s = 0.022 + 0.28 * dice.uniform();
        path.push((frames(at_s * f64::from(RATE)), 0.15 * dice.normal() * 10.0_f64.powf(-3.0 * at_s / 0.3)));
    }
    let mut wet = vec![0.0; dry.len()];
    for (delay, height) in path {
        #[expect(clippy::cast_possible_truncation, reason = "samples")]
        let height = (height * 10.0_f64.powf(level_db / 20.0)) as f32;
        wet[delay..].iter_mut().zip(dry).for_each(|(wet, dry)| *wet += height * dry);
    }
    wet
}

fn mixed(parts: &[&[f32]]) -> Vec<f32> {
    let mut sum = vec![0.0; parts[0].len()];
    for part in parts {
        sum.iter_mut().zip(*part).for_each(|(sum, part)| *sum += part);
    }
    add_noise(&mut sum, 0.000_3, 5);
    sum
}

fn expected() -> PassPlan {
    plan(STROKES, EVERY_S, EVERY_S)
}

fn judged(heard: &[f32], played: Option<Vec<f32>>) -> TakeVerdict {
    let played = played.map(Arc::from);
    let options = TakeOptions { starts_at_s: Some(STARTS_S), played, ..TakeOptions::default() };
    judge_take(heard, RATE, &[expected()], &options).expect("a rate that is taken")
}

fn verdict(heard: &[f32], played: Option<Vec<f32>>) -> Verdict {
    judged(heard, played).passes[0].verdict
}

#[test]
fn our_own_sound_alone_is_never_a_player() {
    fn check(level_db: f64, clicks: bool) {
        let own = played(clicks);
        let heard = mixed(&[&through_room(&own, level_db)]);
        let found = verdict(&heard, Some(own));
        assert_ne!(found, Verdict::Clean, "{level_db} dB, clicks {clicks}");
        assert_ne!(found, Verdict::NotJudged(Reason::TooShort), "{level_db} dB, clicks {clicks}");
    }
    for level_db in [0.0, -20.0] {
        check(level_db, true);
        check(level_db, false);
    }
    assert_eq!(
        verdict(&mixed(&[&through_room(&played(true), 0.0)]), None),
        Verdict::Clean,
        "without being told what was played nobody could know"
    );
}

#[test]
fn a_player_beside_us_is_judged_by_what_he_plays() {
    fn check(level_db: f64, clicks: bool, expected: Verdict) {
        let own = played(clicks);
        let heard = mixed(&[&player(3), &through_room(&own, level_db)]);
        assert_eq!(verdict(&heard, Some(own)), expected, "{level_db} dB, clicks {clicks}");
    }
    check(0.0, true, Verdict::Clean);
    check(-10.0, true, Verdict::Clean);
    check(-10.0, false, Verdict::Clean);
    check(-30.0, false, Verdict::Clean);
    // Never learned, and as loud as the player: nobody could tell who played.
    check(0.0, false, Verdict::NotJudged(Reason::OwnSound));
}

#[test]
fn strokes_only_we_played_are_missed() {
    let own = played(true);
    let mut half = player(4);
    let middle = frames((STARTS_S + 6.0 * EVERY_S - 0.1) * f64::from(RATE));
    half[middle..].fill(0.0);
    let heard = mixed(&[&half, &through_room(&own, -6.0)]);
    let take = judged(&heard, Some(own));
    assert_eq!(take.passes[0].verdict, Verdict::NotClean);
    let missed = take.passes[0].strokes.iter().filter(|stroke| stroke.heard_s.is_none()).count();
    assert!((5..=7).contains(&missed), "{missed}");
}

#[test]
fn a_player_who_plays_over_the_count_in_does_not_spoil_it() {
    let own = played(true);
    let early = strummed(&[1.2, 1.7], RATE, LENGTH_S);
    let mut fading = early;
    fading[frames(2.0 * f64::from(RATE))..].fill(0.0);
    let heard = mixed(&[&player(5), &fading, &through_room(&own, -6.0)]);
    let found = verdict(&heard, Some(own));
    assert!(matches!(found, Verdict::Clean | Verdict::NotJudged(Reason::OwnSound)), "{found:?}");
}

#[test]
fn what_was_played_may_be_short_or_no_sound_at_all() {
    let heard = mixed(&[&player(6)]);
    assert_eq!(verdict(&heard, Some(Vec::new())), Verdict::Clean);
    assert_eq!(verdict(&heard, Some(vec![0.0; 1000])), Verdict::Clean);
    assert_eq!(verdict(&heard, Some(vec![f32::NAN; heard.len()])), Verdict::Clean);
    assert_eq!(verdict(&heard, Some(played(true))), Verdict::Clean, "played, and not heard: headphones");
}
