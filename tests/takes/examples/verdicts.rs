//! Why verdicts are wrong: a folder of made takes, judged in this process with the start given, our own sound known.
//!
//! `cargo run --release -p sixrung-takes --example verdicts -- TAKES [-v]`: verdicts right and wrong by condition, then
//! the errors that made them so, for all strokes and for the takes judged wrongly; `-v` names those takes. For working
//! on the ear; the figures to report come from `score.py`.
#[path = "support/judging.rs"]
mod judging;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde_json::Value;
use sixrung_listen::{ChordFinding, PassVerdict, StrokeFinding, TakeOptions, Verdict, judge_take};

const THREADS: usize = 2;
/// What can be wrong about a stroke, an extra one or a span.
const ERRORS: [&str; 8] = [
    "played, said missed",
    "in time, said off",
    "off, said in time",
    "missed, said played",
    "extra, not heard",
    "extra, not there",
    "right chord, said wrong",
    "wrong chord, not caught",
];

/// One take: how it was, what was said, and how often each error was made.
struct Judged {
    name: String,
    what: String,
    condition: String,
    lesson: String,
    truly_clean: bool,
    said: &'static str,
    errors: [usize; ERRORS.len()],
    of: [usize; ERRORS.len()],
}

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let folder = PathBuf::from(words.first().expect("a folder of takes"));
    let takes = judging::truths(&folder);
    let part = |index: usize| takes.iter().skip(index).step_by(THREADS);
    let judged: Vec<Judged> = std::thread::scope(|scope| {
        let folder = &folder;
        let judge = |index| part(index).map(|(path, truth)| judged(folder, path, truth)).collect::<Vec<_>>();
        let running: Vec<_> = (0..THREADS).map(|index| scope.spawn(move || judge(index))).collect();
        running.into_iter().flat_map(|thread| thread.join().expect("no panic")).collect()
    });
    let wrong: Vec<&Judged> = judged.iter().filter(|take| take.is_wrong()).collect();
    println!("takes            false clean   false not clean   not judged (clean, not)");
    for key in [|take: &Judged| take.condition.clone(), |take: &Judged| take.lesson.clone(), |_: &Judged| "all".into()]
    {
        rates(&judged, key);
    }
    println!("\nerrors of all takes, of the takes judged wrongly");
    for (index, name) in ERRORS.iter().enumerate() {
        let sum = |takes: &mut dyn Iterator<Item = &Judged>| takes.map(|take| take.errors[index]).sum::<usize>();
        let of: usize = judged.iter().map(|take| take.of[index]).sum();
        print!("{name:24} {:>5}/{of:<6} {:>4}  ", sum(&mut judged.iter()), sum(&mut wrong.iter().copied()));
        let mut by = BTreeMap::<&str, [usize; 2]>::new();
        for take in &judged {
            let [errors, of] = by.entry(&take.condition).or_default();
            (*errors, *of) = (*errors + take.errors[index], *of + take.of[index]);
        }
        by.iter().for_each(|(name, [errors, of])| print!(" {name} {errors}/{of}"));
        println!();
    }
    if words.iter().any(|word| word == "-v") {
        wrong.iter().for_each(|take| tell(take));
    }
}

fn rates(judged: &[Judged], key: impl Fn(&Judged) -> String) {
    let mut groups = BTreeMap::<String, Vec<&Judged>>::new();
    judged.iter().for_each(|take| groups.entry(key(take)).or_default().push(take));
    for (name, takes) in groups {
        let count = |clean: bool, said: &str| {
            takes.iter().filter(|take| take.truly_clean == clean && (said.is_empty() || take.said == said)).count()
        };
        let [cleans, others] = [count(true, ""), count(false, "")];
        let [false_clean, false_not] = [count(false, "clean"), count(true, "not clean")];
        let unclear = [count(true, "not judged"), count(false, "not judged")];
        println!("{name:18} {false_clean:>3}/{others:<4}      {false_not:>3}/{cleans:<4}         {unclear:?}");
    }
}

