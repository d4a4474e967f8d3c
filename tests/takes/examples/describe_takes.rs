//! Writes what the ear describes of made takes, with the truth, for the scripts in `training`.
//!
//! `cargo run --release -p sixrung-takes --example describe_takes -- WHAT OUT TAKES...`, in binary files rows of 32-bit
//! floats:
//!
//! - `onsets` writes OUT.onsets, a row an onset: the take's number, its condition, the pass, when it was in seconds of
//!   the take, how many milliseconds after a stroke's first string (−20 to 120; NaN where there is no stroke), then the
//!   description; and OUT.jsonl, a line a pass: its take, condition and count of onsets, and what was heard of each span
//!   of one chord, also by what is learned of the player where there is a learning take.
//! - `places` writes OUT.places, a row an expected stroke: take, condition, pass, whether it was played, whether it was a
//!   fault, then the description. OUT.odds holds two floats an onset, the log-odds that it is a stroke and a stroke's
//!   first string, by trees that never saw its take; where there is none, the ear's own trees tell them.
//! - `extras` writes OUT.extras, a row for what may be a stroke nobody asked for: take, condition, pass, whether it was
//!   one, then the description. OUT.played holds a float an expected stroke, the log-odds that it was played.
//!
//! Now and then the same part follows with nobody playing it, in some noise, and played by strings made of sines.
#[path = "support/judging.rs"]
mod judging;
#[path = "support/strums.rs"]
mod strums;

use std::fs::File;
use std::io::{BufWriter, Write as _};
use std::path::{Path, PathBuf};

use serde_json::{Value, json};
use sixrung_listen::{
    LearnPlan, Learned, PassEar, PassPlan, Places, PlannedShape, TakeOptions, chord_features, hear_take, learn_take,
    strum_features,
};

/// Conditions by number; the last two are nobody playing, and strings made of sines.
const CONDITIONS: [&str; 7] = ["quiet", "room", "own", "sing6", "sing0", "nobody plays", "sines"];

/// As the ear decides it: log-odds from which on an expected stroke was played.
const PLAYED_ODDS: f32 = 2.75;
/// An extra stroke is one that was played so near, in seconds.
const NEAR_S: f64 = 0.030;

/// So many takes stand for each in which nobody plays, and for each that is made of sines.
const OTHERS_EVERY: usize = 7;

fn main() {
    let words: Vec<PathBuf> = std::env::args_os().skip(1).map(PathBuf::from).collect();
    let [what, out, folders @ ..] = &words[..] else { panic!("what, a name to write to, and folders of takes") };
    let mut writer = Writer::new(&what.to_string_lossy(), out);
    for folder in folders {
        for (number, (path, truth)) in judging::truths(folder).into_iter().enumerate() {
            let (plans, criterion) = judging::plans(folder, &truth);
            let played = judging::played(&path).map(Into::into);
            let learned = learned(folder, &truth).map(Into::into);
            let starts_at_s = truth["starts_at_s"].as_f64();
            let options = TakeOptions { criterion, starts_at_s, played, learned, ..TakeOptions::default() };
            let samples = judging::samples(&path.with_extension("wav"));
            writer.write(&samples, &plans, &options, &truth);
            if number % OTHERS_EVERY == 0 {
                let options = TakeOptions { played: None, learned: None, ..options };
                let mut others = noise(samples.len(), number as u64);
                writer.write(&others, &plans, &options, &of_nobody(&truth));
                let hiss = 10.0_f32.powf(-2.0 - (number % 3) as f32);
                others.iter_mut().for_each(|sample| *sample *= hiss);
                strum(&mut others, &strums::played_s(&truth), number as u64);
                let truth = json!({"condition": "sines", "strokes": truth["strokes"], "extras": truth["extras"],
                    "spans": []});
                writer.write(&others, &plans, &options, &truth);
            }
        }
    }
}

/// What is learned of a take's player from the learning take beside it; `None` where there is none, or nothing is.
fn learned(folder: &Path, truth: &Value) -> Option<Learned> {
    let take = folder.join(truth["learn"].as_str()?);
    let lesson = std::fs::read(folder.join(truth["lesson"].as_str().expect("a lesson"))).expect("the lesson");
    let lesson = sixrung_lesson::read(&lesson).expect("a good lesson").lesson;
    let plan = LearnPlan::new(PlannedShape::of(&lesson.shapes, &lesson.tuning, lesson.capo));
    learn_take(&judging::samples(&take), 48_000, &plan).expect("a rate").ok()
}

/// The truth when nobody plays.
fn of_nobody(truth: &Value) -> Value {
    let mut strokes = truth["strokes"].clone();
    for stroke in strokes.as_array_mut().expect("strokes") {
        (stroke["played_s"], stroke["fault"]) = (Value::Null, json!("missed"));
    }
    json!({"condition": "nobody plays", "strokes": strokes, "extras": [], "spans": []})
}

/// What is written.
enum What {
    Onsets { lines: BufWriter<File> },
    Places { odds: Option<Floats> },
    Extras { odds: Option<Floats>, played: Floats },
}

struct Writer {
    what: What,
    rows: BufWriter<File>,
    /// Takes written.
    number: usize,
}

