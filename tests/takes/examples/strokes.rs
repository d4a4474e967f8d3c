//! Scores strokes alone, quickly: a folder of made takes, judged in this process with the start given.
//!
//! `cargo run --release -p sixrung-takes --example strokes -- TAKES [-v] [CONDITION]`: F at 25 and 50 ms by condition,
//! timing errors, and the time criterion's verdicts right and wrong, chords left aside. For working on the ear; the
//! figures to report come from `score.py`.
#[path = "support/judging.rs"]
mod judging;
#[path = "support/strums.rs"]
mod strums;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

use serde_json::Value;
use sixrung_listen::{Finding, PassVerdict, TakeOptions, Verdict, allowed_extras, judge_take};

#[derive(Default)]
struct Tally {
    takes: usize,
    f: [f64; 2],
    errors_ms: Vec<f64>,
    clean: [usize; 3],
    not_clean: [usize; 3],
    missed_heard: [usize; 2],
}

fn main() {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let verbose = words.iter().any(|word| word == "-v");
    let mut names = words.iter().filter(|word| *word != "-v");
    let folder = PathBuf::from(names.next().expect("a folder of takes"));
    let only = names.next();
    let mut tallies = BTreeMap::<String, Tally>::new();
    for (path, truth) in judging::truths(&folder) {
        if only.is_some_and(|only| truth["condition"] != **only) {
            continue;
        }
        let passes = judged(&folder, &truth, &path);
        let condition = truth["condition"].as_str().expect("a condition").to_owned();
        for name in [condition, "all".to_owned()] {
            tally(tallies.entry(name).or_default(), &truth, &passes);
        }
        if verbose {
            tell(&path, &truth, &passes);
        }
    }
    println!("takes          n   F25   F50  median  p95   clean: ok/not/unj  not clean: ok/false/unj  miss heard");
    for (name, tally) in &mut tallies {
        tally.errors_ms.sort_by(f64::total_cmp);
        let at = |q: f64| tally.errors_ms.get((tally.errors_ms.len() as f64 * q) as usize).copied().unwrap_or(0.0);
        let n = tally.takes as f64;
        println!(
            "{name:<12} {:>3} {:.3} {:.3} {:>6.1} {:>5.1}   {:?}  {:?}  {:?}",
            tally.takes,
            tally.f[0] / n,
            tally.f[1] / n,
            at(0.5),
            at(0.95),
            tally.clean,
            tally.not_clean,
            tally.missed_heard
        );
    }
}

fn judged(folder: &Path, truth: &Value, path: &Path) -> Vec<PassVerdict> {
    let (plans, criterion) = judging::plans(folder, truth);
    let played = judging::played(path).map(Into::into);
    let starts_at_s = truth["starts_at_s"].as_f64();
    let options = TakeOptions { criterion, starts_at_s, played, ..TakeOptions::default() };
    judge_take(&judging::samples(&path.with_extension("wav")), 48_000, &plans, &options).expect("a rate").passes
}

fn tally(tally: &mut Tally, truth: &Value, passes: &[PassVerdict]) {
    let played = strums::played_s(truth);
    let strokes = || passes.iter().flat_map(|pass| &pass.strokes);
    let mut heard: Vec<f64> = strokes().filter_map(|stroke| stroke.heard_s).collect();
    heard.extend(passes.iter().flat_map(|pass| &pass.extras_s));
    heard.sort_by(f64::total_cmp);
    tally.takes += 1;
    for (index, window) in [0.025, 0.050].into_iter().enumerate() {
        let reach: Vec<_> = played.iter().map(|at| sixrung_listen::Reach::even(*at, window)).collect();
        let pairs = sixrung_listen::align(&reach, &heard);
        let hits = pairs.iter().flatten().count() as f64;
        tally.f[index] += 2.0 * hits / (played.len() + heard.len()).max(1) as f64;
        if index == 1 {
            tally
                .errors_ms
                .extend(pairs.iter().zip(&played).filter_map(|(pair, at)| Some((heard[(*pair)?] - at).abs() * 1000.0)));
        }
    }
    let in_time = |pass: &Value| {
        let faults = ["early", "late", "missed"].iter().map(|name| pass[*name].as_u64().expect("a count")).sum::<u64>();
        let expected = pass["expected"].as_u64().expect("a count") as usize;
        let extras = pass["extra"].as_u64().expect("a count") as usize;
        faults <= pass["allowed_faults"].as_u64().expect("a count") && extras <= allowed_extras(expected)
    };
    let truly_clean = truth["pass_verdicts"].as_array().expect("passes").iter().all(in_time);
    let said_unjudged = passes.iter().any(|pass| matches!(pass.verdict, Verdict::NotJudged(_)));
    let said_clean = passes.iter().all(|pass| {
        let faults = pass.strokes.len() - pass.count(Finding::InTime);
        faults <= pass.allowed_faults as usize && pass.extras_s.len() <= allowed_extras(pass.strokes.len())
    });
    let row = if truly_clean { &mut tally.clean } else { &mut tally.not_clean };
    row[if said_unjudged { 2 } else { usize::from(said_clean != truly_clean) }] += 1;
    for (stroke, found) in truth["strokes"].as_array().expect("strokes").iter().zip(strokes()) {
        if stroke["planted"] == "missed" {
            tally.missed_heard[1] += 1;
            tally.missed_heard[0] += usize::from(found.heard_s.is_some());
        }
    }
}

fn tell(path: &Path, truth: &Value, passes: &[PassVerdict]) {
    let strokes = truth["strokes"].as_array().expect("strokes");
    let found = passes.iter().flat_map(|pass| &pass.strokes);
    let mut lines = Vec::new();
    for (truth, found) in strokes.iter().zip(found) {
        let fault = truth["fault"].as_str().unwrap_or("in_time");
        let said = format!("{:?}", found.finding).to_lowercase().replace("intime", "in_time");
        if fault != said {
            let off = truth["played_s"].as_f64().map(|at| ((at - found.expected_s) * 1000.0).round());
            lines.push(format!(
                "    bar {} slot {} {:?} {:?}: {fault} ({off:?}) said {said} ({:?})",
                found.bar,
                found.slot,
                found.action,
                found.direction,
                found.offset_ms.map(f64::round)
            ));
        }
    }
    let extras: Vec<f64> = passes.iter().flat_map(|pass| pass.extras_s.clone()).collect();
    let true_extras = strums::times(&truth["extras"], "played_s");
    if extras.len() != true_extras.len() {
        lines.push(format!("    extras {true_extras:.3?} said {extras:.3?}"));
    }
    if !lines.is_empty() {
        println!(
            "{} {} {} {} {} {} bpm sweep {:.0} bias {:.0}: {} strokes",
            path.file_stem().unwrap_or_default().to_string_lossy(),
            truth["condition"],
            truth["program"],
            truth["lesson"],
            truth["section"],
            truth["bpm"],
            truth["sweep_ms"].as_f64().unwrap_or(0.0),
            truth["bias_ms"].as_f64().unwrap_or(0.0),
            strokes.len()
        );
        lines.iter().for_each(|line| println!("{line}"));
    }
}
