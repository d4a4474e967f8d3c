//! Chords of a folder of made takes, judged: right, wrong or unsure of each span, by condition.
//!
//! `cargo run --release -p sixrung-takes --example heard_chords -- FOLDER [N]`; with N only every Nth take.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde_json::Value;
use sixrung_lesson::{Lesson, Stretch, Tempo, layout};
use sixrung_listen::{ChordFinding, PassPlan, PlannedShape, TakeOptions, judge_take};
use sixrung_takes::{Error, RATE};
use sixrung_timeline::{Between, Request, compile};

/// Right, wrong and unsure of spans played as asked, of those with another chord, and of those with a fault on a string.
type Counts = [[u32; 3]; 3];

fn main() -> Result<(), Error> {
    let folder = PathBuf::from(std::env::args().nth(1).unwrap_or_default());
    let entries = std::fs::read_dir(&folder).map_err(said)?;
    let paths = entries.filter_map(|entry| Some(entry.ok()?.path()));
    let is_truth =
        |path: &PathBuf| path.to_string_lossy().ends_with(".json") && !path.to_string_lossy().contains("learn");
    let mut truths: Vec<PathBuf> = paths.filter(is_truth).collect();
    truths.sort();
    let mut table: BTreeMap<String, Counts> = BTreeMap::new();
    let mut named = [0; 2];
    let share = std::env::args().nth(2).and_then(|share| share.parse().ok()).unwrap_or(1);
    for path in truths.iter().step_by(share) {
        let text = std::fs::read(path).map_err(said)?;
        let truth: Value = serde_json::from_slice(&text).map_err(said)?;
        if truth["spans"].is_array() {
            let counts = table.entry(text_of(&truth, "condition").to_owned()).or_default();
            judge(&folder, path, &truth, counts, &mut named)?;
        }
    }
    println!("{:8} {:10} {:>7} {:>7} {:>7} {:>7}", "where", "played", "spans", "right", "wrong", "unsure");
    for (condition, counts) in &table {
        for (name, [right, wrong, unsure]) in ["as asked", "another", "a string"].iter().zip(counts) {
            println!("{condition:8} {name:10} {:>7} {right:>7} {wrong:>7} {unsure:>7}", right + wrong + unsure);
        }
    }
    println!("wrong chords named as played: {} of {}", named[0], named[1]);
    Ok(())
}

fn judge(folder: &Path, path: &Path, truth: &Value, counts: &mut Counts, named: &mut [u32; 2]) -> Result<(), Error> {
    let lesson_file = folder.join(text_of(truth, "lesson"));
    let bytes = std::fs::read(&lesson_file).map_err(said)?;
    let lesson = sixrung_lesson::read(&bytes).map_err(|findings| Error::Lesson(format!("{findings:?}")))?.lesson;
    let plans = plans(&lesson, truth)?;
    let sound_file = path.with_extension("wav");
    let mut reader = hound::WavReader::open(&sound_file).map_err(said)?;
    let samples: Vec<f32> =
        reader.samples::<i16>().filter_map(Result::ok).map(|value| f32::from(value) / 32767.0).collect();
    let options = TakeOptions { starts_at_s: truth["starts_at_s"].as_f64(), ..TakeOptions::default() };
    let judged = judge_take(&samples, RATE, &plans, &options).expect("48 kHz is listened to");
    for span in truth["spans"].as_array().into_iter().flatten() {
        let number = |key: &str| span[key].as_u64().unwrap_or(0);
        if number("pitched") == 0 || (span["chord"] != span["played"] && span["wrong"] == false) {
            continue;
        }
        let Some(pass) = judged.passes.iter().zip(0..).find(|(_, index)| *index == number("pass")) else { continue };
        let first = |stroke: &&sixrung_listen::StrokeFinding| {
            stroke.bar as u64 == number("bar") && u64::from(stroke.slot) == number("slot")
        };
        let Some(found) = pass.0.strokes.iter().find(first) else { continue };
        let row = if span["wrong"] == true {
            1
        } else if span["string_fault"] == true {
            2
        } else {
            0
        };
        counts[row][found.chord as usize] += 1;
        if row == 1 && found.chord == ChordFinding::Wrong {
            named[1] += 1;
            named[0] += u32::from(found.sounded_like.as_deref() == span["played"].as_str());
        }
    }
    Ok(())
}

fn plans(lesson: &Lesson, truth: &Value) -> Result<Vec<PassPlan>, Error> {
    let name = text_of(truth, "arrangement");
    let arrangement = lesson.arrangement(name).ok_or_else(|| Error::Lesson(format!("no arrangement `{name}`")))?;
    let score = layout(lesson, &Stretch::Section(text_of(truth, "section").to_owned()), arrangement).map_err(said)?;
    let tempo = truth["bpm"].as_f64().and_then(Tempo::from_bpm);
    let tempo = tempo.ok_or_else(|| Error::Lesson("a truth without a tempo".to_owned()))?;
    let request = Request { id: 0, rate: RATE, tempo, count_in_bars: 0, between: Between::Seamless, passes: None };
    let plan = compile(lesson, &score, &request).map_err(said)?;
    let pass = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass);
    let pass = pass.with_shapes(PlannedShape::all(&score, &lesson.tuning));
    let passes = u32::try_from(truth["passes"].as_u64().unwrap_or(1)).unwrap_or(1);
    Ok((0..passes).map(|index| pass.starting_at(f64::from(index) * pass.length_s)).collect())
}

fn text_of<'a>(truth: &'a Value, key: &str) -> &'a str {
    truth[key].as_str().unwrap_or_default()
}

fn said(error: impl std::fmt::Display) -> Error {
    Error::Lesson(error.to_string())
}
