//! What taking our own sound off brings: judges takes of the condition `own` with and without `--played`, and with the
//! player taken away.
//!
//! `cargo run -p sixrung-takes --example own_sound -- FOLDER` prints a row a take and the sums. A folder made with
//! `make-takes --conditions own`; where there is none, the takes' own playback beside them is what the microphone hears
//! of a silent player.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Instant;

use serde_json::Value;
use sixrung_lesson::{Stretch, Tempo, layout};
use sixrung_listen::{PassPlan, TakeOptions, TakeVerdict, Verdict, judge_take};
use sixrung_timeline::{Between, Request, compile};

type Failure = Box<dyn std::error::Error>;

/// One take with its truth.
struct Take {
    name: String,
    truth: Value,
    rate: u32,
    heard: Vec<f32>,
    played: Arc<[f32]>,
    plans: Vec<PassPlan>,
    criterion: sixrung_lesson::Criterion,
}

fn wav(path: &Path) -> Result<(u32, Vec<f32>), Failure> {
    let mut reader = hound::WavReader::open(path)?;
    let spec = reader.spec();
    let samples: Result<Vec<f32>, _> = match spec.sample_format {
        hound::SampleFormat::Float => reader.samples::<f32>().collect(),
        hound::SampleFormat::Int => reader.samples::<i16>().map(|it| it.map(|it| f32::from(it) / 32_768.0)).collect(),
    };
    Ok((spec.sample_rate, samples?))
}

impl Take {
    fn read(path: &Path) -> Result<Option<Self>, Failure> {
        let truth: Value = serde_json::from_slice(&std::fs::read(path)?)?;
        let Some(played) = truth["played"].as_str() else { return Ok(None) };
        let text = |key: &str| truth[key].as_str().unwrap_or_default().to_owned();
        let lesson = sixrung_lesson::read(&std::fs::read(path.with_file_name(text("lesson")))?)
            .map_err(|_| "the take's lesson can't be read")?
            .lesson;
        let name = text("arrangement");
        let arrangement = lesson.arrangement(&name).ok_or("no such arrangement")?;
        let score = layout(&lesson, &Stretch::Section(text("section")), arrangement).map_err(|e| e.to_string())?;
        let tempo = Tempo::from_bpm(truth["bpm"].as_f64().unwrap_or_default()).ok_or("no tempo")?;
        let (rate, heard) = wav(&path.with_extension("wav"))?;
        let request = Request { id: 0, rate, tempo, count_in_bars: 0, between: Between::Seamless, passes: None };
        let plan = compile(&lesson, &score, &request).map_err(|error| error.to_string())?;
        let pass = PassPlan::new(&plan.expected, plan.timeline.grid, plan.timeline.pass);
        let passes = u32::try_from(truth["passes"].as_u64().unwrap_or(1))?;
        let plans = (0..passes).map(|index| pass.starting_at(f64::from(index) * pass.length_s)).collect();
        let played = wav(&path.with_file_name(played))?.1.into();
        Ok(Some(Self { name: text("lesson"), criterion: lesson.criterion, truth, rate, heard, played, plans }))
    }

    fn judge(&self, heard: &[f32], played: Option<Arc<[f32]>>) -> TakeVerdict {
        let starts_at_s = self.truth["starts_at_s"].as_f64();
        let options = TakeOptions { criterion: self.criterion, starts_at_s, played, ..TakeOptions::default() };
        judge_take(heard, self.rate, &self.plans, &options).expect("a rate that is listened to")
    }

    fn played_s(&self) -> Vec<f64> {
        let of = |key: &str| self.truth[key].as_array().cloned().unwrap_or_default();
        let mut times: Vec<f64> =
            of("strokes").iter().chain(&of("extras")).filter_map(|it| it["played_s"].as_f64()).collect();
        times.sort_unstable_by(f64::total_cmp);
        times
    }
}

/// Found, meant and matched strums within a tolerance, one latency of all removed.
#[derive(Default, Clone, Copy)]
struct Score {
    found: usize,
    meant: usize,
    matched: usize,
}

