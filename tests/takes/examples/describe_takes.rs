//! Writes what the ear describes of made takes, with the truth, for the scripts in `training`.
//!
//! `cargo run --release -p sixrung-takes --example describe_takes -- OUT TAKES...` writes OUT.f32, a row of 32-bit floats
//! an onset: the take's number, its condition, the pass, when it was in seconds of the take, how many milliseconds after
//! a stroke's first string (−20 to 120; NaN where there is no stroke), then the description; and OUT.jsonl, a line a
//! pass: what was asked for, what was played, what was heard of each span of one chord. Now and then the same part
//! follows with nobody playing it, in some noise, and played by strings made of sines.
#[path = "support/judging.rs"]
mod judging;
#[path = "support/strums.rs"]
mod strums;

use std::fs::File;
use std::io::{BufWriter, Write as _};
use std::path::PathBuf;

use serde_json::{Value, json};
use sixrung_lesson::{Criterion, Direction};
use sixrung_listen::{
    PassEar, PassPlan, TakeOptions, allowed_faults, chord_features, hear_take, strum_features, window_s,
};

/// Conditions by number; the last two are nobody playing, and strings made of sines.
const CONDITIONS: [&str; 7] = ["quiet", "room", "own", "sing6", "sing0", "nobody plays", "sines"];

/// So many takes stand for each in which nobody plays, and for each that is made of sines.
const OTHERS_EVERY: usize = 7;

fn main() {
    let words: Vec<PathBuf> = std::env::args_os().skip(1).map(PathBuf::from).collect();
    let (out, folders) = words.split_first().expect("a name to write to");
    let file = |kind: &str| BufWriter::new(File::create(out.with_extension(kind)).expect("a file"));
    let mut writer = Writer { rows: file("f32"), lines: file("jsonl"), number: 0 };
    for folder in folders {
        for (number, (path, truth)) in judging::truths(folder).into_iter().enumerate() {
            let (plans, criterion) = judging::plans(folder, &truth);
            let played = judging::played(&path).map(Into::into);
            let options =
                TakeOptions { criterion, starts_at_s: truth["starts_at_s"].as_f64(), played, ..TakeOptions::default() };
            let samples = judging::samples(&path.with_extension("wav"));
            writer.write(&samples, &plans, &options, &truth);
            if number % OTHERS_EVERY == 0 {
                let options = TakeOptions { played: None, ..options };
                let mut others = noise(samples.len(), number as u64);
                writer.write(&others, &plans, &options, &of_nobody(&truth));
                let hiss = 10.0_f32.powf(-2.0 - (number % 3) as f32);
                others.iter_mut().for_each(|sample| *sample *= hiss);
                strum(&mut others, &strums::played_s(&truth), number as u64);
                let truth = json!({"condition": "sines", "strokes": truth["strokes"], "extras": truth["extras"],
                    "pass_verdicts": truth["pass_verdicts"], "spans": []});
                writer.write(&others, &plans, &options, &truth);
            }
        }
    }
}

/// The truth when nobody plays.
fn of_nobody(truth: &Value) -> Value {
    let mut strokes = truth["strokes"].clone();
    for stroke in strokes.as_array_mut().expect("strokes") {
        (stroke["played_s"], stroke["fault"]) = (Value::Null, json!("missed"));
    }
    json!({"condition": "nobody plays", "strokes": strokes, "extras": [], "spans": []})
}

struct Writer {
    rows: BufWriter<File>,
    lines: BufWriter<File>,
    /// Takes written.
    number: usize,
}

impl Writer {
    fn write(&mut self, samples: &[f32], plans: &[PassPlan], options: &TakeOptions, truth: &Value) {
        let condition = CONDITIONS.iter().position(|name| truth["condition"] == **name).expect("a condition");
        let ears = hear_take(samples, 48_000, plans, options).expect("a rate").expect("the start is given");
        let played = strums::played_s(truth);
        for (pass, ear) in ears.iter().enumerate() {
            let rows = strum_features(ear.onsets(), ear.sound(), ear.plan());
            for (onset, row) in ear.onsets().iter().zip(rows) {
                let mut numbers = vec![self.number as f32, condition as f32, pass as f32, onset.at_s as f32];
                numbers.push(off_ms(onset.at_s, &played));
                numbers.extend(row);
                for number in numbers {
                    self.rows.write_all(&number.to_le_bytes()).expect("room to write");
                }
            }
            let mut line = pass_line(ear, pass, truth, &options.criterion);
            (line["take"], line["condition"]) = (self.number.into(), condition.into());
            writeln!(self.lines, "{line}").expect("room to write");
        }
        self.number += 1;
    }
}

fn pass_line(ear: &PassEar, pass: usize, truth: &Value, criterion: &Criterion) -> Value {
    let plan = ear.plan();
    let of_pass = |name: &str| {
        let all = truth[name].as_array().expect("a list").iter();
        all.filter(|item| item["pass"] == pass).collect::<Vec<&Value>>()
    };
    let truths = of_pass("strokes");
    let strokes = plan.strokes.iter().zip(&truths).map(|(stroke, truth)| {
        json!({"at": plan.starts_s + stroke.at_s, "slot": stroke.slot_s, "action": format!("{:?}", stroke.action),
            "down": stroke.direction == Direction::Down, "shape": stroke.shape,
            "window": window_s(criterion.level, stroke.slot_s), "played": truth["played_s"], "fault": truth["fault"]})
    });
    let spans = of_pass("spans");
    let described = chord_features(plan, ear.sound(), &ear.verdict(criterion)).0;
    let described = described.iter().filter_map(|span| {
        let first = truths[span.strokes.start];
        let here = |truth: &&&Value| truth["bar"] == first["bar"] && truth["slot"] == first["slot"];
        let truth = spans.iter().find(here)?;
        Some(json!({"described": span.described.to_vec(), "truth": truth}))
    });
    json!({"pass": pass, "starts": plan.starts_s, "length": plan.length_s, "onsets": ear.onsets().len(),
        "level": format!("{:?}", criterion.level).to_lowercase(),
        "allowed": allowed_faults(criterion, plan.strokes.len()), "strokes": strokes.collect::<Vec<_>>(),
        "extras": strums::times(&truth["extras"], "played_s"), "spans": described.collect::<Vec<_>>(),
        "verdict": truth["pass_verdicts"][pass]})
}

/// Six decaying strings, struck one after the other at each of these times.
fn strum(sound: &mut [f32], times_s: &[f64], seed: u64) {
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