fn tell(take: &Judged) {
    let truth = if take.truly_clean { "clean" } else { "not clean" };
    println!("{} {}: {truth}, said {}", take.name, take.what, take.said);
    for (name, count) in ERRORS.iter().zip(take.errors).filter(|(_, count)| *count > 0) {
        println!("    {count} × {name}");
    }
}

impl Judged {
    fn is_wrong(&self) -> bool {
        self.said == if self.truly_clean { "not clean" } else { "clean" }
    }

    fn count(&mut self, error: usize, made: bool) {
        self.of[error] += 1;
        self.errors[error] += usize::from(made);
    }
}

fn judged(folder: &Path, path: &Path, truth: &Value) -> Judged {
    let (plans, criterion) = judging::plans(folder, truth);
    let played = judging::played(path).map(Into::into);
    let options =
        TakeOptions { criterion, starts_at_s: truth["starts_at_s"].as_f64(), played, ..TakeOptions::default() };
    let samples = judging::samples(&path.with_extension("wav"));
    let passes = judge_take(&samples, 48_000, &plans, &options).expect("a rate").passes;
    let text = |name: &str| truth[name].as_str().unwrap_or_default().trim_end_matches(".lesson.ron").to_owned();
    let what = format!(
        "{} {} {} {} {} bpm, sweep {:.0} ms, bias {:.0} ms",
        text("condition"),
        text("program"),
        text("lesson"),
        text("section"),
        truth["bpm"],
        truth["sweep_ms"].as_f64().unwrap_or(0.0),
        truth["bias_ms"].as_f64().unwrap_or(0.0)
    );
    let mut judged = Judged {
        name: path.file_stem().unwrap_or_default().to_string_lossy().into_owned(),
        what,
        condition: text("condition"),
        lesson: text("lesson"),
        truly_clean: truth["verdict"] == "clean",
        said: said(&passes),
        errors: [0; ERRORS.len()],
        of: [0; ERRORS.len()],
    };
    let found: Vec<&StrokeFinding> = passes.iter().flat_map(|pass| &pass.strokes).collect();
    let strokes = truth["strokes"].as_array().expect("strokes");
    for (truth, found) in strokes.iter().zip(&found) {
        let in_time = found.finding == sixrung_listen::Finding::InTime;
        match truth["fault"].as_str() {
            Some("missed") => judged.count(3, found.heard_s.is_some()),
            Some(_) => judged.count(2, in_time),
            None => judged.count(1, !in_time && found.heard_s.is_some()),
        }
        if !truth["played_s"].is_null() {
            judged.count(0, found.heard_s.is_none());
        }
    }
    let extras: Vec<f64> = passes.iter().flat_map(|pass| pass.extras_s.clone()).collect();
    let true_extras: Vec<f64> =
        truth["extras"].as_array().expect("a list").iter().filter_map(|extra| extra["played_s"].as_f64()).collect();
    let near = |one: f64, others: &[f64]| others.iter().any(|other| (one - other).abs() < 0.05);
    true_extras.iter().for_each(|extra| judged.count(4, !near(*extra, &extras)));
    extras.iter().for_each(|extra| judged.count(5, !near(*extra, &true_extras)));
    for span in truth["spans"].as_array().expect("a list") {
        let place = |stroke: &&Value| ["pass", "bar", "slot"].iter().all(|name| stroke[*name] == span[*name]);
        let Some(found) = strokes.iter().position(|stroke| place(&stroke)).and_then(|first| found.get(first)) else {
            continue;
        };
        let wrong = found.chord == ChordFinding::Wrong;
        if span["pitched"] == 0 {
        } else if span["wrong"] == true {
            judged.count(7, !wrong);
        } else if span["played"] == span["chord"] {
            judged.count(6, wrong);
        }
    }
    judged
}

fn said(passes: &[PassVerdict]) -> &'static str {
    if passes.iter().any(|pass| matches!(pass.verdict, Verdict::NotJudged(_))) {
        "not judged"
    } else if passes.iter().all(|pass| pass.verdict == Verdict::Clean) {
        "clean"
    } else {
        "not clean"
    }
}