impl Score {
    fn add(&mut self, judged: &TakeVerdict, meant: &[f64], within_s: f64) {
        let strokes = judged.passes.iter().flat_map(|pass| pass.strokes.iter().filter_map(|stroke| stroke.heard_s));
        let mut found: Vec<f64> = strokes.chain(judged.passes.iter().flat_map(|pass| pass.extras_s.clone())).collect();
        found.sort_unstable_by(f64::total_cmp);
        let nearest = |at: f64| meant.iter().map(|it| at - it).min_by(|a, b| a.abs().total_cmp(&b.abs()));
        let mut off: Vec<f64> = found.iter().filter_map(|at| nearest(*at)).filter(|off| off.abs() < 0.1).collect();
        off.sort_unstable_by(f64::total_cmp);
        let latency = off.get(off.len() / 2).copied().unwrap_or(0.0);
        let (mut a, mut b) = (0, 0);
        while a < found.len() && b < meant.len() {
            let off = found[a] - latency - meant[b];
            if off.abs() <= within_s {
                self.matched += 1;
                (a, b) = (a + 1, b + 1);
            } else if off < 0.0 {
                a += 1;
            } else {
                b += 1;
            }
        }
        self.found += found.len();
        self.meant += meant.len();
    }

    #[expect(clippy::cast_precision_loss, reason = "counts")]
    fn f(self) -> f64 {
        2.0 * self.matched as f64 / (self.found + self.meant).max(1) as f64
    }
}

#[derive(Default)]
struct Sums {
    f25: Score,
    f50: Score,
    right: usize,
    false_clean: usize,
    false_not_clean: usize,
    not_judged: usize,
    passes: usize,
}

impl Sums {
    fn add(&mut self, take: &Take, judged: &TakeVerdict) -> String {
        let meant = take.played_s();
        self.f25.add(judged, &meant, 0.025);
        self.f50.add(judged, &meant, 0.050);
        let mut said = String::new();
        for (index, pass) in judged.passes.iter().enumerate() {
            let clean = take.truth["pass_verdicts"][index]["wrong_chords"].as_u64().unwrap_or(0) == 0
                && take.truth["pass_verdicts"][index]["verdict"] == "clean";
            self.passes += 1;
            match (pass.verdict, clean) {
                (Verdict::NotJudged(why), _) => {
                    self.not_judged += 1;
                    said += &format!("{why:?} ");
                }
                (Verdict::Clean, true) | (Verdict::NotClean, false) => {
                    self.right += 1;
                    said += "right ";
                }
                (Verdict::Clean, false) => {
                    self.false_clean += 1;
                    said += "FALSE-CLEAN ";
                }
                (Verdict::NotClean, true) => {
                    self.false_not_clean += 1;
                    said += "false-not ";
                }
            }
        }
        said
    }

    fn say(&self, name: &str) {
        println!(
            "{name:>16}: F25 {:.4} F50 {:.4} ({} strums); {} passes: {} right, {} false clean, {} false not clean, {} not judged",
            self.f25.f(),
            self.f50.f(),
            self.f25.meant,
            self.passes,
            self.right,
            self.false_clean,
            self.false_not_clean,
            self.not_judged
        );
    }
}

fn main() -> Result<(), Failure> {
    let folder = PathBuf::from(std::env::args().nth(1).ok_or("a folder of takes, please")?);
    let most = std::env::args().nth(2).and_then(|it| it.parse().ok()).unwrap_or(usize::MAX);
    let mut files: Vec<PathBuf> = std::fs::read_dir(folder)?
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|it| it == "json") && path.to_string_lossy().contains("take-"))
        .collect();
    files.sort();
    let (mut without, mut with) = (Sums::default(), Sums::default());
    let mut takes = 0;
    let (mut sound_s, mut spent_s) = (0.0, [0.0; 2]);
    for file in &files {
        let Some(take) = Take::read(file)? else { continue };
        takes += 1;
        if takes > most {
            break;
        }
        sound_s += take.heard.len() as f64 / f64::from(take.rate);
        let began = Instant::now();
        let plain = take.judge(&take.heard, None);
        spent_s[0] += began.elapsed().as_secs_f64();
        let began = Instant::now();
        let beside = take.judge(&take.heard, Some(Arc::clone(&take.played)));
        spent_s[1] += began.elapsed().as_secs_f64();
        let (one, other) = (without.add(&take, &plain), with.add(&take, &beside));
        println!(
            "{} {} without: {one} with: {other}",
            file.file_stem().unwrap_or_default().to_string_lossy(),
            take.name
        );
    }
    without.say("without removal");
    with.say("with removal");
    println!("{sound_s:.0} s of sound; {:.4} and {:.4} of a core", spent_s[0] / sound_s, spent_s[1] / sound_s);
    Ok(())
}
