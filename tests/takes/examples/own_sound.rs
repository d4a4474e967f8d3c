//! Our own sound with nobody playing: by how much it is taken off, at what cost, and how often it is judged a player.
//!
//! `cargo run --release -p sixrung-takes --example own_sound -- FOLDER`, a folder made with `make-takes --conditions own`.
//! What was played, through a made-up room, is all the microphone hears. What removal brings beside a player, `score.py
//! --played both` says.
#[path = "support/judging.rs"]
mod judging;

use std::collections::BTreeMap;
use std::path::PathBuf;

use sixrung_listen::{LearnedPath, Learning, Listener, TakeOptions, judge_take};
use sixrung_takes::{Dice, RATE};

/// Samples told and heard at a time.
const BLOCK: usize = 1024;

/// From where the path is learned and over what the removal is measured.
const STRETCHES: [&str; 3] =
    ["half a count-in, over its clicks", "the count-in, over the pass", "half a pass, over the rest"];

fn main() {
    let folder = PathBuf::from(std::env::args().nth(1).expect("a folder of takes"));
    let mut removed: [Vec<f64>; 3] = Default::default();
    let mut spent = Spent::default();
    let mut judged = BTreeMap::<String, usize>::new();
    for (number, (path, truth)) in judging::truths(&folder).into_iter().enumerate() {
        let Some(played) = judging::played(&path) else { continue };
        let heard = through_room(&played, RATE, number as u64);
        let (plans, criterion) = judging::plans(&folder, &truth);
        let starts_s = truth["starts_at_s"].as_f64().expect("a start");
        let (middle_s, end_s) = (starts_s + plans[0].length_s / 2.0, seconds(heard.len()));
        let first_s = seconds(played.iter().position(|sample| sample.abs() > 1e-4).unwrap_or(0));
        let half_s = f64::midpoint(first_s, starts_s);
        let stretches = [
            ((0.0, half_s), (half_s + 0.05, starts_s - 0.05)),
            ((0.0, starts_s - 0.05), (starts_s, end_s)),
            ((starts_s, middle_s), (middle_s + 0.1, end_s)),
        ];
        for (removed, (learned_s, over_s)) in removed.iter_mut().zip(stretches) {
            removed.extend(removed_db(&heard, &played, learned_s, over_s, &mut spent));
        }
        for (kind, played) in [("with removal", Some(played.into())), ("without", None)] {
            let options = TakeOptions { criterion, starts_at_s: Some(starts_s), played, ..TakeOptions::default() };
            for pass in judge_take(&heard, RATE, &plans, &options).expect("a rate").passes {
                *judged.entry(format!("{kind}: {:?}", pass.verdict)).or_default() += 1;
            }
        }
    }
    for (stretch, mut removed) in STRETCHES.iter().zip(removed) {
        removed.sort_by(f64::total_cmp);
        let at = |one_in: usize| removed.get(removed.len() / one_in).copied().unwrap_or(f64::NAN);
        println!(
            "learned from {stretch}: {:.1} dB median, {:.1} dB lowest tenth, {} takes",
            at(2),
            at(10),
            removed.len()
        );
    }
    for (verdict, times) in judged {
        println!("{verdict}: {times}");
    }
    let [before, while_removing] = spent.listening.map(|(spent_s, sound_s)| spent_s / sound_s);
    println!(
        "{before:.4} of a core before, {while_removing:.4} while removing; learned in {:.0} ms at most",
        spent.learning_ms
    );
}

fn seconds(frames: usize) -> f64 {
    frames as f64 / f64::from(RATE)
}

/// What listening cost before and while our own sound was removed (processor seconds, seconds of sound), and the
/// dearest learning.
#[derive(Default)]
struct Spent {
    listening: [(f64, f64); 2],
    learning_ms: f64,
}

/// By how many decibels our own sound falls over one stretch, when its path is learned from another.
fn removed_db(
    heard: &[f32],
    played: &[f32],
    learn_s: (f64, f64),
    over_s: (f64, f64),
    spent: &mut Spent,
) -> Option<f64> {
    let mut listener = Listener::new(RATE)?;
    let mut learning = Learning::new();
    listener.played(-1.0, RATE, &vec![0.0; RATE as usize]);
    listener.played(0.0, RATE, &played[..BLOCK]);
    let (mut before, mut after, mut knows) = (0.0, 0.0, false);
    for at in (0..heard.len() - 2 * BLOCK).step_by(BLOCK) {
        listener.played(seconds(at + BLOCK), RATE, &played[at + BLOCK..at + 2 * BLOCK]);
        let began_s = spent_s();
        let caught = listener.feed(at as u64, &heard[at..at + BLOCK]);
        let cost = &mut spent.listening[usize::from(knows)];
        *cost = (cost.0 + spent_s() - began_s, cost.1 + seconds(BLOCK));
        if (over_s.0..over_s.1).contains(&seconds(at)) {
            for (left, removed) in caught.sound.samples.iter().zip(caught.removed) {
                before += f64::from(left + removed).powi(2);
                after += f64::from(*left).powi(2);
            }
        }
        learning.take_in(caught);
        if !knows && seconds(at) >= learn_s.1 {
            knows = true;
            let began_s = spent_s();
            let LearnedPath::Path(path) = learning.learn(learn_s.0, learn_s.1, None) else { return None };
            spent.learning_ms = spent.learning_ms.max(1000.0 * (spent_s() - began_s));
            listener.remove_own(Some(path));
        }
    }
    Some(10.0 * (before / after).log10())
}

/// A room: a delay, the direct sound, and noise that falls by 60 dB in 0.35 s, 6 dB under it; 50 dB under all a hiss.
fn through_room(played: &[f32], rate: u32, seed: u64) -> Vec<f32> {
    let mut dice = Dice::branch(seed, "room");
    let frames = |seconds: f64| (seconds * f64::from(rate)) as usize;
    let (delay, length) = (frames(dice.between(0.004, 0.040)), frames(0.35));
    let decay: Vec<(usize, f32)> = (0..700)
        .map(|_| {
            let at_s = dice.between(0.001, 0.35);
            let height = dice.normal(1.0, 3.0) * 10.0_f64.powf(-3.0 * at_s / 0.35);
            (frames(at_s), height as f32)
        })
        .collect();
    let energy: f32 = decay.iter().map(|it| it.1 * it.1).sum();
    let gain = 0.5 / energy.sqrt();
    let mut heard = vec![0.0; played.len() + delay + length];
    for (at, height) in decay.iter().map(|it| (it.0, it.1 * gain)).chain([(0, 1.0)]) {
        heard[at + delay..].iter_mut().zip(played).for_each(|(heard, played)| *heard += height * played);
    }
    heard.truncate(played.len());
    let loud = (heard.iter().map(|it| it * it).sum::<f32>() / heard.len() as f32).sqrt();
    heard.iter_mut().for_each(|it| *it += 0.003 * loud * dice.normal(1.0, 3.0) as f32);
    heard
}

/// Processor time of this thread so far, in seconds.
fn spent_s() -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    told.split(' ').next().and_then(|it| it.parse::<f64>().ok()).unwrap_or(0.0) / 1e9
}