impl Writer {
    fn new(what: &str, out: &Path) -> Self {
        let file = |kind: &str| BufWriter::new(File::create(out.with_extension(kind)).expect("a file"));
        let floats = |kind: &str| Floats::read(&out.with_extension(kind));
        let what_is_written = match what {
            "onsets" => What::Onsets { lines: file("jsonl") },
            "places" => What::Places { odds: floats("odds") },
            "extras" => What::Extras { odds: floats("odds"), played: floats("played").expect("OUT.played") },
            _ => panic!("onsets, places or extras"),
        };
        Self { what: what_is_written, rows: file(what), number: 0 }
    }

    fn write(&mut self, samples: &[f32], plans: &[PassPlan], options: &TakeOptions, truth: &Value) {
        let condition = CONDITIONS.iter().position(|name| truth["condition"] == **name).expect("a condition");
        let ears = hear_take(samples, 48_000, plans, options).expect("a rate").expect("the start is given");
        for (pass, ear) in ears.iter().enumerate() {
            let head = [self.number as f32, condition as f32, pass as f32];
            let rows: Vec<Vec<f32>> = match &mut self.what {
                What::Onsets { lines } => {
                    let spans = spans(ear, pass, truth, options);
                    let line = json!({"take": self.number, "condition": condition, "onsets": ear.onsets().len(),
                        "pass": pass, "spans": spans});
                    writeln!(lines, "{line}").expect("room to write");
                    onsets(ear, truth)
                }
                What::Places { odds } => places(ear, odds.as_mut(), &of_pass(truth, "strokes", pass), options),
                What::Extras { odds, played } => extras(ear, odds.as_mut(), played, truth),
            };
            for number in rows.iter().flat_map(|row| head.iter().chain(row)) {
                self.rows.write_all(&number.to_le_bytes()).expect("room to write");
            }
        }
        self.number += 1;
    }
}

/// Floats read from a file, so many at a time.
struct Floats(std::vec::IntoIter<f32>);

impl Floats {
    /// `None` where there is no such file.
    fn read(path: &Path) -> Option<Self> {
        let bytes = std::fs::read(path).ok()?;
        let floats: Vec<f32> =
            bytes.chunks_exact(4).map(|four| f32::from_le_bytes(four.try_into().expect("4"))).collect();
        Some(Self(floats.into_iter()))
    }

    fn next(&mut self) -> f32 {
        self.0.next().expect("as many as were described")
    }

    /// Two an onset.
    fn odds(&mut self, ear: &PassEar) -> Vec<[f32; 2]> {
        ear.onsets().iter().map(|_| [self.next(), self.next()]).collect()
    }
}

fn of_pass<'a>(truth: &'a Value, name: &str, pass: usize) -> Vec<&'a Value> {
    truth[name].as_array().expect("a list").iter().filter(|item| item["pass"] == pass).collect()
}

fn onsets(ear: &PassEar, truth: &Value) -> Vec<Vec<f32>> {
    let played = strums::played_s(truth);
    let described = strum_features(ear.onsets(), ear.sound(), ear.plan());
    let row = |(onset, row): (&sixrung_listen::Onset, &[f32; _])| {
        let mut numbers = vec![onset.at_s as f32, off_ms(onset.at_s, &played)];
        numbers.extend(row);
        numbers
    };
    ear.onsets().iter().zip(&described).map(row).collect()
}

fn places(ear: &PassEar, odds: Option<&mut Floats>, truths: &[&Value], options: &TakeOptions) -> Vec<Vec<f32>> {
    let odds = odds.map(|odds| odds.odds(ear));
    let places = Places::new(ear.onsets(), ear.sound(), ear.plan(), odds.as_deref());
    let is = |yes: bool| if yes { 1.0 } else { 0.0 };
    let row = |(described, truth): (&[f32; _], &&Value)| {
        let mut numbers = vec![is(!truth["played_s"].is_null()), is(!truth["fault"].is_null())];
        numbers.extend(described);
        numbers
    };
    places.strokes(&options.criterion).iter().zip(truths).map(row).collect()
}

fn extras(ear: &PassEar, odds: Option<&mut Floats>, played: &mut Floats, truth: &Value) -> Vec<Vec<f32>> {
    let odds = odds.map(|odds| odds.odds(ear));
    let is_played: Vec<bool> = ear.plan().strokes.iter().map(|_| played.next() >= PLAYED_ODDS).collect();
    let places = Places::new(ear.onsets(), ear.sound(), ear.plan(), odds.as_deref());
    let extras_s = strums::times(&truth["extras"], "played_s");
    let row = |(at_s, described): (f64, [f32; _])| {
        let is_extra = extras_s.iter().any(|extra| (extra - at_s).abs() < NEAR_S);
        let mut numbers = vec![if is_extra { 1.0 } else { 0.0 }];
        numbers.extend(described);
        numbers
    };
    places.extras(&is_played).into_iter().map(row).collect()
}

fn spans(ear: &PassEar, pass: usize, truth: &Value, options: &TakeOptions) -> Vec<Value> {
    let (truths, spans) = (of_pass(truth, "strokes", pass), of_pass(truth, "spans", pass));
    let judged = ear.verdict(&options.criterion);
    let described = chord_features(ear.plan(), ear.sound(), &judged, options.learned.as_deref()).0;
    let span = |span: sixrung_listen::DescribedSpan| {
        let first = truths[span.strokes.start];
        let here = |truth: &&&Value| truth["bar"] == first["bar"] && truth["slot"] == first["slot"];
        let truth = spans.iter().find(here)?;
        Some(
            json!({"described": span.described.to_vec(), "learned": span.learned, "other": span.other, "truth": truth}),
        )
    };
    described.into_iter().filter_map(span).collect()
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
