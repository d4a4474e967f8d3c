//! Does to takes what systems and rooms do to a guitar, and writes the outcome beside a copy of their truth.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use clap::Parser;
use serde_json::{Value, json};
use sixrung_takes::{Degradation, Dice, Error, RATE, write_wav};

/// Writes degraded copies of takes that make-takes made.
#[derive(Parser)]
#[command(version)]
struct Args {
    /// Folder that make-takes filled
    takes: PathBuf,
    /// Folder for the copies; made if it is not there
    #[arg(long)]
    out: PathBuf,
    /// What is done, taken in turn; echo only where our own playback is in the take [default: all]
    #[arg(long, value_enum, value_delimiter = ',')]
    degrade: Vec<Degradation>,
    /// The same seed gives the same copies
    #[arg(long, default_value_t = 1)]
    seed: u64,
}

fn main() -> ExitCode {
    match run(&Args::parse()) {
        Ok(count) => {
            println!("{count} takes");
            ExitCode::SUCCESS
        }
        Err(error) => {
            eprintln!("error: {error}");
            ExitCode::FAILURE
        }
    }
}

fn run(args: &Args) -> Result<usize, Error> {
    let file = |path: &Path| {
        let path = path.to_owned();
        move |error| Error::File(path, error)
    };
    std::fs::create_dir_all(&args.out).map_err(file(&args.out))?;
    let kinds = if args.degrade.is_empty() { Degradation::ALL.to_vec() } else { args.degrade.clone() };
    let entries = std::fs::read_dir(&args.takes).map_err(file(&args.takes))?;
    let mut paths: Vec<PathBuf> = entries.filter_map(|entry| Some(entry.ok()?.path())).collect();
    paths.sort();
    let mut count = 0;
    for path in paths {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        if name.ends_with(".lesson.ron") {
            std::fs::copy(&path, args.out.join(&name)).map_err(file(&path))?;
        }
        if !name.ends_with(".json") || name.ends_with(".learn.json") {
            continue;
        }
        let text = std::fs::read_to_string(&path).map_err(file(&path))?;
        let mut truth: Value = serde_json::from_str(&text).map_err(|error| Error::File(path.clone(), error.into()))?;
        let take = read_wav(&path.with_extension("wav"))?;
        let played = truth["played"].as_str().map(|name| args.takes.join(name));
        let ours = played.as_deref().map(read_wav).transpose()?;
        // Each kind in turn; where one does not apply, the next that does.
        let mut dice = Dice::branch(args.seed, &name);
        let turn = kinds.iter().cycle().skip(count % kinds.len()).take(kinds.len());
        let done = turn
            .copied()
            .find_map(|kind| Some((kind, kind.apply(&take, ours.as_deref(), &playing(&truth), &mut dice)?)));
        let Some((kind, sound)) = done else { continue };
        truth["degraded"] = json!(kind.name());
        truth["learn"] = Value::Null;
        write_wav(&args.out.join(&name).with_extension("wav"), &sound)?;
        if let (Some(path), Some(name)) = (&played, truth["played"].as_str()) {
            std::fs::copy(path, args.out.join(name)).map_err(file(path))?;
        }
        let text = serde_json::to_string_pretty(&truth).expect("it was read from text");
        std::fs::write(args.out.join(&name), text + "\n").map_err(file(&path))?;
        count += 1;
    }
    Ok(count)
}

/// From the first stroke to a second after the last, in frames.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "takes last minutes, from 0 on")]
fn playing(truth: &Value) -> std::ops::Range<usize> {
    let frame = |seconds: f64| (seconds * f64::from(RATE)) as usize;
    let at = |stroke: &Value| stroke["expected_s"].as_f64();
    let strokes = truth["strokes"].as_array().map(Vec::as_slice).unwrap_or_default();
    let first_s = strokes.first().and_then(at).unwrap_or(0.0);
    let last_s = strokes.last().and_then(at).unwrap_or(0.0);
    frame((first_s - 0.1).max(0.0))..frame(last_s + 1.0)
}

/// A take as it was written: 16 bits, one channel.
fn read_wav(path: &Path) -> Result<Vec<f32>, Error> {
    let mut reader = hound::WavReader::open(path).map_err(|error| Error::Sound(path.to_owned(), error.to_string()))?;
    let samples: Result<Vec<i16>, _> = reader.samples::<i16>().collect();
    let samples = samples.map_err(|error| Error::Sound(path.to_owned(), error.to_string()))?;
    Ok(samples.into_iter().map(|sample| f32::from(sample) / 32_767.0).collect())
}
