//! What taking our own sound off brings: judges takes of the condition `own` with and without `--played`, and with the
//! player taken away.
//!
//! `cargo run -p sixrung-takes --example own_sound -- FOLDER` prints a row a take and the sums. A folder made with
//! `make-takes --conditions own`. Then the player is taken away: what was played, through a made-up room, is all the
//! microphone hears; told is by how much it is removed, learned from the count-in or from a first pass, and how often
//! it was judged to be a player.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use serde_json::Value;
use sixrung_lesson::{Stretch, Tempo, layout};
use sixrung_listen::{LearnedPath, Learning, Listener, PassPlan, TakeOptions, TakeVerdict, Verdict, judge_take};
use sixrung_takes::Dice;
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
            let clean = take.truth["pass_verdicts"][index]["verdict"] == "clean";
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

/// How much of our own sound is removed in decibels: from clicks, and from the pass, when learned from `from_s` to
/// `to_s`.
fn removed_db(take: &Take, heard: &[f32], learn_s: (f64, f64), over_s: (f64, f64)) -> Option<f64> {
    const BLOCK: usize = 1024;
    let mut listener = Listener::new(take.rate)?;
    let mut learning = Learning::new();
    let seconds = |frame: usize| frame as f64 / f64::from(take.rate);
    listener.played(-1.0, take.rate, &vec![0.0; take.rate as usize]);
    listener.played(0.0, take.rate, &take.played[..BLOCK]);
    let (mut before, mut after, mut knows, mut spent) = (0.0, 0.0, false, [0.0; 3]);
    for at in (0..heard.len() - 2 * BLOCK).step_by(BLOCK) {
        listener.played(seconds(at + BLOCK), take.rate, &take.played[at + BLOCK..at + 2 * BLOCK]);
        let began = spent_s();
        let caught = listener.feed(at as u64, &heard[at..at + BLOCK]);
        spent[usize::from(knows)] += spent_s() - began;
        if seconds(at) >= over_s.0 && seconds(at) < over_s.1 {
            for (left, removed) in caught.sound.samples.iter().zip(caught.removed) {
                before += f64::from(left + removed).powi(2);
                after += f64::from(*left).powi(2);
            }
        }
        learning.take_in(caught);
        if !knows && seconds(at) >= learn_s.1 {
            knows = true;
            let began = spent_s();
            let LearnedPath::Path(path) = learning.learn(learn_s.0, learn_s.1, None) else { return None };
            spent[2] += spent_s() - began;
            listener.remove_own(Some(path));
        }
    }
    let knowing_s = seconds(heard.len()) - learn_s.1;
    println!(
        "    {:.4} of a core before, {:.4} while removing; learned in {:.0} ms",
        spent[0] / learn_s.1,
        spent[1] / knowing_s,
        1000.0 * spent[2]
    );
    Some(10.0 * (before / after).log10())
}

fn median(mut values: Vec<f64>) -> f64 {
    values.sort_unstable_by(f64::total_cmp);
    values.get(values.len() / 2).copied().unwrap_or(f64::NAN)
}

/// Processor time of this thread so far, in seconds.
fn spent_s() -> f64 {
    let told = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    told.split(' ').next().and_then(|it| it.parse::<f64>().ok()).unwrap_or(0.0) / 1e9
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
    let (mut sound_s, mut spent) = (0.0, [0.0; 2]);
    let (mut by_clicks, mut by_pass, mut clicks) = (Vec::new(), Vec::new(), Vec::new());
    let mut alone = BTreeMap::<String, usize>::new();
    for file in &files {
        let Some(take) = Take::read(file)? else { continue };
        takes += 1;
        if takes > most {
            break;
        }
        sound_s += take.heard.len() as f64 / f64::from(take.rate);
        let began = spent_s();
        let plain = take.judge(&take.heard, None);
        spent[0] += spent_s() - began;
        let began = spent_s();
        let beside = take.judge(&take.heard, Some(Arc::clone(&take.played)));
        spent[1] += spent_s() - began;
        let (one, other) = (without.add(&take, &plain), with.add(&take, &beside));
        println!(
            "{} {} without: {one} with: {other}",
            file.file_stem().unwrap_or_default().to_string_lossy(),
            take.name
        );
        let heard = through_room(&take.played, take.rate, takes as u64);
        let starts_s = take.truth["starts_at_s"].as_f64().unwrap_or_default();
        let middle_s = starts_s + take.plans[0].length_s / 2.0;
        let end_s = heard.len() as f64 / f64::from(take.rate);
        let first_s = take.played.iter().position(|it| it.abs() > 1e-4).unwrap_or(0) as f64 / f64::from(take.rate);
        let half_s = f64::midpoint(first_s, starts_s);
        clicks.extend(removed_db(&take, &heard, (0.0, half_s), (half_s + 0.05, starts_s - 0.05)));
        by_clicks.extend(removed_db(&take, &heard, (0.0, starts_s - 0.05), (starts_s, end_s)));
        by_pass.extend(removed_db(&take, &heard, (starts_s, middle_s), (middle_s + 0.1, end_s)));
        for (kind, played) in [("with removal", Some(Arc::clone(&take.played))), ("without", None)] {
            for pass in take.judge(&heard, played).passes {
                *alone.entry(format!("{kind}: {:?}", pass.verdict)).or_default() += 1;
            }
        }
        println!("    removed {:?} {:?} {:?}", clicks.last(), by_clicks.last(), by_pass.last());
    }
    println!(
        "own sound alone: of clicks {:.1} dB by half a count-in ({}), of clicks and strums {:.1} dB by the count-in ({}) and {:.1} dB by half a pass ({}); medians",
        median(clicks.clone()),
        clicks.len(),
        median(by_clicks.clone()),
        by_clicks.len(),
        median(by_pass.clone()),
        by_pass.len()
    );
    println!("own sound alone, judged: {alone:#?}");
    without.say("without removal");
    with.say("with removal");
    println!("{sound_s:.0} s of sound; {:.4} and {:.4} of a core", spent[0] / sound_s, spent[1] / sound_s);
    Ok(())
}
