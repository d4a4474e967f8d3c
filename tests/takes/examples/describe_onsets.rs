//! Writes what the ear describes around every onset of made takes, with the truth, for `training/strum_trees.py`.
//!
//! `cargo run --release -p sixrung-takes --example describe_onsets -- OUT.f32 TAKES...`: rows of 32-bit floats: the
//! take's number, its condition (0 quiet, 1 room, 2 own, 3 and 4 singing, 5 nobody plays, 6
//! strings made of sines), how many milliseconds after a stroke's
//! first string it lies (−20 to 120; NaN where there is no stroke), then the description.
#[path = "support/judging.rs"]
mod judging;
#[path = "support/strums.rs"]
mod strums;

use std::io::Write;
use std::path::Path;

use sixrung_listen::{PassPlan, TakeOptions, hear_take, strum_features};

fn main() {
    let mut words = std::env::args().skip(1);
    let mut out =
        std::io::BufWriter::new(std::fs::File::create(words.next().expect("a file to write")).expect("a file"));
    let mut number = 0.0_f32;
    for folder in words {
        for (path, truth) in judging::truths(Path::new(&folder)) {
            let (plans, _) = judging::plans(Path::new(&folder), &truth);
            let options = TakeOptions {
                starts_at_s: truth["starts_at_s"].as_f64(),
                played: judging::played(&path).map(Into::into),
                ..TakeOptions::default()
            };
            let samples = judging::samples(&path.with_extension("wav"));
            let condition =
                ["quiet", "room", "own", "sing6", "sing0"].iter().position(|name| truth["condition"] == **name);
            write(&mut out, number, condition.unwrap_or(0), &samples, &plans, &options, &strums::played_s(&truth));
            number += 1.0;
            // Now and then the same part with nobody playing it, in some noise; and played by strings made of sines.
            if (number as usize).is_multiple_of(OTHERS_EVERY) {
                let options = TakeOptions { played: None, ..options };
                let mut others = noise(samples.len(), number as u64);
                write(&mut out, number, 5, &others, &plans, &options, &[]);
                let hiss = 10.0_f32.powf(-2.0 - (number as usize % 3) as f32);
                others.iter_mut().for_each(|sample| *sample *= hiss);
                let played = strum(&mut others, &strums::played_s(&truth), number as u64);
                write(&mut out, number + 1.0, 6, &others, &plans, &options, &played);
                number += 2.0;
            }
        }
    }
}

/// So many takes stand for each in which nobody plays, and for each that is made of sines.
const OTHERS_EVERY: usize = 7;

fn write(
    out: &mut impl Write,
    number: f32,
    condition: usize,
    samples: &[f32],
    plans: &[PassPlan],
    options: &TakeOptions,
    played: &[f64],
) {
    let ears = hear_take(samples, 48_000, plans, options).expect("a rate").expect("the start is given");
    for ear in ears {
        let rows = strum_features(ear.onsets(), ear.sound(), ear.plan());
        for (onset, row) in ear.onsets().iter().zip(rows) {
            let mut numbers = vec![number, condition as f32, off_ms(onset.at_s, played)];
            numbers.extend(row);
            for number in numbers {
                out.write_all(&number.to_le_bytes()).expect("room to write");
            }
        }
    }
}

/// Six decaying strings, struck one after the other at each of these times; says when the first was.
fn strum(sound: &mut [f32], times_s: &[f64], seed: u64) -> Vec<f64> {
    let sweep_s = 0.002 + 0.001 * (seed % 13) as f64;
    let slope = 0.7 + 0.1 * (seed % 9) as f64;
    for (index, at_s) in times_s.iter().enumerate() {
        let root = [82.4, 110.0, 98.0, 130.8, 146.8][index / 8 % 5];
        let until_s = times_s.get(index + 1).copied().unwrap_or(at_s + 2.0);
        for string in 0..6 {
            let hertz = root * [1.0, 1.5, 2.0, 2.52, 3.0, 4.0][string];
            let begins_s = at_s + sweep_s * if index % 2 == 0 { string } else { 5 - string } as f64;
            let loudness = 0.02 * (1.0 + 0.3 * ((index * 7 + string * 3) % 5) as f64);
            for (time, sample) in
                (0..).map(|frame| f64::from(frame) / 48_000.0).zip(&mut sound[(begins_s * 48_000.0) as usize..])
            {
                if begins_s + time >= until_s + 0.002 {
                    break;
                }
                let partial = |k: f64| {
                    (-k * time * slope).exp() * (std::f64::consts::TAU * k * hertz * time).sin() / k.powf(slope)
                };
                *sample += (loudness * (1..=8).map(f64::from).map(partial).sum::<f64>()) as f32;
            }
        }
    }
    times_s.to_vec()
}

/// Hiss, rumble, applause or a humming hiss, at some level.
fn noise(length: usize, seed: u64) -> Vec<f32> {
    let mut state = seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1;
    let mut next = move || {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        (state >> 40) as f32 / (1 << 23) as f32 - 1.0
    };
    let level = 0.1 * 10.0_f32.powf(next() - 0.5);
    let (mut rumble, mut clap) = (0.0, 0.0);
    let sample = |index: usize| {
        let hiss = next();
        rumble += 0.02 * (hiss - rumble);
        clap *= 0.9985;
        if next() > 0.9995 {
            clap = 1.0 + next();
        }
        let hum = (index as f32 * std::f32::consts::TAU * 50.0 / 48_000.0).sin();
        level * [hiss, 8.0 * rumble, clap * hiss, hum + 0.1 * hiss][(seed / 7 % 4) as usize]
    };
    (0..length).map(sample).collect()
}

/// Of the stroke it is part of, or else none.
fn off_ms(at_s: f64, played: &[f64]) -> f32 {
    let off = |played: &f64| (at_s - played) * 1000.0;
    let nearest =
        played.iter().map(off).filter(|off| *off > -20.0 && *off < 120.0).min_by(|a, b| a.abs().total_cmp(&b.abs()));
    nearest.map_or(f32::NAN, |off| off as f32)
}
